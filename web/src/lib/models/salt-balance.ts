import { saltAfterDrying, saltBeforeDrying } from '$domain/salt/drying.ts';
import { equilibriumSalt, saltForTarget, waterPhaseSalt } from '$domain/salt/water-phase.ts';
import { frac, maths } from './maths.ts';
import { own } from './own/salt-balance.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const DEFINITION = 'definition of water-phase salt, worked';

function checks(): ModelCheck[] {
  const phase = (moisturePercent: number) => waterPhaseSalt({ saltPercent: 2.5, moisturePercent }).waterPhaseSaltPercent;
  const { saltGrams } = saltForTarget({ targetPercent: 3.5, fishWaterGrams: 3500 });
  const dried = saltAfterDrying({ curedPercent: 3, curedWaterPercent: 70, keptPercent: 85 }).waterPhaseSaltPercent;
  return [
    { what: '2.5 % salt with 65 % moisture', source: DEFINITION, published: 3.7, found: phase(65), unit: '%', within: 0.005 },
    { what: '2.5 % salt with 68 % moisture', source: DEFINITION, published: 3.546, found: phase(68), unit: '%', within: 0.0005 },
    { what: '2.5 % salt with 72 % moisture', source: DEFINITION, published: 3.36, found: phase(72), unit: '%', within: 0.005 },
    { what: 'The salt for 3.5 %, put back into the balance', source: 'arithmetic', published: 3.5, found: equilibriumSalt({ saltGrams, brineWaterGrams: 0, fishWaterGrams: 3500 }).percent, unit: '%', within: 0.001 },
    { what: '3 % after the cure, dried to 85 %, read back', source: 'arithmetic', published: 3, found: saltBeforeDrying({ finishedPercent: dried, curedWaterPercent: 70, keptPercent: 85 }).waterPhaseSaltPercent, unit: '%', within: 0.002 },
  ];
}

export const page: ModelPage = {
  slug: 'salt-balance',
  purpose: 'Follows the salt and the water: how salty the water in the fish is, how much salt a target takes, and what drying makes of it.',
  own,
  equations: [
    { maths: maths('s =', frac('100 S', 'S + W')), words: 'Water-phase salt is the salt as a percentage of salt and water together; flesh and fat do not count.' },
    { maths: maths('S =', frac('t ( W + W_brine )', '100 − t')), words: 'The salt for a target is the target times all the water there is, over what is left to a hundred.' },
    { maths: maths('s_end =', frac('100 S', 'S + W + W_brine')), words: 'After days, salt, brine and fish are even.' },
    { maths: maths('s_dry =', frac('100 S', 'S + W − ( 100 − k )')), words: 'Drying and smoking take water and leave the salt. Here S and W are percent of the weight after the cure.' },
  ],
  symbols: [
    { sign: maths('s'), meaning: 'water-phase salt', unit: '%' },
    { sign: maths('S'), meaning: 'salt', unit: 'g, or % of the fish' },
    { sign: maths('W'), meaning: 'water in the fish', unit: 'g, or % of the fish' },
    { sign: maths('W_brine'), meaning: 'water in the brine; none in a dry cure', unit: 'g' },
    { sign: maths('t'), meaning: 'water-phase salt that is wanted', unit: '%' },
    { sign: maths('k'), meaning: 'weight kept in drying and smoking', unit: '%' },
  ],
  figures: [
    { what: 'What water-phase salt is', source: 'Rules salt.air and salt.rop (Michigan R 285.569; FDA hazards guidance, chapter 13)', certainty: 'published' },
    { what: 'Everything else', source: 'What goes in is what is there', certainty: 'arithmetic' },
    { what: 'Water in raw fish, by species', source: 'USDA SR27', certainty: 'published' },
  ],
  range: { holds: '0 to 26.395 % water-phase salt; for drying, 50 to 100 % of the weight kept.', outside: 'More salt than the water can hold is refused, and so is drying that would leave no water.' },
  checks,
  limits: [
    'It tells where the salt ends, not when. Thick pieces take days to get there: see how salt goes into the fish.',
    'Salt that runs off with the drawn brine of a dry cure is lost to the fish: it ends lower than reckoned.',
    'Water in one fish and the next differs by a few percent, more in fat fish.',
  ],
  never: 'A reckoned figure is no laboratory figure. A vacuum pack or tight jar asks for salt that was measured.',
};
