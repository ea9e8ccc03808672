import { listeriaGrowthAt } from '$domain/spoilage-rate.ts';
import { frac, group, maths, power } from './maths.ts';
import { own } from './own/listeria-growth.ts';
import type { ModelCheck, ModelPage } from './types.ts';

function checks(): ModelCheck[] {
  const source = 'US risk assessment, appendix 8';
  const growth = (what: string, logPerDay: number, atC: number, published: number): ModelCheck => ({ what, source, published, found: listeriaGrowthAt({ logPerDay, atC, toC: 5 }).logPerDay, unit: 'log/day at 5 °C', within: 0.0001 });
  return [growth('Cold-smoked salmon, 0.075 log a day at 4 °C', 0.075, 4, 0.1068), growth('Cold-smoked salmon, 5.4 log in 21 days at 8 °C', 5.4 / 21, 8, 0.1165), growth('Hot-smoked trout, 0.5 log in 20 days at 4 °C', 0.5 / 20, 4, 0.0356)];
}

export const page: ModelPage = {
  slug: 'listeria-growth',
  purpose: 'Shows what a few degrees in the refrigerator do to the growth of Listeria, which grows in the cold.',
  own,
  equations: [{ maths: maths('g_2 = g_1', power(group(frac('T_2 + 1.18', 'T_1 + 1.18')), '2')), words: 'Growth goes with the square of the distance from −1.18 °C, where it stands still.' }],
  symbols: [
    { sign: maths('g_1 , g_2'), meaning: 'growth at the one and the other temperature; 1 is ten times as many', unit: 'log/day' },
    { sign: maths('T_1 , T_2'), meaning: 'the two temperatures', unit: '°C' },
  ],
  figures: [{ what: 'The relation, and growth seen in smoked fish', source: 'US risk assessment of Listeria, appendix 8', certainty: 'published' }],
  range: { holds: 'Refrigerators and cool rooms, 0 to 15 °C.', outside: 'Colder and warmer are refused.' },
  checks,
  limits: ['Strains and products differ several times over.', 'Salt, smoke and other bacteria slow it, by how much is not reckoned.'],
  never: 'It is for information only: no date and no rule rests on it.',
};
