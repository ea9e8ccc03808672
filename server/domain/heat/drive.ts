import { DomainError } from '../working.ts';
import { vapourPressureKPa } from './humid-air.ts';
import type { AirSegment } from './slab-run.ts';
import type { Air } from './slab-face.ts';
import { cleanSeries } from './series.ts';
import type { Gap, Reading, SeriesFlag } from './series.ts';
import { AIR_TEMPERATURE, HUMIDITY, within } from './within.ts';

/** One stage of a chamber program: air of one temperature and humidity for so many minutes. */
export type ChamberStage = { airC: number; relativeHumidityPct: number; minutes: number };

export const LONGEST_RUN_MINUTES = 48 * 60;
const MOST_STAGES = 40;
/** A log is thinned to one point in so many seconds: fish does not feel faster swings. */
const THIN_SECONDS = 20;

/** A chamber program as segments for the solver. Refuses none, more than 40 stages, and more than 48 hours in all. */
export function segmentsOfStages(stages: readonly ChamberStage[]): AirSegment[] {
  if (stages.length === 0 || stages.length > MOST_STAGES) {
    throw new DomainError({ code: 'program.stages', field: 'stages', label: 'number of stages', value: stages.length, problem: `is not from 1 to ${MOST_STAGES}`, remedy: 'enter the stages of the chamber' });
  }
  let minutes = 0;
  const segments = stages.map((stage, i) => {
    const air = stageAir(stage, i);
    const fromS = minutes * 60;
    minutes += within(stage.minutes, `stages.${i}.minutes`, { low: 1, high: 24 * 60, unit: 'min', label: 'length of a stage', remedy: 'enter 1 minute to 24 hours' });
    return { fromS, toS: minutes * 60, from: air, to: air, jump: true };
  });
  within(minutes, 'stages', { low: 1, high: LONGEST_RUN_MINUTES, unit: 'min', label: 'length of the program', remedy: 'enter at most 48 hours' });
  return segments;
}

function stageAir({ airC, relativeHumidityPct }: ChamberStage, i: number): Air {
  within(airC, `stages.${i}.airC`, AIR_TEMPERATURE);
  within(relativeHumidityPct, `stages.${i}.relativeHumidityPct`, HUMIDITY);
  return { airC, vapourKPa: vapourPressureKPa(airC, relativeHumidityPct, undefined, `stages.${i}.relativeHumidityPct`) };
}

export type ChamberLog = { readings: readonly Reading[]; relativeHumidityPct: number };
export type LoggedDrive = { segments: AirSegment[]; flags: SeriesFlag[]; gaps: Gap[]; startAt: string };

/**
 * Logged chamber air as segments: straight between readings, across gaps too, which are
 * flagged (a forecast may bridge a gap; a check never does). One humidity holds for the
 * whole log. Throws DomainError on fewer than two usable readings or a unit in doubt.
 */
export function segmentsOfLog({ readings, relativeHumidityPct }: ChamberLog): LoggedDrive {
  within(relativeHumidityPct, 'relativeHumidityPct', HUMIDITY);
  const series = cleanSeries(readings, { place: 'chamber', strict: 'lower' });
  const fail = (problem: string, remedy: string) => new DomainError({ code: 'log.unusable', field: 'readings', label: 'chamber log', value: readings.length, shown: `of ${readings.length} readings`, problem, remedy });
  if (series.unitInDoubt) throw fail('holds readings that look like Fahrenheit', 'put the unit right');
  const points = thin(series.minutes, series.celsius);
  if (points.length < 2 || series.startAt === null) throw fail('has fewer than two usable readings', 'log the chamber from start to end');
  const end = points.at(-1)!.minutes;
  within(end, 'readings', { low: 1, high: LONGEST_RUN_MINUTES, unit: 'min', label: 'length of the log', remedy: 'send one smoke at a time' });
  const air = points.map(({ celsius }) => ({
    airC: within(celsius, 'readings', AIR_TEMPERATURE),
    vapourKPa: vapourPressureKPa(celsius, relativeHumidityPct),
  }));
  const segments = points.slice(1).map(({ minutes }, i) => ({ fromS: points[i]!.minutes * 60, toS: minutes * 60, from: air[i]!, to: air[i + 1]!, jump: i === 0 }));
  return { segments, flags: series.flags, gaps: series.gaps, startAt: series.startAt };
}

/** The same segments so much later. */
export function shifted(segments: readonly AirSegment[], byS: number): AirSegment[] {
  return segments.map((segment) => ({ ...segment, fromS: segment.fromS + byS, toS: segment.toS + byS }));
}

/** Segments from an instant on, the first cut there: the fish went in when the chamber was already running. */
export function segmentsFrom(segments: readonly AirSegment[], startS: number): AirSegment[] {
  const left = segments.filter(({ toS }) => toS > startS);
  const first = left[0];
  if (!first || first.fromS >= startS) return left;
  const share = (startS - first.fromS) / (first.toS - first.fromS);
  const from = { airC: first.from.airC + share * (first.to.airC - first.from.airC), vapourKPa: first.from.vapourKPa + share * (first.to.vapourKPa - first.from.vapourKPa) };
  return [{ ...first, fromS: startS, from, jump: true }, ...left.slice(1)];
}

function thin(minutes: readonly number[], celsius: readonly number[]): { minutes: number; celsius: number }[] {
  const points: { minutes: number; celsius: number }[] = [];
  let [sumMinutes, sumC, count, first] = [0, 0, 0, 0];
  const push = () => points.push({ minutes: sumMinutes / count, celsius: sumC / count });
  for (const [i, minute] of minutes.entries()) {
    if (count > 0 && minute - first > THIN_SECONDS / 60) {
      push();
      [sumMinutes, sumC, count] = [0, 0, 0];
    }
    if (count === 0) first = minute;
    sumMinutes += minute;
    sumC += celsius[i]!;
    count += 1;
  }
  if (count > 0) push();
  return points;
}
