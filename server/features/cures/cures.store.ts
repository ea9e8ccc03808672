import type { CureFactsBody } from '../../contract/cures.ts';
import type { RawQuery } from '../../platform/database/open.ts';

/** The facts of a cure as the contract names them, of the table under this name. */
export const cureColumns = (c: string) => `${c}.method, ${c}.salt_kind as "saltKind", ${c}.salt_grams as "saltGrams", ${c}.sugar_kind as "sugarKind", ${c}.sugar_grams as "sugarGrams", ${c}.water_grams as "waterGrams",
  ${c}.brine_percent as "brinePercent", ${c}.others, ${c}.thickness_mm as "thicknessMm", ${c}.skin, ${c}.temperature_c as "temperatureC", ${c}.once_frozen as "onceFrozen", ${c}.fat`;

export type CureRow = CureFactsBody & { id: string; version: number };
export async function findCure(query: RawQuery, stageId: string): Promise<CureRow | null> {
  const [row] = await query<CureRow>('cure-find', `select c.id, c.version, ${cureColumns('c')} from cure c where c.stage_id = $1`, [stageId]);
  return row ?? null;
}

const values = (f: CureFactsBody) => [
  f.method, f.saltKind, f.saltGrams, f.sugarKind, f.sugarGrams, f.waterGrams, f.brinePercent, JSON.stringify(f.others), f.thicknessMm, f.skin, f.temperatureC, f.onceFrozen, f.fat,
];
const insertSql = `insert into cure (id, stage_id, batch_id, created_by_id, created_at, method, salt_kind, salt_grams, sugar_kind, sugar_grams, water_grams, brine_percent, others, thickness_mm, skin, temperature_c, once_frozen, fat)
  values (gen_random_uuid(), $1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12::jsonb, $13, $14, $15, $16, $17)`;
export const insertCure = (query: RawQuery, of: { stageId: string; batchId: string }, facts: CureFactsBody, by: string, at: Date) =>
  query('cure-insert', insertSql, [of.stageId, of.batchId, by, at, ...values(facts)]);

const updateSql = `update cure set method = $2, salt_kind = $3, salt_grams = $4, sugar_kind = $5, sugar_grams = $6, water_grams = $7, brine_percent = $8, others = $9::jsonb, thickness_mm = $10, skin = $11,
    temperature_c = $12, once_frozen = $13, fat = $14, version = version + 1 where id = $1`;
export const updateCure = (query: RawQuery, id: string, facts: CureFactsBody) => query('cure-update', updateSql, [id, ...values(facts)]);
