import { forecastSmoke } from '../../server/domain/heat/smoke-forecast.ts';

export type LogRow = { at: string; celsius: number };
const MINUTE_MS = 60_000;
const EVERY_MINUTES = 5;
/** The invented Alder smoker: a little better than most of natural draught, and dry. */
const HEAT = { likelyWPerM2K: 13, lowWPerM2K: 13, highWPerM2K: 13 };
const HUMIDITY_PCT = 31;
/** Chamber in Celsius by minute: slow to heat, as its note says. */
const CORNERS: readonly (readonly [minute: number, celsius: number])[] = [[0, 44], [100, 62], [170, 96], [240, 95]];

/** What the probes in the Alder smoker would write every five minutes, for so many minutes from a start: the core by the smoke model, with a probe's little wander. */
export function smokeLog(from: Date, minutes: number, fish: { speciesCode: string; thicknessMm: number }): { chamber: LogRow[]; core: LogRow[] } {
  const at = (minute: number) => new Date(from.getTime() + minute * MINUTE_MS).toISOString();
  const wander = (i: number, size: number) => size * Math.sin(i * 12.9898);
  const rounded = (celsius: number) => Math.round(celsius * 10) / 10;
  const chamber = Array.from({ length: minutes / EVERY_MINUTES + 1 }, (_, i) => ({ at: at(i * EVERY_MINUTES), celsius: rounded(chamberC(i * EVERY_MINUTES) + wander(i, 0.8)) }));
  const { points } = forecastSmoke({ ...fish, facesOpen: 'both', startC: 11.4, waterPhaseSaltPct: 3, heat: HEAT, log: { readings: chamber, relativeHumidityPct: HUMIDITY_PCT }, sampleMinutes: EVERY_MINUTES }).likely;
  return { chamber, core: points.map((p, i) => ({ at: at(p.minutes), celsius: rounded(p.coreC + wander(i + 3, 0.2)) })) };
}

function chamberC(minute: number): number {
  const i = CORNERS.findIndex(([end]) => minute < end);
  if (i < 0) return CORNERS.at(-1)![1];
  const [[from, fromC], [to, toC]] = [CORNERS[i - 1]!, CORNERS[i]!];
  return fromC + ((toC - fromC) * (minute - from)) / (to - from);
}
