import { layerPortions } from '$domain/cure/layers.ts';
import { largestRemainder } from '$domain/share.ts';
import { frac, maths, row, sum } from './maths.ts';
import { own } from './own/sharing.ts';
import type { ModelCheck, ModelPage } from './types.ts';

/** People counted in the states of the first census. */
const CENSUS_1790 = [630560, 475327, 432879, 353523, 331589, 278514, 236841, 206236, 179570, 141822, 85533, 70835, 68705, 68446, 55540];

function checks(): ModelCheck[] {
  const shown = (parts: readonly number[]) => parts.join(', ');
  const layers = layerPortions({ cureGrams: 1001, layersFishGrams: [900, 1100, 1000] }).layers;
  return [
    { what: '120 seats by the census of 1790', source: 'United States census, method of Hamilton', published: '21, 16, 14, 12, 11, 9, 8, 7, 6, 5, 3, 2, 2, 2, 2', found: shown(largestRemainder(120, CENSUS_1790)), unit: '', within: 0 },
    { what: 'Ten by 6, 6 and 2', source: 'Alabama paradox, computed', published: '4, 4, 2', found: shown(largestRemainder(10, [6, 6, 2])), unit: '', within: 0 },
    { what: 'Eleven by 6, 6 and 2: the last gets less of more', source: 'Alabama paradox, computed', published: '5, 5, 1', found: shown(largestRemainder(11, [6, 6, 2])), unit: '', within: 0 },
    { what: '1,001 g of dry cure over three layers, all portions together', source: 'arithmetic', published: 1001, found: layers.reduce((total, layer) => total + layer.cureGrams, 0), unit: 'g', within: 0 },
  ];
}

export const page: ModelPage = {
  slug: 'sharing',
  purpose: 'Divides whole grams or packs by what each is due, so that nothing is left over and nothing is made up: shares, and dry cure by layers.',
  own,
  equations: [
    { maths: maths('d_i = N', frac('w_i', row(sum('j'), 'w_j'))), words: 'What each is due, by weight.' },
    { maths: maths('p_i = ⌊ d_i ⌋ + 0', "'or'", '1'), words: 'Each gets the whole part; what is left over goes one by one to the largest fractions, ties to who stands first.' },
  ],
  symbols: [
    { sign: maths('N'), meaning: 'what is divided, a whole number', unit: 'g or packs' },
    { sign: maths('w_i'), meaning: 'weight of each' },
    { sign: maths('d_i'), meaning: 'what each is due', unit: 'g or packs' },
    { sign: maths('p_i'), meaning: 'what each gets', unit: 'g or packs' },
  ],
  figures: [
    { what: 'The method of largest remainders', source: 'Hamilton', certainty: 'published' },
    { what: 'Half an even layer of cure as a bed, half a layer more on top', source: 'What people do', certainty: 'common practice' },
  ],
  range: { holds: 'Whole numbers, weights of zero or more read to six decimals, reckoned without rounding.', outside: 'Weights that are all zero are refused when there is something to divide.' },
  checks,
  limits: ['One gram more to divide can leave somebody with less: the example above shows it. The due of each is shown beside it.', 'It knows weights, not what people like.'],
  never: 'What is fair between people is agreed by the people.',
};
