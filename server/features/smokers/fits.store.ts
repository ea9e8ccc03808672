import type { LearntFit } from '../../contract/smokers.ts';
import type { LogFit } from '../../domain/heat/fit.ts';
import type { RawQuery } from '../../platform/database/open.ts';

/** What of the domain's answer has no column of its own. */
export type FitAnswer = Pick<LearntFit, 'hWPerM2K' | 'relativeHumidityPct' | 'heat' | 'found' | 'working'> & { logs: Record<string, LogFit> };
export type FitRow = {
  stationId: string; draught: LearntFit['draught']; smokeCount: number; pointCount: number; residualC: number; answer: FitAnswer; evidence: string; madeById: string; madeByName: string; madeAt: Date;
};

const columns = `f.station_id as "stationId", f.draught, f.smoke_count as "smokeCount", f.point_count as "pointCount", f.residual_c as "residualC", f.answer, f.evidence,
  f.made_by_id as "madeById", m.name as "madeByName", f.made_at as "madeAt" from smoker_fit f join member m on m.id = f.made_by_id`;
const fitsSql = `select ${columns} where $1::uuid is null or f.station_id = $1`;
/** What one smoker has learnt, or all have. */
export const fitsOf = (query: RawQuery, stationId: string | null) => query<FitRow>('smoker-fits', fitsSql, [stationId]);

export type NewFit = Omit<FitRow, 'madeByName'> & { id: string };
const saveSql = `insert into smoker_fit (id, station_id, draught, h_w_per_m2_k, h_standard_error, h_low, h_high, humidity_pct, humidity_standard_error, smoke_count, point_count, residual_c, answer, evidence, made_by_id, made_at)
  values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13::jsonb, $14, $15, $16)
  on conflict (station_id) do update set draught = excluded.draught, h_w_per_m2_k = excluded.h_w_per_m2_k, h_standard_error = excluded.h_standard_error, h_low = excluded.h_low, h_high = excluded.h_high,
    humidity_pct = excluded.humidity_pct, humidity_standard_error = excluded.humidity_standard_error, smoke_count = excluded.smoke_count, point_count = excluded.point_count, residual_c = excluded.residual_c,
    answer = excluded.answer, evidence = excluded.evidence, made_by_id = excluded.made_by_id, made_at = excluded.made_at, version = smoker_fit.version + 1`;
export async function saveFit(query: RawQuery, n: NewFit): Promise<void> {
  const { hWPerM2K: h, relativeHumidityPct: humidity } = n.answer;
  await query('smoker-fit-save', saveSql, [
    n.id, n.stationId, n.draught, h.value, h.standardError, h.low, h.high, humidity.value, humidity.standardError, n.smokeCount, n.pointCount, n.residualC, JSON.stringify(n.answer), n.evidence, n.madeById, n.madeAt,
  ]);
}
export const dropFit = (query: RawQuery, stationId: string) => query('smoker-fit-drop', `delete from smoker_fit where station_id = $1::uuid`, [stationId]);
