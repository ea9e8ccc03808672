import { estimateGrams } from '$domain/length-weight.ts';
import type { LengthKind } from '$domain/species/index.ts';
import { maths, power } from './maths.ts';
import { own } from './own/length-weight.ts';
import type { ModelCheck, ModelPage } from './types.ts';

function checks(): ModelCheck[] {
  const fish = (what: string, species: string, cm: number, kind: LengthKind, published: number, source: string): ModelCheck => ({ what, source: `${source}, by hand`, published, found: estimateGrams(species, [cm], kind).grams, unit: 'g', within: 1 });
  return [
    fish('Bluefish, 50 cm to the fork', 'bluefish', 50, 'fork', Math.round(1000 * Math.exp(-11.5089) * 50 ** 3.0682), 'NOAA NEFSC, ln a −11.5089, b 3.0682'),
    fish('Atlantic mackerel, 35 cm to the fork', 'atlantic-mackerel', 35, 'fork', Math.round(1000 * Math.exp(-12.6726) * 35 ** 3.3186), 'NOAA NEFSC, ln a −12.6726, b 3.3186'),
    fish('Mahi-mahi, 80 cm to the fork', 'mahi-mahi', 80, 'fork', Math.round(0.0217 * 80 ** 2.786), 'Arabian Sea study, a 0.0217, b 2.786'),
    fish('Rainbow trout, 40 cm in all', 'rainbow-trout', 40, 'total', Math.round(10 ** (-5.023 + 3.024 * Math.log10(400))), 'standard weight, a −5.023, b 3.024'),
  ];
}

export const page: ModelPage = {
  slug: 'length-weight',
  purpose: 'Estimates what a fish weighs from its length, for a boat without a scale.',
  own,
  equations: [
    { maths: maths('W = a', power('L', 'b')), words: 'A fish that is longer is wider and deeper too: its weight goes with about the cube of its length.' },
    { maths: maths('ln W = ln a + b ln L'), words: 'The same as some sources print it.' },
  ],
  symbols: [
    { sign: maths('W'), meaning: 'weight of the whole fish', unit: 'kg or g, by source' },
    { sign: maths('L'), meaning: 'length, to the fork of the tail or in all, by source', unit: 'cm or mm' },
    { sign: maths('a , b'), meaning: 'constants of the species, b about 3' },
  ],
  figures: [
    { what: 'Curves of sea fish', source: 'NOAA NEFSC update of NMFS-NE-171', certainty: 'published' },
    { what: 'Mahi-mahi', source: 'Arabian Sea study', certainty: 'published' },
    { what: 'Freshwater fish: a fish in good condition, heavier than three in four', source: 'Standard-weight equations', certainty: 'published' },
    { what: 'The heaviest fish that is believed', source: 'A guard against slips', certainty: 'from memory' },
  ],
  range: { holds: 'Species that have a curve, the kind of length that it takes, weights from 5 g to the heaviest that is believed.', outside: 'No range of lengths is published with the curves. A length that gives no believable weight is refused, and so is the other kind of length.' },
  checks,
  limits: ['Fish of one length differ in weight; how much is not published with the curves.', 'Spawning and season change it.', 'The freshwater curves are high: most fish weigh less.'],
  never: 'A weight from lengths is marked as an estimate. The scale outweighs it.',
};
