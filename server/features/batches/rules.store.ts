import type { RawQuery } from '../../platform/database/open.ts';

const lockSql = `select pg_advisory_xact_lock(hashtext('tidelarder.rules'))`;

/** The rules that the stored verdicts were made by; null when none were applied yet. Two processes that start at once take turns. */
export async function appliedVersion(query: RawQuery): Promise<string | null> {
  await query('rules-lock', lockSql);
  const [row] = await query<{ version: string }>('rules-applied', `select version from rules_applied where id = 1`);
  return row?.version ?? null;
}

export const keepVersion = (query: RawQuery, version: string, now: Date) =>
  query('rules-keep', `insert into rules_applied (id, version, applied_at) values (1, $1, $2::timestamptz)
    on conflict (id) do update set version = excluded.version, applied_at = excluded.applied_at`, [version, now]);

// Open, or with a pack that may still be eaten (one handed over and two months past its day is told not to be), or on hold since before a missing
// record was told apart from what is not met, once; and all that these were made from, since a verdict rests on those above it.
const liveSql = `with recursive live(id) as (
    select b.id from batch b where b.closed_at is null or exists (select 1 from pack p where p.batch_id = b.id
      and (p.status in ('ready', 'claimed') or (p.status = 'handed-over' and (p.last_day is null or p.last_day >= $1::timestamptz::date - 60))))
      or (b.verdict = 'hold' and b.judged_at is null)
    union
    select coalesce(d.source_batch_id, p.batch_id) from live join draw d on d.batch_id = live.id and d.cancelled_at is null and d.landing_id is null
      left join pack p on p.id = d.source_pack_id
  ) select id from batch where id in (select id from live) order by id for no key update`;
const edgesSql = `select distinct coalesce(d.source_batch_id, p.batch_id) as source, d.batch_id as target from draw d left join pack p on p.id = d.source_pack_id
  where d.cancelled_at is null and d.landing_id is null and d.batch_id = any($1::uuid[])`;

/** The batches whose verdict still counts, held until the change is done, and which was made from which. */
export async function holdLiveBatches(query: RawQuery, now: Date): Promise<{ ids: string[]; edges: { source: string; target: string }[] }> {
  const ids = (await query<{ id: string }>('rules-live', liveSql, [now])).map(({ id }) => id);
  return { ids, edges: await query<{ source: string; target: string }>('rules-edges', edgesSql, [ids]) };
}

export type Stopped = { onHold: number; doNotShare: number; packsOut: number };
type Verdicts = { ids: string[]; verdicts: string[] };
/** How these batches stand, to be held against how they stand after. */
export async function verdictsOf(query: RawQuery, ids: string[]): Promise<Verdicts> {
  const rows = await query<{ id: string; verdict: string }>('rules-verdicts', `select id, verdict from batch where id = any($1::uuid[])`, [ids]);
  return { ids: rows.map((row) => row.id), verdicts: rows.map((row) => row.verdict) };
}
const stoppedSql = `with was as (select * from unnest($1::uuid[], $2::text[]) as w(id, verdict)),
    worse as (select b.id, b.verdict from batch b join was on was.id = b.id where b.recalled_at is null and ((b.verdict = 'hold' and was.verdict = 'clear') or (b.verdict = 'do-not-share' and was.verdict <> 'do-not-share')))
  select (select count(*) from worse where verdict = 'hold')::int as "onHold", (select count(*) from worse where verdict = 'do-not-share')::int as "doNotShare",
    (select count(*) from pack p join worse on worse.id = p.batch_id where p.status = 'handed-over')::int as "packsOut"`;
/** How many of them stand worse now, and how many of their packs are with somebody. A recalled one is stopped anyhow. */
export const stoppedSince = async (query: RawQuery, was: Verdicts): Promise<Stopped> => (await query<Stopped>('rules-stopped', stoppedSql, [was.ids, was.verdicts]))[0]!;

// Seven days at the most without a log of the store (date.seven), the smoke day being the first. What left the club keeps the days it left with. A log that
// was not gone on with for 24 hours since the batch was judged, whatever it was judged for, is what lapses (domain/rules/store-log.ts); and every day it is looked at anyhow.
const lapsedSql = `select b.id from batch b where b.product_kind = 'hot-smoked'
  and (b.judged_at <= $1::timestamptz - interval '24 hours' or exists (select 1 from (
    select max(r.at) as last_at from reading_list l join reading r on r.list_id = l.id
    where l.batch_id = b.id and l.place = 'storage' and l.withdrawn_at is null and r.no <> all(l.withdrawn_nos) and r.celsius >= -2 and r.flag is distinct from 'probe-error'
    group by lower(trim(l.probe))) x where x.last_at < $1::timestamptz - interval '24 hours' and x.last_at >= b.judged_at - interval '24 hours'))
  and exists (select 1 from pack p where p.batch_id = b.id and p.status in ('ready', 'claimed') and p.storage = 'refrigerated' and p.last_day > b.smoke_day + 6
    and p.frozen_day is null and p.thawed_day is null)
  order by b.id for no key update of b`;

/** The batches with more days than seven whose store's log ended more than a day ago, or was looked at a day ago or longer, held. */
export const holdLapsed = async (query: RawQuery, now: Date): Promise<string[]> => (await query<{ id: string }>('rules-lapsed', lapsedSql, [now])).map(({ id }) => id);
