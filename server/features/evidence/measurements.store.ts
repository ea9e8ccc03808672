import type { MeasurementBody } from '../../contract/evidence.ts';
import type { RawQuery } from '../../platform/database/open.ts';

const insertSql = `insert into measurement (id, batch_id, kind, value, part, laboratory, sampled_day, reported_day, note, created_by_id, created_at)
  values ($1, $2, $3, $4, $5, $6, $7::date, $8::date, $9, $10, $11)`;
export const insertMeasurement = (query: RawQuery, id: string, batchId: string, m: MeasurementBody, by: string, at: Date) =>
  query('measurement-insert', insertSql, [id, batchId, m.kind, m.value, m.part, m.laboratory, m.sampledDay, m.reportedDay, m.note, by, at]);

export type MeasurementRow = { id: string; batchId: string; kind: MeasurementBody['kind']; createdAt: Date; withdrawnAt: Date | null; version: number };
export async function findMeasurement(query: RawQuery, id: string): Promise<MeasurementRow | null> {
  const [row] = await query<MeasurementRow>('measurement-find', `select id, batch_id as "batchId", kind, created_at as "createdAt", withdrawn_at as "withdrawnAt", version from measurement where id = $1`, [id]);
  return row ?? null;
}
export const withdrawMeasurement = (query: RawQuery, id: string, at: Date | null) =>
  query('measurement-withdraw', `update measurement set withdrawn_at = $2, version = version + 1 where id = $1`, [id, at]);

/** The lots whose brine a figure of a batch's nitrite may be about, recorded at that time. */
export const lotsOfBrine = async (query: RawQuery, batchId: string, at: Date): Promise<string[]> =>
  (await query<{ id: string }>('measurement-brine', `select distinct s.batch_id as id from cures_behind($1::uuid, $2::timestamptz) c join stage s on s.id = c order by 1`, [batchId, at])).map(({ id }) => id);
