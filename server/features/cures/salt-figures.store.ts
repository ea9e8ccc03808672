import type { CureFactsBody } from '../../contract/cures.ts';
import type { LabFigure } from '../../domain/cure/learnt-salt.ts';
import type { StageKind } from '../../domain/working.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { cureColumns } from './cures.store.ts';

export type FigureStage = { id: string; seq: number; eventNo: number; kind: StageKind; startedAt: string; finishedAt: string | null; massInG: number; addedG: number; massOutG: number | null; trimG: number; lossG: number };
export type FigureDraw = { id: string; eventNo: number; grams: number; out: boolean; species: string | null };
export type FigureRow = {
  batchId: string; lot: string; packedAt: string | null;
  cure: (CureFactsBody & { stageId: string }) | null;
  stages: FigureStage[] | null;
  draws: FigureDraw[] | null;
  figures: LabFigure[];
};

/** So many of the latest batches with a laboratory's figure are looked at: what is older tells of other hands. */
const LATEST = 200;
const sql = `with recent as (
    select b.id, b.lot, b.created_at from batch b
    where exists (select 1 from measurement m where m.batch_id = b.id and m.kind = 'water-phase-salt' and m.withdrawn_at is null) order by b.created_at desc, b.id desc limit ${LATEST}
  ) select r.id as "batchId", r.lot, (select min(p.packed_at) from pack p where p.batch_id = r.id) as "packedAt",
    (select row_to_json(x) from (select c.stage_id as "stageId", ${cureColumns('c')} from cure c join stage s on s.id = c.stage_id where c.batch_id = r.id and s.cancelled_at is null order by s.seq limit 1) x) as cure,
    (select json_agg(x order by x.seq) from (select s.id, s.seq, s.event_no as "eventNo", s.kind, s.started_at as "startedAt", s.finished_at as "finishedAt", s.mass_in_g as "massInG", s.added_g as "addedG",
        s.mass_out_g as "massOutG", s.trim_g as "trimG", s.loss_g as "lossG" from stage s where s.batch_id = r.id and s.cancelled_at is null) x) as stages,
    (select json_agg(x) from (select d.id, d.event_no as "eventNo", d.grams, d.batch_id <> r.id as out, l.species_code as species from draw d left join landing l on l.id = d.landing_id
      where (d.batch_id = r.id or d.source_batch_id = r.id) and d.cancelled_at is null) x) as draws,
    (select json_agg(x order by x."sampledDay", x.id) from (select m.id, m.part, m.value as percent, m.sampled_day as "sampledDay" from measurement m
      where m.batch_id = r.id and m.kind = 'water-phase-salt' and m.withdrawn_at is null) x) as figures
  from recent r order by r.created_at desc, r.id desc`;

/** The latest batches of which a laboratory measured the water-phase salt, with what the reckoning needs of each. */
export const measuredBatches = (query: RawQuery) => query<FigureRow>('salt-figures', sql);
