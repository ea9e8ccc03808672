import { iceToLoad } from '$domain/boat/ice.ts';
import { coolBrineWithIce } from '$domain/cure/brine-change.ts';
import { frac, maths } from './maths.ts';
import { own } from './own/ice.ts';
import type { ModelCheck, ModelPage } from './types.ts';

function checks(): ModelCheck[] {
  const from = (fishC: number, published: number): ModelCheck => ({
    what: `10 kg of fish from ${fishC} °C to 0`, source: 'FAO TP 331', published, found: iceToLoad({ catchG: 10_000, fishC, hours: 0, airC: 20 }).coolingG / 1000, unit: 'kg of ice', within: 0.06,
  });
  const water = coolBrineWithIce({ brineGrams: 10_000, percentByWeight: 0, fromC: 20, toC: 10 });
  return [
    from(30, 3.4), from(20, 2.3), from(10, 1.2),
    { what: '10 kg of water from 20 to 10 °C', source: 'heat balance, computed', published: 1.114, found: water.iceGrams / 1000, unit: 'kg of ice', within: 0.001 },
  ];
}

export const page: ModelPage = {
  slug: 'ice',
  purpose: 'Tells how much ice to load for a trip, and how much to put into a brine that is too warm.',
  own,
  equations: [
    { maths: maths('I =', frac('M c Δ T', '333.5'), '+', 'I_box', frac('T_air', 'T_then'), frac('t', '24')), words: 'The ice that the fish melts on its way down, and what the box melts by itself, by its own measured day.' },
    { maths: maths('I ≥ M'), words: 'And never less ice than fish.' },
    { maths: maths('I_brine =', frac('B c_b ( T_1 − T_2 )', '333.5 + 4.18 T_2')), words: 'Ice in a brine: it melts and then warms up to the brine\'s new temperature.' },
  ],
  symbols: [
    { sign: maths('I'), meaning: 'ice', unit: 'kg' },
    { sign: maths('M'), meaning: 'fish that is expected', unit: 'kg' },
    { sign: maths('c'), meaning: 'specific heat of fish, 3.84', unit: 'kJ/kg K' },
    { sign: maths('Δ T'), meaning: 'from the water\'s temperature down to the one wanted', unit: '°C' },
    { sign: maths('I_box'), meaning: 'what the box melted in a day in air of the index then', unit: 'kg' },
    { sign: maths('t'), meaning: 'hours until landing', unit: 'h' },
    { sign: maths('B'), meaning: 'brine', unit: 'kg' },
    { sign: maths('c_b'), meaning: 'specific heat of the brine, less with more salt', unit: 'kJ/kg K' },
    { sign: maths('T_1 , T_2'), meaning: 'brine before and after', unit: '°C' },
  ],
  figures: [
    { what: '333.5 kJ to melt a kilogram of ice; 3.4, 2.3 and 1.2 kg for 10 kg of fish', source: 'FAO TP 331 (rule ice.amount)', certainty: 'published' },
    { what: 'A kilogram of ice for each of fish, 75 mm under and over', source: 'FAO TP 331; University of Florida IFAS', certainty: 'published' },
    { what: 'Specific heat of fish, and of salt in a brine', source: 'Usual values', certainty: 'from memory' },
    { what: 'A tenth more ice for a brine', source: 'Vessel and air add heat', certainty: 'common practice' },
  ],
  range: { holds: 'Fish of 0 to 38 °C, air of 0 to 45 °C, up to 240 hours; brine of 0 to 60 °C down to where it freezes.', outside: 'Anything else is refused. A box that was never measured is said to be unknown, not guessed.' },
  checks,
  limits: ['A box that is opened often melts far more.', 'Wet ice that has begun to melt cools less than its weight says.'],
  never: 'Enough ice loaded is not fish chilled in time: the core at landing shows that.',
};
