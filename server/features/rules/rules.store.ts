import type { RawQuery } from '../../platform/database/open.ts';

export type ClubLimitRow = { id: string; value: number; setById: string; setByName: string; setAt: Date; version: number };
const sql = `select c.id, c.value, c.set_by_id as "setById", m.name as "setByName", c.set_at as "setAt", c.version from club_limit c join member m on m.id = c.set_by_id`;
export const clubLimits = (query: RawQuery) => query<ClubLimitRow>('rules-club-limits', sql);

const putSql = `insert into club_limit (id, value, set_by_id, set_at) values ($1, $2, $3, $4)
  on conflict (id) do update set value = excluded.value, set_by_id = excluded.set_by_id, set_at = excluded.set_at, version = club_limit.version + 1`;
export const putLimit = (query: RawQuery, id: string, value: number, by: string, at: Date) => query('rules-limit-put', putSql, [id, value, by, at]);
export const dropLimit = (query: RawQuery, id: string) => query('rules-limit-drop', `delete from club_limit where id = $1`, [id]);
