import type { RawQuery } from '../../platform/database/open.ts';

export type ResetRow = { id: string; memberId: string; name: string; leftAt: Date | null; expiresAt: Date; usedAt: Date | null };
export type NewReset = { id: string; tokenHash: string; memberId: string; madeById: string; now: Date; expiresAt: Date };

const selectSql = `select r.id, r.member_id as "memberId", m.name, m.left_at as "leftAt", r.expires_at as "expiresAt", r.used_at as "usedAt"
  from password_reset r join member m on m.id = r.member_id`;
const insertSql = `insert into password_reset (id, token_hash, member_id, made_by_id, created_at, expires_at)
  values ($1, $2, $3, $4, $5::timestamptz, $6::timestamptz)`;
const endSql = (who: string) =>
  `update password_reset set expires_at = $2::timestamptz where ${who} = $1 and used_at is null and expires_at > $2::timestamptz`;

export async function findReset(query: RawQuery, tokenHash: string): Promise<ResetRow | null> {
  const [row] = await query<ResetRow>('reset-find', `${selectSql} where r.token_hash = $1`, [tokenHash]);
  return row ?? null;
}

export async function lockReset(query: RawQuery, tokenHash: string): Promise<void> {
  await query('reset-lock', `select id from password_reset where token_hash = $1 for update`, [tokenHash]);
}

export async function insertReset(query: RawQuery, r: NewReset): Promise<void> {
  await query('reset-add', insertSql, [r.id, r.tokenHash, r.memberId, r.madeById, r.now, r.expiresAt]);
}

export async function markUsed(query: RawQuery, id: string, now: Date): Promise<void> {
  await query('reset-use', `update password_reset set used_at = $2::timestamptz where id = $1`, [id, now]);
}

/** Links for a member that are still open end now. */
export async function endResetsFor(query: RawQuery, memberId: string, now: Date): Promise<void> {
  await query('reset-end-for', endSql('member_id'), [memberId, now]);
}

/** Links that somebody made and that are still open end now. */
export async function endResetsBy(query: RawQuery, memberId: string, now: Date): Promise<void> {
  await query('reset-end-by', endSql('made_by_id'), [memberId, now]);
}
