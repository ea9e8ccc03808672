import type { Form, ProductKind, StageKind } from '../../domain/working.ts';
import type { RawQuery } from '../../platform/database/open.ts';

export type OwnStage = { batchId: string; lot: string; kind: StageKind; massInG: number; addedG: number; massOutG: number; trimG: number };
export type AlikeAs = { batchId: string; product: ProductKind; species: string; form: Form };

/** So many of the latest closed batches are looked through, and so many of the same fish count: what is older tells of other hands. */
const LOOKED_THROUGH = 1000;
const MOST = 60;

/** As they stand now: what was corrected counts as corrected, what was undone does not count. */
const sql = `with recent as (
    select b.id, b.lot, b.created_at from batch b where b.closed_at is not null and b.product_kind::text = $1 and b.id <> $2 order by b.created_at desc, b.id desc limit ${LOOKED_THROUGH}
  ), alike as (
    select r.id, r.lot, r.created_at from recent r
    where exists (select 1 from draw d where d.batch_id = r.id and d.cancelled_at is null)
      and not exists (select 1 from draw d left join landing l on l.id = d.landing_id
        where d.batch_id = r.id and d.cancelled_at is null and (l.id is null or l.species_code <> $3 or l.form::text <> $4))
    order by r.created_at desc, r.id desc limit ${MOST}
  )
  select a.id as "batchId", a.lot, s.kind, s.mass_in_g as "massInG", s.added_g as "addedG", s.mass_out_g as "massOutG", s.trim_g as "trimG"
  from alike a join stage s on s.batch_id = a.id where s.cancelled_at is null and s.finished_at is not null and s.mass_out_g is not null
  order by a.created_at desc, a.id desc, s.seq`;

/** The finished stages of the club's other closed batches of the same product, drawn from landings of one species in one form alone; the latest first. */
export const stagesAlike = (query: RawQuery, { batchId, product, species, form }: AlikeAs) => query<OwnStage>('batch-stages-alike', sql, [product, batchId, species, form]);
