import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';

export interface PlotPoint {
  x: number;
  /** Null leaves a gap: what was not recorded is not drawn. */
  y: number | null;
  /** The ends of the band at this place. */
  low?: number;
  high?: number;
}

export interface PlotSeries {
  name: string;
  tone: 'tide' | 'ember' | 'kelp' | 'ink';
  points: readonly PlotPoint[];
  /** A prediction, told from what was measured by broken strokes too. */
  predicted?: boolean;
  /** Tells lines of one tone apart, in grey too: the second and the third of a kind. */
  dash?: 1 | 2;
}

/** A level or a moment with a name: 62.8 C, an hour of cure. */
export interface PlotRule {
  at: number;
  name: string;
}

export interface PlotAxis {
  /** 'Core', 'Time in cure'. */
  name: string;
  /** 'C', 'h'; left out where the values say it themselves. */
  unit?: string;
  show: (value: number) => string;
  /** A line through nought, for what is counted from it. */
  fromZero?: boolean;
  /** Where the ticks stand; round numbers when left out. */
  ticks?: readonly number[];
}

export interface PlotFrame {
  width: number;
  height: number;
  left: number;
  right: number;
  top: number;
  bottom: number;
}

const TICKS_EVERY_X = 84;
const TICKS_EVERY_Y = 46;

/** Everything that a plot draws, in pixels of its frame. */
export function layPlot(series: readonly PlotSeries[], axes: { x: PlotAxis; y: PlotAxis }, levels: readonly PlotRule[], moments: readonly PlotRule[], frame: PlotFrame) {
  const x = scaleFor(series.flatMap((s) => s.points.map((p) => p.x)).concat(moments.map((m) => m.at)), axes.x, [frame.left, frame.width - frame.right]);
  const ys = series.flatMap((s) => s.points.flatMap((p) => [p.y, p.low, p.high])).filter((v) => v !== null && v !== undefined);
  const y = scaleFor(ys.concat(levels.map((l) => l.at)), axes.y, [frame.height - frame.bottom, frame.top]).nice();
  const stroke = line<PlotPoint>((p) => x(p.x), (p) => y(p.y!)).defined((p) => p.y !== null);
  const band = area<PlotPoint>((p) => x(p.x), (p) => y(p.low!), (p) => y(p.high!)).defined((p) => p.low !== undefined && p.high !== undefined);
  return {
    x, y,
    xTicks: axes.x.ticks ?? x.ticks(Math.max(2, Math.floor((frame.width - frame.left - frame.right) / TICKS_EVERY_X))),
    yTicks: axes.y.ticks ?? y.ticks(Math.max(2, Math.floor((frame.height - frame.top - frame.bottom) / TICKS_EVERY_Y))),
    lines: series.map((s) => ({ name: s.name, tone: s.tone, predicted: s.predicted ?? false, dash: s.dash ?? 0, path: stroke(s.points) ?? '', band: band(s.points) ?? '', label: labelAt(s, x, y), dots: loneOnes(s.points).map((p) => ({ x: x(p.x), y: y(p.y!) })) })),
  };
}

function scaleFor(values: readonly number[], axis: PlotAxis, range: [number, number]) {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const domain = values.length === 0 ? [0, 1] : [axis.fromZero ? Math.min(0, low) : low, low === high ? high + 1 : high];
  return scaleLinear(domain, range);
}

/** Points with nothing on either side: a line would not show them. */
const loneOnes = (points: readonly PlotPoint[]): PlotPoint[] => points.filter((p, i) => p.y !== null && (points[i - 1]?.y ?? null) === null && (points[i + 1]?.y ?? null) === null);

/** Where a line's name stands: at its last point. */
function labelAt(series: PlotSeries, x: (value: number) => number, y: (value: number) => number): { x: number; y: number } | null {
  const last = series.points.findLast((p) => p.y !== null);
  return last ? { x: x(last.x), y: y(last.y!) } : null;
}

/** Places names that would stand on one another apart, from the top down. */
export function spread(places: readonly number[], least: number, bottom: number): number[] {
  const order = places.map((at, index) => ({ at, index })).sort((a, b) => a.at - b.at);
  let from = -Infinity;
  for (const one of order) {
    one.at = Math.max(one.at, from + least);
    from = one.at;
  }
  let to = bottom;
  for (const one of order.toReversed()) {
    one.at = Math.min(one.at, to);
    to = one.at - least;
  }
  const spreadOut = new Array<number>(places.length);
  for (const { at, index } of order) spreadOut[index] = at;
  return spreadOut;
}
