import type { RawQuery } from '../../platform/database/open.ts';

const insertSql = `insert into release (id, batch_id, rule_id, found, reason, created_by_id, created_at) values ($1, $2, $3, $4, $5, $6, $7)`;
export const insertRelease = (query: RawQuery, r: { id: string; batchId: string; ruleId: string; found: string; reason: string; by: string; at: Date }) =>
  query('release-insert', insertSql, [r.id, r.batchId, r.ruleId, r.found, r.reason, r.by, r.at]);

export type ReleaseRow = { id: string; batchId: string; ruleId: string; withdrawnAt: Date | null; version: number };
const columns = `id, batch_id as "batchId", rule_id as "ruleId", withdrawn_at as "withdrawnAt", version from release`;
export async function findRelease(query: RawQuery, id: string): Promise<ReleaseRow | null> {
  const [row] = await query<ReleaseRow>('release-find', `select ${columns} where id = $1`, [id]);
  return row ?? null;
}
export const withdrawRelease = (query: RawQuery, id: string, at: Date) => query('release-withdraw', `update release set withdrawn_at = $2, version = version + 1 where id = $1`, [id, at]);
/** One that was given for something else that was found then makes room for a new one. */
export const withdrawFormer = (query: RawQuery, batchId: string, ruleId: string, at: Date) =>
  query('release-former', `update release set withdrawn_at = $3, version = version + 1 where batch_id = $1 and rule_id = $2 and withdrawn_at is null`, [batchId, ruleId, at]);
