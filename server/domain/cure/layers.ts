import { within } from '../bounds.ts';
import { largestRemainder } from '../share.ts';
import { DomainError } from '../working.ts';
import type { Grams, Working } from '../working.ts';

export type CureLayer = {
  /** 0 is the bed under the fish; then each layer of fish from the bottom. */
  layer: number;
  what: string;
  fishGrams: Grams;
  cureGrams: Grams;
  /** What should be left in the bowl afterwards. */
  leftGrams: Grams;
};

/** The bed under the fish, and the extra on top, each count as so much of an even layer. Common practice. */
const BED = 0.5;
const TOP = 0.5;
const MOST_LAYERS = 60;

/**
 * A dry cure portioned out: a bed, a share on each layer by its fish, more on the last, so
 * that it does not run short halfway. The portions sum to the cure exactly. Range: 1 to 60
 * layers of 1 g to 1 t, from the bottom. Throws DomainError outside. Source: largest
 * remainder; bed and cover are common practice (rule cure.parts).
 */
export function layerPortions(input: { cureGrams: Grams; layersFishGrams: readonly Grams[] }): { layers: CureLayer[]; working: Working } {
  const cureGrams = within(input.cureGrams, { field: 'cureGrams', label: 'cure', min: 1, max: 1e6, unit: 'g' });
  if (!Number.isInteger(cureGrams)) throw new DomainError({ code: 'cure.whole-grams', field: 'cureGrams', label: 'cure', value: cureGrams, problem: 'is not whole grams', remedy: 'round it' });
  const fish = input.layersFishGrams;
  within(fish.length, { field: 'layersFishGrams', label: 'number of layers', min: 1, max: MOST_LAYERS });
  fish.forEach((grams, index) => within(grams, { field: `layersFishGrams.${index}`, label: 'fish in a layer', min: 1, max: 1e6, unit: 'g' }));
  const mean = fish.reduce((sum, grams) => sum + grams, 0) / fish.length;
  const weights = [BED * mean, ...fish.map((grams, index) => grams + (index === fish.length - 1 ? TOP * mean : 0))];
  let leftGrams = cureGrams;
  const layers = largestRemainder(cureGrams, weights).map((portion, layer) => {
    leftGrams -= portion;
    return { layer, what: wordsFor(layer, fish.length), fishGrams: layer === 0 ? 0 : fish[layer - 1]!, cureGrams: portion, leftGrams };
  });
  return {
    layers,
    working: {
      inputs: [{ name: 'cure', value: cureGrams, unit: 'g' }, { name: 'layers', value: fish.length }],
      model: 'sharing', formula: 'bed half an even layer; each layer by its fish; the top half an even layer more; whole grams by largest remainder', source: 'rule cure.parts: pieces fully covered, thickest at the bottom',
      uncertainty: 'weigh each portion: a handful is no measure', certainty: 'common practice',
    },
  };
}

function wordsFor(layer: number, count: number): string {
  if (layer === 0) return 'Bed under the fish';
  return layer === count ? 'Over the top layer, all that is left' : `Over layer ${layer}`;
}

/** So much fish in a number of layers of about the same weight, for layerPortions. */
export function evenLayers(fishGrams: Grams, layers: number): Grams[] {
  const count = Math.floor(within(layers, { field: 'layers', min: 1, max: MOST_LAYERS }));
  return largestRemainder(fishGrams, new Array<number>(count).fill(1));
}
