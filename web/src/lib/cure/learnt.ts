/** What the club's laboratory figures say, as the planner uses it. */
import type { SaltFigure, SaltFigures } from '$contract/cures.ts';
import type { Working } from '$contract/common.ts';
import { bandInWords, START_BAND } from '$domain/salt/diffusivity.ts';
import type { ClubByFat } from '$domain/salt/diffusivity.ts';
import { rounded } from '$domain/bounds.ts';
import { showCount, showFigure, showNumber } from '../show.ts';
import type { PlotSeries } from '../ui/plot.ts';

export type LearntClass = SaltFigures['classes'][number];

/** The club's own diffusivity of the fat classes that it has figures of. */
export function clubByFat(figures: SaltFigures | undefined): ClubByFat {
  return Object.fromEntries((figures?.classes ?? []).filter((one) => one.used).map(({ fat, m2PerSAt5C, bandFactor }) => [fat, { m2PerSAt5C, bandFactor }]));
}

/** The classes that a plan's fish is of. */
export const learntOf = (figures: SaltFigures | undefined, fats: readonly string[]): LearntClass[] => (figures?.classes ?? []).filter((one) => fats.includes(one.fat));

/** Predicted against measured: a dot for each figure, and the line on which both are the same. */
export function againstMeasured(figures: readonly SaltFigure[]): PlotSeries[] {
  const sorted = [...figures].sort((a, b) => a.curedPercent - b.curedPercent);
  const most = Math.max(...figures.flatMap((figure) => [figure.curedPercent, figure.highPercent, figure.startPercent])) * 1.05;
  const dots = (of: (figure: SaltFigure) => number): PlotSeries['points'] => sorted.flatMap((figure) => [{ x: figure.curedPercent, y: of(figure) }, { x: figure.curedPercent, y: null }]);
  return [
    { name: 'the same', tone: 'ink', predicted: true, points: [{ x: 0, y: 0 }, { x: most, y: most }] },
    { name: 'before', tone: 'kelp', points: dots((figure) => figure.startPercent) },
    { name: 'learnt', tone: 'tide', points: dots((figure) => figure.predictedPercent) },
  ];
}

/** What a band does to a time: "half to twice the time". */
export function bandOfTime(bandFactor: number): string {
  const digits = bandFactor < 1.1 ? 2 : 1;
  return rounded(bandFactor, 1) === 2 ? 'half to twice the time' : `${rounded(1 / bandFactor, digits)} to ${rounded(bandFactor, digits)} times the time`;
}

/** "3.2 × 10⁻¹⁰ m²/s" */
export const diffusivityWords = (m2PerS: number): string => `${showFigure(m2PerS)} m²/s`;

/** Against the published start: "1.5 times as fast". */
export function speedWords({ m2PerSAt5C, startM2PerSAt5C }: Pick<LearntClass, 'm2PerSAt5C' | 'startM2PerSAt5C'>): string {
  const times = m2PerSAt5C / startM2PerSAt5C;
  if (Math.abs(times - 1) < 0.05) return 'as fast';
  return times > 1 ? `${showNumber(times, 1)} times as fast` : `${showNumber(1 / times, 1)} times as slow`;
}

/** What a class's figures came to, as a sentence. */
export const heardWords = (one: LearntClass): string => !one.used ? `${showCount(one.figures.length, 'figure')} that cannot be used yet. Where dots lie on the broken line, the prediction was right.` : `${showCount(one.figures.length, 'figure')}: salt goes in ${speedWords(one)} as published; the band went from 2 to ${showNumber(one.bandFactor, 1)}. Where dots lie on the broken line, the prediction was right.`;

/** How a figure was predicted with a diffusivity: as learnt, or as published. */
const withD = ({ working }: SaltFigure, name: string, m2PerS: number, band: number): Working => ({
  inputs: [...working.inputs.filter((input) => !['measured', 'weight kept after the cure', 'water after the cure'].includes(input.name)), { name, value: m2PerS, unit: 'm2/s' }], model: 'salt-uptake', formula: 'mean salt after the time in the cure, with this diffusivity brought to the temperature of the place',
  source: 'Crank 1975; Newman 1931', uncertainty: `diffusivity ${bandInWords(band)}`, certainty: 'from memory',
});
export const predictedWorking = (one: LearntClass, figure: SaltFigure): Working => withD(figure, 'learnt at 5 C', one.m2PerSAt5C, one.bandFactor);
export const startWorking = (one: LearntClass, figure: SaltFigure): Working => withD(figure, 'published at 5 C', one.startM2PerSAt5C, START_BAND);

export const figureWords = ({ residual }: SaltFigure): string => `It lies far from the others, ${showNumber(Math.abs(residual), 1)} times its own spread: check thickness, skin and times.`;
