/** Where a forecast takes the smoker's heat and the chamber's air from: what the smoker has learnt, typed steps, or a chamber's own log. */
import type { Stage } from '$contract/batches.ts';
import type { LearntFit, SmokerLearning } from '$contract/smokers.ts';
import type { Station } from '$contract/stations.ts';
import type { SmokeForecastInput } from '$domain/heat/smoke-forecast.ts';
import { logOfSmoke, type ProbeList, type SmokeLog } from '$domain/heat/smoke-log.ts';
import { SMOKER_H, type HeatTransfer } from '$domain/heat/slab.ts';
import type { SoFar } from '$domain/heat/so-far.ts';
import type { ListWithReadings } from './log.ts';
import { countSmokes, sayHeat, sayHumidity, type Draught } from './smoker.ts';

export interface Smoker {
  id: string;
  name: string;
  fit: LearntFit | null;
}
export const smokersOf = (stations: readonly Station[]): Smoker[] => stations.filter((s) => s.kind === 'smoker' && !s.retired).map(({ id, name, fit }) => ({ id, name, fit }));

/** What a forecast may rest on; one whose readings were changed since is none. */
export const usableFit = (smokers: readonly Smoker[], id: string): LearntFit | null => {
  const fit = smokers.find((s) => s.id === id)?.fit ?? null;
  return fit?.stale ? null : fit;
};

export interface Heat {
  heat: HeatTransfer;
  /** For the working: 'as North smoker has learnt from 3 smokes'. */
  from: string;
  /** For the person. */
  says: string;
}
export function heatOf(chosen: { smoker: string; draught: Draught }, smokers: readonly Smoker[]): Heat {
  const smoker = smokers.find((s) => s.id === chosen.smoker);
  const fit = usableFit(smokers, chosen.smoker);
  if (smoker && fit) {
    const says = `As ${smoker.name} has learnt from ${countSmokes(fit.smokes)}: heat transfer ${sayHeat(fit.hWPerM2K)}; humidity ${sayHumidity(fit.relativeHumidityPct)}.`;
    return { heat: fit.heat, from: `learnt by ${smoker.name} from ${countSmokes(fit.smokes)}`, says };
  }
  const usual = chosen.draught === 'fan' ? 'The usual values with a fan' : 'The usual values of natural draught';
  const why = !smoker ? '' : smoker.fit ? ` ${smoker.name} has to be fitted anew: readings that it learnt from were changed.` : ` ${smoker.name} has learnt nothing yet.`;
  return { heat: SMOKER_H[chosen.draught], from: `usual value, ${chosen.draught === 'fan' ? 'fan' : 'natural draught'}, remembered`, says: `${usual}.${why}` };
}

export interface RunningSmoke {
  startedAt: Date;
  log: SmokeLog & { chamber: NonNullable<SmokeLog['chamber']> };
}
/** When the fish of a running smoke went in: where its forecast starts, in ms since 1970. */
export const startOf = ({ log }: RunningSmoke, { startAt }: Pick<SoFar, 'startAt'>): number => new Date(startAt ?? log.chamber.readings[0]!.at).getTime();
export const probeLists = (lists: readonly ListWithReadings[]): ProbeList[] =>
  lists.filter((l) => !l.withdrawn).map(({ place, probe, stageId, unitConfirmed, readings }) => {
    const left = readings.filter((r) => !r.withdrawn);
    return { place, probe, stageId, unitConfirmed, atMs: left.map((r) => Date.parse(r.at)), celsius: left.map((r) => r.celsius) };
  });

/** The smoke that runs now, once its chamber was read twice; null else. */
export function smokeRunning(stages: readonly Pick<Stage, 'id' | 'kind' | 'startedAt' | 'finishedAt'>[], lists: readonly ListWithReadings[]): RunningSmoke | null {
  const stage = stages.find((s) => s.kind === 'smoke' && s.finishedAt === null);
  if (!stage) return null;
  const startedAt = new Date(stage.startedAt);
  const { core, chamber } = logOfSmoke({ id: stage.id, startedAt, finishedAt: null }, probeLists(lists));
  return chamber && chamber.readings.length >= 2 ? { startedAt, log: { core, chamber } } : null;
}

export interface EarlierSmoke {
  batchId: string;
  label: string;
  stageId: string;
  startedAt: string;
  finishedAt: string;
}
/** Smokes of this smoker whose chamber was logged, the latest first. */
export function earlierSmokes({ station, smokes, others }: SmokerLearning, exceptBatchId: string, showWhen: (at: string) => string): EarlierSmoke[] {
  const here = [...smokes, ...others.filter((o) => o.smokedAt?.id === station.id)];
  return here.filter((s) => s.batch.id !== exceptBatchId).sort((a, b) => b.startedAt.localeCompare(a.startedAt))
    .map(({ batch, stageId, startedAt, finishedAt }) => ({ batchId: batch.id, label: `${showWhen(startedAt)}, ${batch.name}`, stageId, startedAt, finishedAt }));
}
export const logOfEarlier = ({ stageId, startedAt, finishedAt }: EarlierSmoke, lists: readonly ListWithReadings[]): SmokeLog =>
  logOfSmoke({ id: stageId, startedAt: new Date(startedAt), finishedAt: new Date(finishedAt) }, probeLists(lists));

/** The part of a forecast's input that the smoker and its chamber make. */
export type Air = Pick<SmokeForecastInput, 'heat' | 'heatFrom' | 'log'> & {
  /** Typed steps count, alone or after the log. */
  steps: boolean;
  /** How warm the fish was when it went in, where the core's log says it. */
  startC: number | null;
  /** What keeps it from being reckoned, by field. */
  missing: Record<string, string>;
};
export const typedAir = ({ heat, from }: Heat): Air => ({ heat, heatFrom: from, steps: true, startC: null, missing: {} });

export function airSoFar({ from }: Heat, running: RunningSmoke, soFar: SoFar): Air {
  return {
    heat: soFar.heat, heatFrom: soFar.learnt ? `${from}, moved by this smoke so far` : from, steps: true, startC: soFar.startC, missing: {},
    log: { readings: running.log.chamber.readings, relativeHumidityPct: soFar.relativeHumidityPct, ...(soFar.startAt === null ? {} : { startAt: soFar.startAt }) },
  };
}

export function airEarlier({ heat, from }: Heat, earlier: SmokeLog | null, relativeHumidityPct: number | null): Air {
  const air = { heat, heatFrom: from, steps: false, startC: null };
  if (!earlier?.chamber) return { ...air, missing: { earlier: 'Choose a smoke whose chamber was logged.' } };
  if (relativeHumidityPct === null) return { ...air, missing: { logHumidityPct: 'Fill this in.' } };
  return { ...air, missing: {}, log: { readings: earlier.chamber.readings, relativeHumidityPct } };
}
