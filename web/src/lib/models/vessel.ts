import { vesselFit } from '$domain/cure/vessel.ts';
import { compositionOfSpecies, thermalProperties } from '$domain/heat/composition.ts';
import { frac, maths } from './maths.ts';
import { own } from './own/vessel.ts';
import type { ModelCheck, ModelPage } from './types.ts';

function checks(): ModelCheck[] {
  const density = (species: string) => thermalProperties({ ...compositionOfSpecies(species), temperatureC: 20 }).densityKgPerM3 / 1000;
  const fit = vesselFit({ fishGrams: 10_500, cureLitres: 8, vesselLitres: 20, headspacePercent: 10 });
  return [
    { what: 'A litre of fish, beside cod from its composition', source: 'computed from Choi and Okos 1986', published: 1.0476, found: density('atlantic-cod'), unit: 'kg', within: 0.0001 },
    { what: 'A litre of fish, beside king mackerel from its composition', source: 'computed from Choi and Okos 1986', published: 1.0547, found: density('king-mackerel'), unit: 'kg', within: 0.0001 },
    { what: '10.5 kg of fish with 8 litres of brine take', source: 'arithmetic', published: 18, found: fit.needLitres, unit: 'litres', within: 0.01 },
    { what: 'A 20 litre tub with a tenth left free holds', source: 'arithmetic', published: 18, found: fit.usableLitres, unit: 'litres', within: 0.01 },
  ];
}

export const page: ModelPage = {
  slug: 'vessel',
  purpose: 'Tells whether the fish and its brine go into the tub you have, and how many such tubs it takes otherwise.',
  own,
  equations: [
    { maths: maths('V =', frac('M', '1.05'), '+ V_cure'), words: 'The space needed is the fish at 1.05 kg to the litre, and the brine or cure with it.' },
    { maths: maths('n =', frac('V', 'V_tub ( 1 − h )')), words: 'That over what a tub holds with its headspace left free, rounded up.' },
  ],
  symbols: [
    { sign: maths('V'), meaning: 'space needed', unit: 'litres' },
    { sign: maths('M'), meaning: 'fish', unit: 'kg' },
    { sign: maths('V_cure'), meaning: 'brine, or dry cure as it lies in a cup', unit: 'litres' },
    { sign: maths('V_tub'), meaning: 'what a tub holds to the brim', unit: 'litres' },
    { sign: maths('h'), meaning: 'part left free at the top' },
    { sign: maths('n'), meaning: 'tubs, rounded up' },
  ],
  figures: [
    { what: 'A litre of raw fish weighs 1.05 kg', source: 'Computed from composition: Choi and Okos 1986, USDA SR27', certainty: 'published' },
    { what: 'A tenth of the tub left free', source: 'So that it can be carried and stirred', certainty: 'common practice' },
  ],
  range: { holds: 'Up to 1 t of fish, tubs of 0.2 to 2,000 litres, headspace of 0 to 50 %.', outside: 'Larger amounts are refused.' },
  checks,
  limits: ['Pieces do not lie without gaps. Brine fills them; in a dry cure they stay empty and it stands higher.', 'Whole fish with heads, or fish on frames, needs more room.'],
  never: 'The rule that pieces are covered is judged by looking, not by litres.',
};
