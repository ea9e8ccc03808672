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
    lines: series.map((s) => ({ name: s.name, tone: s.tone, predicted: s.predicted ?? false, dash: s.dash ?? 0, path: stroke(s.points) ?? '', band: band(s.points) ?? '', label: labelAt(s, x, y), drawn: drawnAt(s.points, x, y), dots: loneOnes(s.points).map((p) => ({ x: x(p.x), y: y(p.y!) })) })),
  };
}

function scaleFor(values: readonly number[], axis: PlotAxis, range: [number, number]) {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const domain = values.length === 0 ? [0, 1] : [axis.fromZero ? Math.min(0, low) : low, low === high ? high + 1 : high];
  return scaleLinear(domain, range);
}

/** Points with nothing on either side: a line would not show them. */
const loneOnes = (points: readonly PlotPoint[]): PlotPoint[] => points.filter((p, i) => p.y !== null && (points[i - 1]?.y ?? null) === null && (points[i + 1]?.y ?? null) === null);

type Spot = { x: number; y: number };
/** How far apart the spots of a line are at most, in pixels: closer than any letter is wide. */
const SPOT_EVERY = 4;
/** Where a line runs, spot by spot, with nothing in its gaps. */
function drawnAt(points: readonly PlotPoint[], x: (value: number) => number, y: (value: number) => number): Spot[] {
  return points.flatMap((point, i) => {
    if (point.y === null) return [];
    const here = { x: x(point.x), y: y(point.y) };
    const next = points[i + 1];
    if (next === undefined || next.y === null) return [here];
    const there = { x: x(next.x), y: y(next.y) };
    const steps = Math.max(1, Math.ceil(Math.hypot(there.x - here.x, there.y - here.y) / SPOT_EVERY));
    return Array.from({ length: steps }, (_, step) => ({ x: here.x + ((there.x - here.x) * step) / steps, y: here.y + ((there.y - here.y) * step) / steps }));
  });
}

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

export interface PlotName {
  text: string;
  x: number;
  y: number;
  anchor: 'start' | 'end';
}

/** As a letter of a plot's small text is wide at most on average, and a line of it high, in pixels. */
const LETTER = 7.4;
const LINE = 16;
/** Between a rule and its name. */
const ASIDE = 4;
/** Between a name and a line beside it. */
const CLEAR = 2;
/** How far a level's name is moved along at a time. */
const ALONG = 24;

type Box = { left: number; right: number; top: number; bottom: number };
const boxOf = ({ text, x, y, anchor }: PlotName): Box => {
  const wide = text.length * LETTER;
  return { left: anchor === 'start' ? x : x - wide, right: anchor === 'start' ? x + wide : x, top: y - 12, bottom: y + 4 };
};
/** How many spots of the lines a name would lie on. */
const covered = (box: Box, drawn: readonly Spot[]): number => drawn.filter(({ x, y }) => x > box.left - CLEAR && x < box.right + CLEAR && y > box.top - CLEAR && y < box.bottom + CLEAR).length;
const overlap = (a: Box, b: Box): boolean => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

/**
 * Where the names of moments (at their x) and of levels (at their y) stand, in pixels and in that order: within the frame as long as they fit,
 * each on free ground: never on another name, and off the lines (`drawn`) where there is room. A moment's name stands at the top and goes down line
 * by line; a level's name on its line or under it, at the left end or as far along as it must.
 */
export function placeNames(moments: readonly PlotRule[], levels: readonly PlotRule[], frame: PlotFrame, drawn: readonly Spot[] = []): PlotName[] {
  const taken: Box[] = [];
  const right = frame.width - frame.right;
  const bottom = frame.height - frame.bottom;
  const settle = (candidates: PlotName[]): PlotName => {
    const inside = candidates.filter((c) => boxOf(c).left >= frame.left && boxOf(c).right <= right && c.y >= frame.top + 8 && c.y <= bottom);
    const apart = inside.filter((c) => taken.every((box) => !overlap(box, boxOf(c))));
    const choice = apart.length > 0 ? apart : inside.length > 0 ? inside : candidates;
    const covers = choice.map((c) => covered(boxOf(c), drawn));
    const free = choice[covers.indexOf(Math.min(...covers))]!;
    taken.push(boxOf(free));
    return free;
  };
  const lines = Array.from({ length: 6 }, (_, i) => frame.top + 8 + i * LINE);
  const along = Array.from({ length: Math.max(0, Math.floor((right - frame.left) / ALONG) - 1) }, (_, i) => frame.left + ASIDE + (i + 1) * ALONG);
  const ofMoment = ({ at, name }: PlotRule) =>
    settle(lines.flatMap((y): PlotName[] => [{ text: name, x: at + ASIDE, y, anchor: 'start' }, { text: name, x: at - ASIDE, y, anchor: 'end' }]));
  const ofLevel = ({ at, name }: PlotRule) =>
    settle([at - 5, at + LINE - 2, at - 5 - LINE, at + 2 * LINE - 2].flatMap((y): PlotName[] => [{ text: name, x: frame.left + ASIDE, y, anchor: 'start' }, { text: name, x: right - ASIDE, y, anchor: 'end' }, ...along.map((x): PlotName => ({ text: name, x, y, anchor: 'start' }))]));
  return [...moments.map(ofMoment), ...levels.map(ofLevel)];
}
