import { cleanSeries } from '$domain/heat/series.ts';
import type { Reading } from '$domain/heat/series.ts';
import type { TemperaturePlace } from '$domain/readings.ts';
import { formatLocal } from '$domain/time.ts';
import type { PlotRule, PlotSeries } from '../../ui/plot.ts';
import { timeTicks } from '../../heat/log.ts';
import type { OwnContext, OwnPlot } from './part.ts';
import { degreesFor } from './words.ts';

type Parts = { name: string; tone: PlotSeries['tone']; readings: readonly Reading[]; place: TemperaturePlace; says: string; context: OwnContext; levels?: PlotRule[]; /** Minutes without a reading that break the line. */ gapMinutes?: number };

/** A pasted log as a line over the clock, broken where nothing was read. */
export function logPlot({ name, tone, readings, place, says, context, levels, gapMinutes = 10 }: Parts): OwnPlot {
  const series = cleanSeries(readings, { place, strict: 'lower', unitConfirmed: true });
  const { y, at } = degreesFor(context);
  const startMs = series.startAt === null ? 0 : Date.parse(series.startAt);
  const points: PlotSeries['points'][number][] = [];
  series.minutes.forEach((minute, i) => {
    if (i > 0 && minute - series.minutes[i - 1]! > gapMinutes + 1e-9) points.push({ x: startMs + ((minute + series.minutes[i - 1]!) / 2) * 60_000, y: null });
    points.push({ x: startMs + minute * 60_000, y: at(series.celsius[i]!) });
  });
  const xs = points.map((p) => p.x);
  const [first, last] = [Math.min(...xs), Math.max(...xs)];
  const long = last - first > 24 * 3_600_000;
  const show = (ms: number) => formatLocal(new Date(ms), context.zone, long ? 'day-time' : 'time');
  return { says, x: { name: 'Time', show: long ? (ms) => show(ms).replace(/^\w+ (\d+ \w+) \d+, /, '$1 ') : show, ticks: timeTicks(first, last, context.zone, long ? 3 : 5) }, y, series: [{ name, tone, points }], ...(levels && { levels }) };
}
