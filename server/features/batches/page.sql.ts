import { lineageColumns, upSql } from './lineage.ts';
import type { LineageColumns } from './lineage.ts';
import { withdrawnColumns } from './withdrawals.ts';
import type { WithdrawnRows } from './withdrawals.ts';

/** What the page's tag is made of, as one value; read together with the member who asks. */
export const revisionSql = `select json_build_object('revision', b.revision, 'names', club.names_revision) from batch b cross join club where b.id = q.id`;
export type Revision = { revision: number; names: number };

export type PageRow = LineageColumns & WithdrawnRows & {
  head: {
    revision: number; names: number; timeZone: string; note: string; ingredients: string; allergens: string[]; packCount: number; createdAt: string; version: number;
    createdById: string; createdByName: string; recalledAt: string | null; recallReason: string | null; recalledById: string | null; recalledByName: string | null;
  } | null;
  drawExtras: { id: string; createdAt: string; createdById: string; createdByName: string; version: number; sourceLot: string | null; sourcePackNo: number | null }[] | null;
  stageExtras: { id: string; createdById: string; createdByName: string }[] | null;
  slots: {
    id: string; stationId: string; stationName: string; stationKind: string; capacityUnit: string; capacity: number; stageKind: string; startsAt: string; endsAt: string;
    amount: number; note: string; createdById: string; createdByName: string; version: number;
  }[] | null;
  packExtras: {
    id: string; printCount: number; version: number; holderId: string | null; holder: string | null;
    claimId: string | null; claimMemberId: string | null; claimMember: string | null; claimStatus: string | null; claimVersion: number | null;
  }[] | null;
  readingLists: {
    id: string; batchId: string; stageId: string | null; place: string; probe: string; source: string; readingCount: number; firstAt: string; lastAt: string; lowestC: number | null; highestC: number | null;
    unitConfirmed: boolean; withdrawnNos: number[]; createdAt: string; createdById: string; createdByName: string; version: number;
  }[] | null;
  measured: { id: string; kind: string; value: number; part: string; laboratory: string; sampledDay: string; reportedDay: string; note: string; createdAt: string; createdById: string; createdByName: string; version: number }[] | null;
  released: { id: string; ruleId: string; found: string; reason: string; createdAt: string; createdById: string; createdByName: string; version: number }[] | null;
  drawnBy: { id: string; lot: string; name: string; grams: number }[] | null;
};

/** Everything on the batch's page in one statement: the lineage, and what only the page shows. */
export const pageSql = `with ${upSql('$1::uuid')} select ${lineageColumns},
  (select row_to_json(x) from (select b.revision, club.names_revision as names, club.time_zone as "timeZone", b.note, b.ingredients, b.allergens, b.pack_count as "packCount", b.created_at as "createdAt",
      b.version, b.created_by_id as "createdById", cb.name as "createdByName", b.recalled_at as "recalledAt", b.recall_reason as "recallReason", b.recalled_by_id as "recalledById", rb.name as "recalledByName"
    from batch b cross join club join member cb on cb.id = b.created_by_id left join member rb on rb.id = b.recalled_by_id where b.id = $1) x) as head,
  (select json_agg(x) from (select d.id, d.created_at as "createdAt", d.created_by_id as "createdById", m.name as "createdByName", d.version, coalesce(sb.lot, pb.lot) as "sourceLot", p.pack_no as "sourcePackNo"
    from draw d join member m on m.id = d.created_by_id left join batch sb on sb.id = d.source_batch_id left join pack p on p.id = d.source_pack_id left join batch pb on pb.id = p.batch_id
    where d.batch_id = $1 and d.cancelled_at is null) x) as "drawExtras",
  (select json_agg(x) from (select s.id, s.created_by_id as "createdById", m.name as "createdByName" from stage s join member m on m.id = s.created_by_id
    where s.batch_id = $1 and s.cancelled_at is null) x) as "stageExtras",
  (select json_agg(x order by x."startsAt", x.id) from (select s.id, s.station_id as "stationId", st.name as "stationName", st.kind as "stationKind", st.capacity_unit as "capacityUnit", st.capacity,
      s.stage_kind as "stageKind", s.starts_at as "startsAt", s.ends_at as "endsAt", s.amount, s.note, s.created_by_id as "createdById", m.name as "createdByName", s.version
    from slot s join station st on st.id = s.station_id join member m on m.id = s.created_by_id where s.batch_id = $1 and s.cancelled_at is null) x) as slots,
  (select json_agg(x) from (select p.id, p.print_count as "printCount", p.version, p.holder_id as "holderId", coalesce(hm.name, p.recipient) as holder,
      c.id as "claimId", c.member_id as "claimMemberId", cm.name as "claimMember", c.status as "claimStatus", c.version as "claimVersion"
    from pack p left join member hm on hm.id = p.holder_id
      left join claim c on c.pack_id = p.id and c.status in ('asked', 'confirmed', 'handed-over') left join member cm on cm.id = c.member_id
    where p.batch_id = $1) x) as "packExtras",
  (select json_agg(x order by x."firstAt", x.id) from (select l.id, l.batch_id as "batchId", l.stage_id as "stageId", l.place, l.probe, l.source, l.reading_count as "readingCount", l.first_at as "firstAt",
      l.last_at as "lastAt", l.lowest_c as "lowestC", l.highest_c as "highestC", l.unit_confirmed as "unitConfirmed", l.withdrawn_nos as "withdrawnNos", l.created_at as "createdAt",
      l.created_by_id as "createdById", m.name as "createdByName", l.version
    from reading_list l join member m on m.id = l.created_by_id where l.batch_id = $1 and l.withdrawn_at is null) x) as "readingLists",
  (select json_agg(x order by x."sampledDay", x.id) from (select s.id, s.kind, s.value, s.part, s.laboratory, s.sampled_day as "sampledDay", s.reported_day as "reportedDay", s.note, s.created_at as "createdAt",
      s.created_by_id as "createdById", m.name as "createdByName", s.version
    from measurement s join member m on m.id = s.created_by_id where s.batch_id = $1 and s.withdrawn_at is null) x) as measured,
  (select json_agg(x order by x."createdAt", x.id) from (select r.id, r.rule_id as "ruleId", r.found, r.reason, r.created_at as "createdAt", r.created_by_id as "createdById", m.name as "createdByName", r.version
    from release r join member m on m.id = r.created_by_id where r.batch_id = $1 and r.withdrawn_at is null) x) as released,${withdrawnColumns},
  (select json_agg(x order by x.lot) from (select t.id, t.lot, t.name, sum(d.grams)::int as grams
    from (select o.id from draw o where o.source_batch_id = $1 union select o.id from pack p join draw o on o.source_pack_id = p.id where p.batch_id = $1) o
      join draw d on d.id = o.id join batch t on t.id = d.batch_id
    where d.cancelled_at is null group by t.id, t.lot, t.name) x) as "drawnBy"`;

