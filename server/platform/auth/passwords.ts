import { hash, verify } from '@node-rs/argon2';

/** Argon2id with 19 MiB, two passes and one lane: the least that OWASP's password storage guidance asks for. */
const cost = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };
/** A hash of the same cost that no password opens. */
const nobody = '$argon2id$v=19$m=19456,t=2,p=1$AAAAAAAAAAAAAAAAAAAAAA$AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA';

// The same letter can be typed as one character or as two, depending on the keyboard.
const oneSpelling = (password: string) => password.normalize('NFKC');

/** Takes tens of milliseconds: never inside a transaction. */
export const hashPassword = (password: string): Promise<string> => hash(oneSpelling(password), cost);

/** With no hash (an unknown person) it takes as long as with one, so that the time does not tell who exists. */
export async function passwordFits(kept: string | null | undefined, password: string): Promise<boolean> {
  const fits = await verify(kept ?? nobody, oneSpelling(password));
  return fits && kept !== null && kept !== undefined;
}
