/** A forecast of the smoke and of the cooling from what was asked, or what is wrong with it, field by field. The reckoning is the domain's. */
import type { BatchDetail } from '$contract/batches.ts';
import { forecastCooling, type CoolingForecast, type Medium } from '$domain/heat/cooling-forecast.ts';
import { SMOKER_H } from '$domain/heat/slab.ts';
import { forecastSmoke, type SmokeForecast } from '$domain/heat/smoke-forecast.ts';
import { findSpecies } from '$domain/species/index.ts';
import { DomainError } from '$domain/working.ts';
import type { HeatLimits } from '$lib/rules/limits.ts';
import type { PlotPoint } from '$lib/ui/plot.ts';
import type { HoldLimits } from './log.ts';

export interface ChamberStep {
  key: number;
  airC: number | null;
  relativeHumidityPct: number | null;
  minutes: number | null;
}
export interface ForecastValues {
  species: string;
  thicknessMm: number | null;
  facesOpen: 'both' | 'one';
  draught: 'natural' | 'fan';
  startC: number | null;
  saltPct: number | null;
  steps: ChamberStep[];
}
export interface CoolingValues {
  depthMm: number | null;
  facesOpen: 'both' | 'one';
  coreC: number | null;
  medium: Medium;
  mediumC: number | null;
  /** First in the room, before it goes to the cold. */
  benchMinutes: number | null;
  benchC: number | null;
}

export const mediumWords: Record<Medium, string> = { 'fan-cabinet': 'Cold room with a fan', cabinet: 'Refrigerator', 'ice-bath': 'Ice bath', room: 'Room' };
export const mediumStartC: Record<Medium, number> = { 'fan-cabinet': 2, cabinet: 3, 'ice-bath': 0, room: 15 };
const COOLING_MINUTES = 12 * 60;

/** Drying, smoke, heat: common practice, no published figure. */
export const usualSteps = (): ChamberStep[] => [
  { key: 1, airC: 32, relativeHumidityPct: 60, minutes: 60 },
  { key: 2, airC: 60, relativeHumidityPct: 50, minutes: 60 },
  { key: 3, airC: 95, relativeHumidityPct: 40, minutes: 120 },
];

export function startForecast(batch: Pick<BatchDetail, 'origins'>): ForecastValues {
  return { species: mostOf(batch.origins), thicknessMm: 25, facesOpen: 'both', draught: 'natural', startC: 4, saltPct: 3, steps: usualSteps() };
}
export const startCooling = (): CoolingValues => ({ depthMm: 25, facesOpen: 'both', coreC: 65, medium: 'fan-cabinet', mediumC: mediumStartC['fan-cabinet'], benchMinutes: 0, benchC: mediumStartC.room });

/** The species that most of it is, when the tables know what its flesh is made of; '' when they do not. */
function mostOf(origins: BatchDetail['origins']): string {
  const grams = new Map<string, number>();
  for (const { speciesCode, landedGrams } of origins) grams.set(speciesCode, (grams.get(speciesCode) ?? 0) + landedGrams);
  const code = [...grams].sort((a, b) => b[1] - a[1])[0]?.[0] ?? '';
  return findSpecies(code)?.proximate ? code : '';
}

export type Told<F> = { forecast: F; errors: Record<string, string>; wrong: '' } | { forecast: null; errors: Record<string, string>; wrong: string };

function tell<F>(missing: Record<string, string>, reckon: () => F): Told<F> {
  const first = Object.values(missing)[0];
  if (first !== undefined) return { forecast: null, errors: missing, wrong: first };
  try {
    return { forecast: reckon(), errors: {}, wrong: '' };
  } catch (cause) {
    if (!(cause instanceof DomainError)) throw cause;
    return { forecast: null, errors: { [cause.field]: cause.message }, wrong: cause.message };
  }
}

const empty = (values: Record<string, number | null>): Record<string, string> => Object.fromEntries(Object.entries(values).filter(([, value]) => value === null).map(([field]) => [field, 'Fill this in.']));

export function smokeForecast(v: ForecastValues, limits: HoldLimits): Told<SmokeForecast> {
  const missing = empty({
    thicknessMm: v.thicknessMm, startC: v.startC, waterPhaseSaltPct: v.saltPct,
    ...Object.fromEntries(v.steps.flatMap((s, i) => [[`stages.${i}.airC`, s.airC], [`stages.${i}.relativeHumidityPct`, s.relativeHumidityPct], [`stages.${i}.minutes`, s.minutes]] as const)),
  });
  if (v.species === '') missing['speciesCode'] = 'Choose the fish, or one of like fat.';
  return tell(missing, () =>
    forecastSmoke({
      speciesCode: v.species, thicknessMm: v.thicknessMm!, facesOpen: v.facesOpen, startC: v.startC!, waterPhaseSaltPct: v.saltPct!, heat: SMOKER_H[v.draught],
      stages: v.steps.map((s) => ({ airC: s.airC!, relativeHumidityPct: s.relativeHumidityPct!, minutes: s.minutes! })), limitC: limits.limitC, holdMinutes: limits.neededMinutes, sampleMinutes: 3,
    }),
  );
}

export function coolingForecast(v: CoolingValues, fish: Pick<ForecastValues, 'species' | 'saltPct'>, limits: HeatLimits['cooling']): Told<CoolingForecast> {
  const missing = empty({ thicknessMm: v.depthMm, startC: v.coreC, mediumC: v.mediumC, benchMinutes: v.benchMinutes, benchC: v.benchC });
  if (fish.species === '') missing['speciesCode'] = 'Choose the fish, or one of like fat.';
  const told = tell(missing, () => {
    const bench = v.benchMinutes! > 0 ? [{ medium: 'room' as const, mediumC: v.benchC!, minutes: v.benchMinutes! }] : [];
    return forecastCooling({
      speciesCode: fish.species, thicknessMm: v.depthMm!, facesOpen: v.facesOpen, startC: v.coreC!, waterPhaseSaltPct: fish.saltPct ?? 0, sampleMinutes: 5,
      limits: { to21Minutes: limits.to21, to5Minutes: limits.to5, to4C4Minutes: limits.to4 },
      stages: [...bench, { medium: v.medium, mediumC: v.mediumC!, minutes: COOLING_MINUTES }],
    });
  });
  return { ...told, errors: Object.fromEntries(Object.entries(told.errors).map(([field, message]) => [coolingField(field, v.benchMinutes! > 0), message])) } as Told<CoolingForecast>;
}

/** The field of the screen that a stage of the reckoning came from. */
function coolingField(field: string, bench: boolean): string {
  const [, at, what] = /^stages\.(\d)\.(mediumC|minutes)$/.exec(field) ?? [];
  if (at === undefined) return field;
  if (bench && at === '0') return what === 'minutes' ? 'benchMinutes' : 'benchC';
  return 'mediumC';
}

type Point = { minutes: number };
/** One line of the likely case, with the slow and the fast as its band; `inUnit` writes Celsius as the person reads it. */
export function band<P extends Point>(runs: { slow: { points: P[] }; likely: { points: P[] }; fast: { points: P[] } }, value: (p: P) => number, inUnit: (celsius: number) => number): PlotPoint[] {
  return runs.likely.points.map((point, i) => {
    const all = [runs.slow.points[i] ?? point, point, runs.fast.points[i] ?? point].map((p) => inUnit(value(p)));
    return { x: point.minutes / 60, y: inUnit(value(point)), low: Math.min(...all), high: Math.max(...all) };
  });
}
