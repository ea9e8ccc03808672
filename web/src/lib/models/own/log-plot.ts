import type { TemperaturePlace } from '$domain/readings.ts';
import { lineOf, timeAxis } from '../../heat/log.ts';
import type { PlotRule, PlotSeries } from '../../ui/plot.ts';
import type { OwnContext, OwnPlot } from './part.ts';
import { degreesFor } from './words.ts';

type Parts = { name: string; tone: PlotSeries['tone']; readings: { at: Date; celsius: number }[]; place: TemperaturePlace; says: string; context: OwnContext; levels?: PlotRule[]; /** Minutes without a reading that break the line. */ gapMinutes?: number };

/** A pasted log as a line over the clock, broken where nothing was read. */
export function logPlot({ name, tone, readings, place, says, context, levels, gapMinutes }: Parts): OwnPlot {
  const { y, at } = degreesFor(context);
  const series = [{ name, tone, points: lineOf({ readings }, place, at, -Infinity, Infinity, gapMinutes) }];
  return { says, x: timeAxis(series, context.zone), y, series, ...(levels && { levels }) };
}
