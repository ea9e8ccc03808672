import type { Role } from '../../contract/common.ts';
import type { RawQuery } from '../../platform/database/open.ts';

export type MeRow = { id: string; name: string; userName: string; email: string | null; role: Role };
export type SignInRow = { id: string; passwordHash: string; leftAt: Date | null };

export async function findMe(query: RawQuery, id: string): Promise<MeRow | null> {
  const text = `select id, name, user_name as "userName", email, role from member where id = $1 and left_at is null`;
  const [row] = await query<MeRow>('session-me', text, [id]);
  return row ?? null;
}

/** By user name or e-mail; both are kept in lower case, and a user name never holds an @. */
export async function findByLogin(query: RawQuery, login: string): Promise<SignInRow | null> {
  const text = `select id, password_hash as "passwordHash", left_at as "leftAt" from member where user_name = $1 or email = $1`;
  const [row] = await query<SignInRow>('session-by-login', text, [login]);
  return row ?? null;
}

export async function findPasswordHash(query: RawQuery, id: string): Promise<string | null> {
  const [row] = await query<{ passwordHash: string }>('session-password', `select password_hash as "passwordHash" from member where id = $1 and left_at is null`, [id]);
  return row?.passwordHash ?? null;
}

export async function setPasswordHash(query: RawQuery, id: string, passwordHash: string): Promise<void> {
  await query('session-set-password', `update member set password_hash = $2 where id = $1`, [id, passwordHash]);
}
