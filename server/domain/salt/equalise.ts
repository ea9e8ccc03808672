import { rounded, within } from '../bounds.ts';
import { diffusivity } from './diffusivity.ts';
import type { Working } from '../working.ts';
import { layerCentres, meanOf, moveOpen, moveSealed } from './slab-grid.ts';
import { checkCure, LONGEST_CURE_MINUTES, slabOf } from './uptake.ts';
import type { CureConditions, ProfilePoint, Slab } from './uptake.ts';
import type { Predicted } from './water-phase.ts';

export type Spread = Predicted & {
  meanPercent: number;
  centrePercent: number;
  surfacePercent: number;
  /** Mean with the diffusivity at the ends of its band. */
  meanLowPercent: number;
  meanHighPercent: number;
  profile: ProfilePoint[];
  working: Working;
};

/**
 * Salt evening out after rinsing, with nothing in or out. Range as saltUptake, rest up to
 * 14 days. Throws DomainError outside. Source: sealed slab, cosine series (Crank 1975).
 */
export function equaliseSalt(input: CureConditions & { minutes: number; restMinutes: number; restTemperatureC: number }): Spread {
  const rest = minutesIn(input.restMinutes, 'restMinutes', 'rest');
  return after(input, input.minutes, (layers, slab, factor) => moveSealed(layers, slab.fourier(spreadAt(input, input.restTemperatureC, factor), rest)), {
    inputs: [{ name: 'cure', value: input.minutes, unit: 'min' }, { name: 'rest', value: rest, unit: 'min' }, { name: 'rest at', value: input.restTemperatureC, unit: 'C' }],
    formula: 'sealed slab: mean + sum a_n cos(n pi x) exp(-n^2 pi^2 Fo), a_n from the profile at the end of the cure',
  });
}

/**
 * Salt left after lying in fresh water that is plentiful. Range as saltUptake, water up to
 * 14 days. Throws DomainError outside. Source: slab with its surface at no salt (Crank 1975).
 */
export function freshenSalt(input: CureConditions & { minutes: number; waterMinutes: number; waterTemperatureC: number }): Spread {
  const water = minutesIn(input.waterMinutes, 'waterMinutes', 'time in water');
  return after(input, input.minutes, (layers, slab, factor) => moveOpen(layers, 0, slab.fourier(spreadAt(input, input.waterTemperatureC, factor), water)), {
    inputs: [{ name: 'cure', value: input.minutes, unit: 'min' }, { name: 'water', value: water, unit: 'min' }, { name: 'water at', value: input.waterTemperatureC, unit: 'C' }],
    formula: 'slab with its surface at 0 %: sum b_n cos((2n+1) pi x/2) exp(-(2n+1)^2 pi^2 Fo/4), b_n from the profile at the end of the cure',
  });
}

type Band = 'middle' | 'low' | 'high';

function after(input: CureConditions, cureMinutes: number, move: (layers: number[], slab: Slab, band: Band) => number[], words: Pick<Working, 'inputs' | 'formula'>): Spread {
  checkCure(input);
  minutesIn(cureMinutes, 'minutes', 'time in the cure');
  const slab = slabOf(input);
  const at = (band: Band) => {
    const fo = slab.fourier(spreadAt(input, input.temperatureC, band), cureMinutes);
    return move(layerCentres().map((x) => slab.percentAt(fo, x)), slab, band);
  };
  const layers = at('middle');
  const means = [meanOf(at('low')), meanOf(at('high'))].sort((a, b) => a - b);
  return {
    measured: false, meanPercent: rounded(meanOf(layers), 3), centrePercent: rounded(layers[0]!, 3), surfacePercent: rounded(layers.at(-1)!, 3),
    meanLowPercent: rounded(means[0]!, 3), meanHighPercent: rounded(means[1]!, 3), profile: thinned(layers, slab.lengthMm),
    working: { ...words, model: 'salt-uptake', source: 'Crank 1975, slab by cosine series', range: '1 to 150 mm, -2 to 25 C, up to 14 days', uncertainty: 'diffusivity anywhere in its band: never a laboratory figure', certainty: 'from memory' },
  };
}

function spreadAt(input: CureConditions, temperatureC: number, band: Band): number {
  const spread = diffusivity({ ...input, temperatureC });
  return { middle: spread.m2PerS, low: spread.lowM2PerS, high: spread.highM2PerS }[band];
}

function minutesIn(minutes: number, field: string, label: string): number {
  return within(minutes, { field, label, min: 0, max: LONGEST_CURE_MINUTES, unit: 'minutes' });
}

/** Every fourth layer, from the open face inward, as a plot needs it. */
function thinned(layers: readonly number[], lengthMm: number): ProfilePoint[] {
  return layers
    .map((percent, index) => ({ depthMm: rounded(lengthMm * (1 - (index + 0.5) / layers.length), 2), percent: rounded(percent, 3) }))
    .filter((_, index) => index % 4 === 0 || index === layers.length - 1)
    .reverse();
}
