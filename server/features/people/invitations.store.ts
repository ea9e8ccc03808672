import type { Role } from '../../contract/common.ts';
import type { RawQuery } from '../../platform/database/open.ts';

export type InvitationRow = {
  id: string;
  role: Role;
  note: string;
  invitedById: string;
  invitedBy: string;
  createdAt: Date;
  expiresAt: Date;
  usedAt: Date | null;
  usedById: string | null;
  usedBy: string | null;
  withdrawnAt: Date | null;
  forMemberId: string | null;
  forMember: string | null;
  forUserName: string | null;
  /** Whether the former member is still one. */
  forGone: boolean;
};
export type NewInvitation = { id: string; tokenHash: string; role: Role; note: string; invitedById: string; forMemberId: string | null; now: Date; expiresAt: Date };

const selectSql = `select i.id, i.role, i.note, i.invited_by_id as "invitedById", m.name as "invitedBy", i.created_at as "createdAt",
    i.expires_at as "expiresAt", i.used_at as "usedAt", i.used_by_id as "usedById", u.name as "usedBy", i.withdrawn_at as "withdrawnAt",
    i.for_member_id as "forMemberId", f.name as "forMember", f.user_name as "forUserName", f.left_at is not null as "forGone"
  from invitation i join member m on m.id = i.invited_by_id left join member u on u.id = i.used_by_id left join member f on f.id = i.for_member_id`;
const insertSql = `insert into invitation (id, token_hash, role, note, invited_by_id, created_at, expires_at, for_member_id)
  values ($1, $2, $3, $4, $5, $6::timestamptz, $7::timestamptz, $8)`;

/** The newest of them; older ones are in the record. */
export const listInvitations = (query: RawQuery) => query<InvitationRow>('invitation-list', `${selectSql} order by i.created_at desc, i.id desc limit 200`);

export async function findInvitation(query: RawQuery, id: string): Promise<InvitationRow | null> {
  const [row] = await query<InvitationRow>('invitation-find', `${selectSql} where i.id = $1`, [id]);
  return row ?? null;
}

export async function findByToken(query: RawQuery, tokenHash: string): Promise<InvitationRow | null> {
  const [row] = await query<InvitationRow>('invitation-by-token', `${selectSql} where i.token_hash = $1`, [tokenHash]);
  return row ?? null;
}

/** Takes the invitation's row: of two who use or withdraw it at once, the second sees what the first did. */
export async function lockInvitation(query: RawQuery, id: string): Promise<void> {
  await query('invitation-lock', `select id from invitation where id = $1 for update`, [id]);
}

export async function insertInvitation(query: RawQuery, i: NewInvitation): Promise<void> {
  await query('invitation-add', insertSql, [i.id, i.tokenHash, i.role, i.note, i.invitedById, i.now, i.expiresAt, i.forMemberId]);
}

export async function markUsed(query: RawQuery, id: string, memberId: string, now: Date): Promise<void> {
  await query('invitation-use', `update invitation set used_at = $3::timestamptz, used_by_id = $2, version = version + 1 where id = $1`, [id, memberId, now]);
}

export async function markWithdrawn(query: RawQuery, id: string, now: Date): Promise<void> {
  await query('invitation-withdraw', `update invitation set withdrawn_at = $2::timestamptz, version = version + 1 where id = $1`, [id, now]);
}

export async function withdrawInvitationsBy(query: RawQuery, memberId: string, now: Date): Promise<void> {
  const text = `update invitation set withdrawn_at = $2::timestamptz, version = version + 1
    where invited_by_id = $1 and used_at is null and withdrawn_at is null and expires_at > $2::timestamptz`;
  await query('invitation-withdraw-all', text, [memberId, now]);
}

/** Whoever is back, or leaves once more, has no way back lying about from before. */
export async function withdrawInvitationsFor(query: RawQuery, memberId: string, now: Date): Promise<void> {
  const text = `update invitation set withdrawn_at = $2::timestamptz, version = version + 1
    where for_member_id = $1 and used_at is null and withdrawn_at is null and expires_at > $2::timestamptz`;
  await query('invitation-withdraw-for', text, [memberId, now]);
}
