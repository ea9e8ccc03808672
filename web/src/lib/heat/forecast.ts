/** A forecast of the smoke and of the cooling from what was asked, or what is wrong with it, field by field. The reckoning is the domain's. */
import type { BatchDetail } from '$contract/batches.ts';
import { forecastCooling, type CoolingForecast, type Medium } from '$domain/heat/cooling-forecast.ts';
import { forecastSmoke, type SmokeForecast } from '$domain/heat/smoke-forecast.ts';
import { readTrace } from '$domain/heat/slab-run.ts';
import { smokeSoFar, type SoFar } from '$domain/heat/so-far.ts';
import { findSpecies } from '$domain/species/index.ts';
import { DomainError } from '$domain/working.ts';
import type { HeatLimits } from '$lib/rules/limits.ts';
import type { PlotPoint } from '$lib/ui/plot.ts';
import { heatOf, typedAir, usableFit, type Air, type Heat, type RunningSmoke, type Smoker } from './chamber.ts';
import type { HoldLimits } from './log.ts';
import type { Draught } from './smoker.ts';

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
  /** A station's id; '' for a smoker that the club does not list. */
  smoker: string;
  /** Counts where the smoker has learnt nothing. */
  draught: Draught;
  startC: number | null;
  saltPct: number | null;
  /** Where the chamber's air comes from: typed steps, this smoke's own log and the steps after it, or the log of an earlier smoke. */
  program: 'steps' | 'so-far' | 'earlier';
  /** The batch of the earlier smoke; '' when none is chosen. */
  earlier: string;
  logHumidityPct: number | null;
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
/** In a smoker that nothing is known of, from memory. */
const USUAL_HUMIDITY_PCT = 30;

/** Drying, smoke, heat: common practice, no published figure. */
export const usualSteps = (): ChamberStep[] => [
  { key: 1, airC: 32, relativeHumidityPct: 60, minutes: 60 },
  { key: 2, airC: 60, relativeHumidityPct: 50, minutes: 60 },
  { key: 3, airC: 95, relativeHumidityPct: 40, minutes: 120 },
];

type BatchStart = Pick<BatchDetail, 'origins'> & Partial<Pick<BatchDetail, 'slots' | 'stages'>>;
/** The smoker that a forecast starts with, and why where none is booked: the only one, or the one that has learnt from the most smokes. */
export function smokerToStart(batch: Pick<BatchStart, 'slots'>, smokers: readonly Smoker[]): { id: string; why: '' | 'only' | 'most' } {
  const booked = batch.slots?.filter((s) => s.stageKind === 'smoke' && smokers.some((k) => k.id === s.station.id)).toSorted((a, b) => b.startsAt.localeCompare(a.startsAt))[0];
  if (booked) return { id: booked.station.id, why: '' };
  if (smokers.length === 1) return { id: smokers[0]!.id, why: 'only' };
  const [most, next] = smokers.map(({ id }) => ({ id, smokes: usableFit(smokers, id)?.smokes ?? 0 })).toSorted((a, b) => b.smokes - a.smokes);
  return most && most.smokes > (next?.smokes ?? 0) ? { id: most.id, why: 'most' } : { id: '', why: '' };
}

/** In the smoker that the batch is booked in, or the one to start with; while it smokes and its chamber was read, from its own log on. */
export function startForecast(batch: BatchStart, smokers: readonly Smoker[] = [], running = false): ForecastValues {
  const smoker = smokerToStart(batch, smokers).id;
  const steps = running ? usualSteps().slice(-1) : usualSteps();
  const thicknessMm = batch.stages?.findLast((s) => s.cure)?.cure?.thicknessMm ?? 25;
  const start: ForecastValues = {
    species: mostOf(batch.origins), thicknessMm, facesOpen: 'both', smoker, draught: 'natural', startC: 4, saltPct: 3, program: running ? 'so-far' : 'steps', earlier: '', logHumidityPct: USUAL_HUMIDITY_PCT, steps,
  };
  return withSmoker(start, smoker, smokers);
}

