import { countAttempt, forgetAttempts, networkOf, takeBackAttempt } from '../../platform/auth/attempts.ts';
import type { Attempt } from '../../platform/auth/attempts.ts';
import type { Device } from '../../platform/auth/device.ts';
import type { Context } from '../../platform/context.ts';

/** Where a sign-in comes from: its address, and the device if it showed one that signed in before. */
export type SignInFrom = { address: string; device: Device | null };
type Trial = { memberId: string | null; login: string; from: SignInFrom };

/**
 * A member's own device is counted by itself: however often strangers guess, it still gets in. Everybody else is counted
 * by account and address, by address, and by account. Each count is taken before the password is looked at.
 */
export async function reserveSignIn(context: Context, { memberId, login, from }: Trial): Promise<Attempt[]> {
  const known = from.device !== null && from.device.memberId === memberId ? from.device : null;
  const address = networkOf(from.address);
  // User name and e-mail lead to one account, so they share one count.
  const account = memberId ?? login;
  const attempts: Attempt[] = known
    ? [{ scope: 'device', of: known.id }]
    : [{ scope: 'account-address', of: `${account} ${address}` }, { scope: 'address', of: address }, { scope: 'account', of: account }];
  // One after another: a try that the first count refuses does not use up the counts that others share.
  for (const attempt of attempts) await countAttempt(context, attempt);
  return attempts;
}

/** Its own count starts anew; from the counts that it shares with others only this one try is taken back. */
export async function signInWentWell(context: Context, [own, ...shared]: Attempt[]): Promise<void> {
  if (own) await forgetAttempts(context, own);
  for (const attempt of shared) await takeBackAttempt(context, attempt);
}