export type ListRow = {
  id: string; lot: string; name: string; productKind: 'hot-smoked' | 'dip' | 'raw'; verdict: 'hold' | 'clear' | 'do-not-share'; notMet: boolean; recalled: boolean; closed: boolean; onHandGrams: number; packCount: number; packedGrams: number;
  smokeDay: string | null; createdAt: Date; version: number; species: string[] | null; lastStage: string | null;
  running: { id: string; kind: string; startedAt: string; dueAt: string | null } | null;
};

/**
 * The species of each batch of one page, whatever they were drawn through. The offset keeps the planner to one look into
 * the index for each batch: it takes the recursion to be long and would otherwise read all draws of all years.
 */
const speciesSql = `(with recursive up(id) as (
      select b.id
      union
      select s.id from up, lateral (
        select d.source_batch_id as id from draw d where d.batch_id = up.id and d.source_batch_id is not null and d.cancelled_at is null
        union all
        select p.batch_id from draw d join pack p on p.id = d.source_pack_id where d.batch_id = up.id and d.cancelled_at is null
      ) s
    ) select array_agg(distinct s.name order by s.name) from up cross join lateral (
        select s.name from draw d join landing l on l.id = d.landing_id join species s on s.code = l.species_code where d.batch_id = up.id and d.cancelled_at is null offset 0
      ) s)`;

export function listSql(where: readonly string[], limit: number): string {
  const condition = where.length > 0 ? `where ${where.join(' and ')}` : '';
  return `select b.*, ${speciesSql} as species,
      (select row_to_json(x) from (select s.id, s.kind, s.started_at as "startedAt", s.due_at as "dueAt" from stage s where s.batch_id = b.id and s.finished_at is null and s.cancelled_at is null limit 1) x) as running,
      (select s.kind from stage s where s.batch_id = b.id and s.cancelled_at is null order by s.seq desc limit 1) as "lastStage"
    from (select b.id, b.lot, b.name, b.product_kind as "productKind", b.verdict, b.not_met as "notMet", b.recalled_at is not null as recalled, b.closed_at is not null as closed, b.on_hand_grams as "onHandGrams",
        b.pack_count as "packCount", b.packed_grams as "packedGrams", b.smoke_day as "smokeDay", b.created_at as "createdAt", b.version
      from batch b ${condition} order by b.created_at desc, b.id desc limit ${limit}) b
    order by b."createdAt" desc, b.id desc`;
}
