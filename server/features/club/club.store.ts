import type { Units } from '../../contract/common.ts';
import type { RawQuery } from '../../platform/database/open.ts';

export type ClubRow = { name: string; timeZone: string; units: Units; saleWords: string; contactWords: string; guttedSource: string; version: number };
export type ClubFields = Partial<Omit<ClubRow, 'version'>>;

const columns = `name, time_zone as "timeZone", units, sale_words as "saleWords", contact_words as "contactWords", gutted_source as "guttedSource", version`;
const changeSql = `update club set name = coalesce($2, name), time_zone = coalesce($3, time_zone), units = coalesce($4, units),
  sale_words = coalesce($5, sale_words), contact_words = coalesce($6, contact_words), gutted_source = coalesce($7, gutted_source), version = version + 1 where id = 1 and version = $1 returning ${columns}`;

export async function findClub(query: RawQuery): Promise<ClubRow | null> {
  const [row] = await query<ClubRow>('club-find', `select ${columns} from club where id = 1`);
  return row ?? null;
}

/** Changes the club if it still has this version, else null. */
export async function updateClub(query: RawQuery, version: number, fields: ClubFields): Promise<ClubRow | null> {
  const [row] = await query<ClubRow>('club-change', changeSql, [version, fields.name, fields.timeZone, fields.units, fields.saleWords, fields.contactWords, fields.guttedSource]);
  return row ?? null;
}

export async function insertClub(query: RawQuery, club: { name: string; timeZone: string; units: string; now: Date }): Promise<void> {
  await query('club-add', `insert into club (name, time_zone, units, created_at) values ($1, $2, $3, $4::timestamptz)`, [club.name, club.timeZone, club.units, club.now]);
}

const recentBatchesSql = `select id from batch where closed_at is null or smoke_day >= $1::date or mixed_day >= $1::date order by id for no key update`;
/** The batches that are open, or whose packs count from `since` or later; held until the change is done. */
export async function holdBatchesSince(query: RawQuery, since: string): Promise<string[]> {
  return (await query<{ id: string }>('club-recent-batches', recentBatchesSql, [since])).map(({ id }) => id);
}