/** Another smoker brings its own draught and humidity with it, where it has learnt them. */
export function withSmoker(v: ForecastValues, smoker: string, smokers: readonly Smoker[]): ForecastValues {
  const fit = usableFit(smokers, smoker);
  const base = { ...v, smoker, earlier: '', program: v.program === 'earlier' ? ('steps' as const) : v.program };
  if (fit === null) return base;
  const humid = Math.round(fit.relativeHumidityPct.value);
  return { ...base, draught: fit.draught, logHumidityPct: humid, steps: v.steps.map((step) => ({ ...step, relativeHumidityPct: humid })) };
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

export function smokeForecast(v: ForecastValues, limits: HoldLimits, air: Air = typedAir(heatOf(v, []))): Told<SmokeForecast> {
  const steps = air.steps ? v.steps : [];
  const missing = { ...air.missing, ...empty({
    thicknessMm: v.thicknessMm, startC: air.startC ?? v.startC, waterPhaseSaltPct: v.saltPct,
    ...Object.fromEntries(steps.flatMap((s, i) => [[`stages.${i}.airC`, s.airC], [`stages.${i}.relativeHumidityPct`, s.relativeHumidityPct], [`stages.${i}.minutes`, s.minutes]] as const)),
  }) };
  if (v.species === '') missing['speciesCode'] = 'Choose the fish, or one of like fat.';
  return tell(missing, () =>
    forecastSmoke({
      ...fishOf(v), startC: air.startC ?? v.startC!, heat: air.heat, heatFrom: air.heatFrom, log: air.log, limitC: limits.limitC, holdMinutes: limits.neededMinutes, sampleMinutes: 3,
      stages: air.steps ? steps.map((s) => ({ airC: s.airC!, relativeHumidityPct: s.relativeHumidityPct!, minutes: s.minutes! })) : undefined,
    }),
  );
}

const fishOf = (v: ForecastValues) => ({ speciesCode: v.species, thicknessMm: v.thicknessMm!, facesOpen: v.facesOpen, waterPhaseSaltPct: v.saltPct! });

/** What the smoke that runs says of its smoker, before anything is forecast from it. */
export function reckonSoFar(v: ForecastValues, { heat }: Heat, { log }: RunningSmoke): Told<SoFar> {
  const missing = empty({ thicknessMm: v.thicknessMm, waterPhaseSaltPct: v.saltPct, logHumidityPct: v.logHumidityPct });
  if (v.species === '') missing['speciesCode'] = 'Choose the fish, or one of like fat.';
  return tell(missing, () => smokeSoFar({ ...fishOf(v), heat, relativeHumidityPct: v.logHumidityPct!, ...log }));
}

export function coolingForecast(v: CoolingValues, fish: Pick<ForecastValues, 'species' | 'saltPct'>, limits: HeatLimits['cooling']): Told<CoolingForecast> {
  const missing = empty({ thicknessMm: v.depthMm, startC: v.coreC, mediumC: v.mediumC, benchMinutes: v.benchMinutes, benchC: v.benchC });
  if (fish.species === '') missing['speciesCode'] = 'Choose the fish, or one of like fat.';
  const told = tell(missing, () => {
    const bench = v.benchMinutes! > 0 ? [{ medium: 'room' as const, mediumC: v.benchC!, minutes: v.benchMinutes! }] : [];
    return forecastCooling({
      speciesCode: fish.species, thicknessMm: v.depthMm!, facesOpen: v.facesOpen, startC: v.coreC!, waterPhaseSaltPct: fish.saltPct ?? 0, sampleMinutes: 5,
      limits: { to21Minutes: limits.to21, to5Minutes: limits.to5, to4C4Minutes: limits.to4 }, clubEndsC: limits.endsC,
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
export function band<P extends Point>(runs: { slow: { points: P[] }; likely: { points: P[] }; fast: { points: P[] } }, value: (p: P) => number, inUnit: (celsius: number) => number, xOf: (minutes: number) => number = (minutes) => minutes / 60): PlotPoint[] {
  return runs.likely.points.map((point, i) => {
    const all = [runs.slow.points[i] ?? point, point, runs.fast.points[i] ?? point].map((p) => inUnit(value(p)));
    return { x: xOf(point.minutes), y: inUnit(value(point)), low: Math.min(...all), high: Math.max(...all) };
  });
}

/** The core of a forecast at a minute, straight between its points; its ends hold beyond them. */
export function coreAt({ points }: SmokeForecast['likely'], minutes: number): number {
  return readTrace(points.map((p) => p.minutes), points.map((p) => p.coreC), minutes);
}
