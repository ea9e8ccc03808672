import { findSpecies } from './species/index.ts';
import type { LengthKind, LengthWeight, Species } from './species/index.ts';
import { DomainError } from './working.ts';
import type { Grams, Working } from './working.ts';

export type LengthEstimate = { grams: Grams; perFish: Grams[]; working: Working };

const LEAST_FISH_GRAMS = 5;
const MOST_FISH = 1000;

/**
 * Estimates the weight of whole fish from their lengths in centimetres. `grams` is the
 * sum of `perFish`. The tables give no range of lengths: a length is taken when the
 * weight it gives is from 5 g to the heaviest fish of the species (from memory).
 * Throws DomainError when the tables lack the species, on the other kind of length
 * (fork or total), and on a length that gives no believable weight.
 */
export function estimateGrams(speciesCode: string, lengthsCm: readonly number[], lengthKind: LengthKind): LengthEstimate {
  const { species, curve } = curveOf(speciesCode);
  if (lengthKind !== curve.lengthKind) {
    throw new DomainError({
      code: 'length.kind', field: 'lengthKind', label: 'length', value: lengthKind, shown: `(${lengthKind})`,
      problem: `does not fit ${species.name}, whose curve takes the ${curve.lengthKind} length`, remedy: `measure ${curve.lengthKind === 'fork' ? 'to the fork of the tail' : 'to the tip of the tail'}, or weigh the fish`,
    });
  }
  if (lengthsCm.length === 0 || lengthsCm.length > MOST_FISH) {
    throw new DomainError({ code: 'length.count', field: 'lengthsCm', label: 'number of lengths', value: lengthsCm.length, problem: `is not from 1 to ${MOST_FISH}`, remedy: 'enter one length for each fish' });
  }
  const perFish = lengthsCm.map((cm) => fishGrams(species, curve, cm));
  return {
    grams: perFish.reduce((a, b) => a + b, 0),
    perFish,
    working: {
      inputs: [{ name: 'lengths', value: lengthsCm.join(', '), unit: `cm ${curve.lengthKind}` }, { name: 'a', value: curve.a }, { name: 'b', value: curve.b }],
      model: 'length-weight', formula: `${FORMULAS[curve.form]}, L in ${curve.lengthUnit}, W in ${curve.weightUnit}`,
      source: curve.source,
      range: `No range of lengths is published with the curve; weights from ${LEAST_FISH_GRAMS} g to ${species.maxFishGrams / 1000} kg are taken (remembered figures).`,
      certainty: 'published',
    },
  };
}

/** Whether the tables can turn a length of the species into a weight, and which kind of length they take. */
export function lengthKindOf(speciesCode: string): LengthKind | null {
  return findSpecies(speciesCode)?.lengthWeight?.lengthKind ?? null;
}

const FORMULAS: Readonly<Record<LengthWeight['form'], string>> = { exp: 'W = exp(a) L^b', power: 'W = a L^b', log10: 'W = 10^(a + b log10 L)' };

function curveOf(speciesCode: string): { species: Species; curve: LengthWeight } {
  const species = findSpecies(speciesCode);
  if (species?.lengthWeight) return { species, curve: species.lengthWeight };
  throw new DomainError({
    code: 'length.no-curve', field: 'speciesCode', label: 'species', value: species?.name ?? speciesCode,
    problem: 'has no length and weight curve in the table', remedy: 'weigh the fish',
  });
}

function fishGrams(species: Species, curve: LengthWeight, cm: number): Grams {
  const grams = cm > 0 ? curveGrams(curve, cm) : Number.NaN;
  if (grams >= LEAST_FISH_GRAMS && grams <= species.maxFishGrams) return Math.round(grams);
  throw new DomainError({
    code: 'length.unbelievable', field: 'lengthsCm', label: 'length', value: cm, shown: `${cm} cm`,
    problem: Number.isFinite(grams) ? `would make a ${species.name} of ${Math.round(grams)} g` : 'is not above zero', remedy: 'check the length and its unit, or weigh the fish',
  });
}

function curveGrams({ form, a, b, lengthUnit, weightUnit }: LengthWeight, cm: number): number {
  const length = lengthUnit === 'mm' ? cm * 10 : cm;
  const weight = (form === 'exp' ? Math.exp(a) : form === 'log10' ? 10 ** a : a) * length ** b;
  return weightUnit === 'kg' ? weight * 1000 : weight;
}
