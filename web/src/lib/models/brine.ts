import { changeBrine } from '$domain/cure/brine-change.ts';
import { brineOf, brineStrength, saltForWater } from '$domain/cure/brine.ts';
import { frac, group, maths } from './maths.ts';
import { own } from './own/brine.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const SEAFISH = 'Seafish metric table';
const TABLE = 'brine table at 60 F, from memory, cross-checked';

function checks(): ModelCheck[] {
  const saturated = (value: number) => brineStrength({ given: 'degrees-saturated', value });
  const cups = (saltGrams: number) => brineOf({ saltGrams, waterGrams: 3781.8 });
  return [
    { what: 'Salt for 5 litres of water at 80 degrees', source: 'Seafish, worked example', published: 1338, found: saltForWater({ percentByWeight: 80 * 0.26395, waterAmount: 5, waterUnit: 'litre' }).saltGrams, unit: 'g', within: 1 },
    { what: '40 degrees: salt in a litre of water', source: SEAFISH, published: 117.98, found: saturated(40).saltGramsPerLitreWater, unit: 'g', within: 0.1 },
    { what: '40 degrees: salt in a litre of brine', source: SEAFISH, published: 113.5, found: saturated(40).saltGramsPerLitreBrine, unit: 'g', within: 0.3 },
    { what: '60 degrees: salt by weight', source: TABLE, published: 15.837, found: saturated(60).percentByWeight, unit: '%', within: 0.001 },
    { what: '60 degrees: salt in a US gallon of water', source: TABLE, published: 1.568, found: saturated(60).saltLbPerUsGallonWater, unit: 'lb', within: 0.002 },
    { what: '60 degrees: specific gravity', source: TABLE, published: 1.118, found: saturated(60).specificGravity, unit: '', within: 0.0008 },
    { what: '1 cup of table salt in a US gallon', source: 'computed', published: 7.17, found: cups(292).percentByWeight, unit: '%', within: 0.005 },
    { what: '2 cups of table salt in a US gallon, on the salometer', source: 'computed', published: 50.7, found: cups(584).degreesSaturated, unit: 'degrees', within: 0.05 },
    { what: '10 kg of 20 % brine made 15 %: water to add', source: 'arithmetic', published: 3333, found: changeBrine({ brineGrams: 10_000, fromPercent: 20, toPercent: 15 }).waterToAddGrams, unit: 'g', within: 1 },
  ];
}

export const page: ModelPage = {
  slug: 'brine',
  purpose: 'Tells how strong a brine is however it was measured, and how much salt to stir into the water for the strength you want.',
  own,
  equations: [
    { maths: maths('p = 0.26395 d'), words: 'Percent salt by weight is 0.26395 for each degree of a salometer that reads 100 in saturated brine.' },
    { maths: maths('S = W', frac('p', '100 − p')), words: 'The salt to stir in is the water times the percentage, over what is left to a hundred.' },
    { maths: [maths('G = 1 + 0.71009 x + 0.23368 x^2'), maths('x = p / 100')], words: 'The specific gravity grows a little faster than the salt.' },
    { maths: maths('A = B', group(frac('p', 'q'), '− 1')), words: 'To weaken a brine from p to q, add its weight times p over q, less one, of water.' },
  ],
  symbols: [
    { sign: maths('p'), meaning: 'salt in the brine, by weight', unit: '%' },
    { sign: maths('d'), meaning: 'salometer reading, scale to 100 in saturated brine', unit: 'degrees' },
    { sign: maths('S'), meaning: 'salt', unit: 'g' },
    { sign: maths('W'), meaning: 'water', unit: 'g' },
    { sign: maths('G'), meaning: 'specific gravity at 15.6 °C (60 °F)' },
    { sign: maths('x'), meaning: 'salt as a share of one' },
    { sign: maths('A'), meaning: 'water to add', unit: 'g' },
    { sign: maths('B'), meaning: 'brine there is', unit: 'g' },
    { sign: maths('q'), meaning: 'salt wanted after that', unit: '%' },
  ],
  figures: [
    { what: 'Salt to a litre of water and in a litre of brine, by salometer degree', source: 'Seafish metric brine table', certainty: 'published' },
    { what: 'Pounds to the US gallon, specific gravity, freezing point by degree', source: 'Brine table at 60 F, cross-checked against Seafish', certainty: 'from memory' },
    { what: 'A litre of water as 1 kg, a US gallon as 3,781.8 g', source: 'What the two published tables come out with', certainty: 'arithmetic' },
  ],
  range: { holds: '0 to 26.395 % salt by weight, where brine is saturated, at about 15.6 °C (60 °F).', outside: 'A stronger brine is refused: the water cannot hold that salt. A salometer reading above 100 is refused.' },
  checks,
  limits: [
    'A salometer floats right at 15.6 °C only. In cold brine it reads high, in warm brine low.',
    'Some salometers for canning read 100 at 25 %. The scale has to be named, and both are shown.',
    'Sugar makes a brine heavier too: a salometer in a sweet brine reads too strong.',
    'Above 88.3 degrees the cold limit is where salt falls out of the brine, not where it freezes.',
  ],
  never: 'How strong the brine is says nothing yet of how salty the fish is: that takes time, and a laboratory to be sure.',
};
