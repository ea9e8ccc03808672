import type { Role } from '../../contract/common.ts';
import type { RawQuery } from '../../platform/database/open.ts';

export type MemberRow = { id: string; name: string; userName: string; role: Role; joinedAt: Date; leftAt: Date | null; version: number };
export type NewMember = { id: string; name: string; userName: string; email?: string | undefined; role: Role; passwordHash: string; now: Date };

const columns = `id, name, user_name as "userName", role, joined_at as "joinedAt", left_at as "leftAt", version`;
const insertSql = `insert into member (id, name, user_name, email, role, password_hash, joined_at) values ($1, $2, $3, $4, $5, $6, $7::timestamptz)`;
const changeSql = `update member set name = coalesce($3, name), role = coalesce($4, role), version = version + 1
  where id = $1 and version = $2 returning ${columns}`;
const leaveSql = `update member set left_at = $3::timestamptz, version = version + 1 where id = $1 and version = $2 and left_at is null returning ${columns}`;

export const listMembers = (query: RawQuery) =>
  query<MemberRow>('member-list', `select ${columns} from member order by left_at is not null, lower(name), id`);

export async function findMember(query: RawQuery, id: string): Promise<MemberRow | null> {
  const [row] = await query<MemberRow>('member-find', `select ${columns} from member where id = $1`, [id]);
  return row ?? null;
}

export async function insertMember(query: RawQuery, m: NewMember): Promise<void> {
  await query('member-add', insertSql, [m.id, m.name, m.userName, m.email, m.role, m.passwordHash, m.now]);
}

/** Changes the member if they still have this version, else null. */
export async function updateMember(query: RawQuery, id: string, version: number, fields: { name?: string | undefined; role?: Role | undefined }): Promise<MemberRow | null> {
  const [row] = await query<MemberRow>('member-change', changeSql, [id, version, fields.name, fields.role]);
  return row ?? null;
}

/** Takes the member's row whole: whoever is about to refer to this member waits, and then sees whether they left. */
export async function lockWhole(query: RawQuery, id: string): Promise<void> {
  await query('member-lock-whole', `select id from member where id = $1 for update`, [id]);
}

/** Marks the member as gone if they are here and still have this version, else null. */
export async function markLeft(query: RawQuery, id: string, version: number, now: Date): Promise<MemberRow | null> {
  const [row] = await query<MemberRow>('member-leave', leaveSql, [id, version, now]);
  return row ?? null;
}

/** Makes a former member one again; false when they are one already. Whatever they signed in with before is over. */
export async function welcomeBack(query: RawQuery, id: string, role: Role, passwordHash: string): Promise<boolean> {
  const sql = `update member set left_at = null, role = $2, password_hash = $3, token_epoch = token_epoch + 1, version = version + 1 where id = $1 and left_at is not null returning id`;
  return (await query('member-back', sql, [id, role, passwordHash])).length > 0;
}

/** The club's row comes before all others, in every transaction that takes it: the rule of the last captain takes it too. */
export async function lockClub(query: RawQuery): Promise<void> {
  await query('member-lock-club', `select id from club where id = 1 for update`);
}

const claimedBatchesSql = `select id from batch where id in (select p.batch_id from claim c join pack p on p.id = c.pack_id
  where c.member_id = $1 and c.status in ('asked', 'confirmed')) order by id for no key update`;
const freePacksSql = `update pack set status = 'ready', version = version + 1 where status = 'claimed' and id in
  (select pack_id from claim where member_id = $1 and status in ('asked', 'confirmed'))`;
const withdrawClaimsSql = `update claim set status = 'withdrawn', reason = $2, version = version + 1 where member_id = $1 and status in ('asked', 'confirmed')`;

/** Takes the batches whose packs the member claims, in their order, before anything of theirs changes. */
export async function lockClaimedBatches(query: RawQuery, memberId: string): Promise<void> {
  await query('member-lock-claimed', claimedBatchesSql, [memberId]);
}

/** Withdraws the member's open claims; the packs may be claimed again. */
export async function withdrawClaims(query: RawQuery, memberId: string, reason: string): Promise<void> {
  await query('member-free-packs', freePacksSql, [memberId]);
  await query('member-withdraw-claims', withdrawClaimsSql, [memberId, reason]);
}
