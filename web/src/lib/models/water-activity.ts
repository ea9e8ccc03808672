import { waterActivity } from '$domain/salt/water-activity.ts';
import { exp, frac, maths, row, sqrt } from './maths.ts';
import { own } from './own/water-activity.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const PAIRS = 'Chirife and Resnik 1984, from memory';

function checks(): ModelCheck[] {
  const pair = (percent: number, published: number, what = `Salt water of ${percent} %`): ModelCheck => ({ what, source: PAIRS, published, found: waterActivity({ waterPhaseSaltPercent: percent }).waterActivity, unit: '', within: 0.002 });
  return [pair(3.5, 0.98), pair(7, 0.957), pair(10, 0.935), pair(20, 0.839), pair(26.42, 0.753, 'Saturated, 26.42 %')];
}

export const page: ModelPage = {
  slug: 'water-activity',
  purpose: 'Tells how much of the water in salted fish microbes can still use: 1 is fresh water, and the lower it is the less they grow.',
  own,
  equations: [
    { maths: maths('a = 1 − 0.0052471 s − 0.00012206 s^2'), words: 'Up to 12 % salt: water activity falls a little faster than the salt rises.' },
    { maths: maths('a =', exp('− 0.0360306 m φ')), words: 'Above 12 %, from the strength in moles and how far the salt departs from an ideal one.' },
    { maths: [maths('φ = 1 −', frac(row('0.3915', sqrt('m')), row('1 + 1.2', sqrt('m')))), maths('+ m ( 0.0765 + 0.2664', exp('− 2', sqrt('m')), ')'), maths('+ 0.00127 m^2')], words: 'How far it departs: the osmotic coefficient of salt water at 25 °C.' },
    { maths: maths('m =', frac('1000 s', '58.443 ( 100 − s )')), words: 'Moles of salt in a kilogram of water.' },
  ],
  symbols: [
    { sign: maths('a'), meaning: 'water activity, 0 to 1' },
    { sign: maths('s'), meaning: 'water-phase salt', unit: '%' },
    { sign: maths('m'), meaning: 'salt in the water', unit: 'mol/kg' },
    { sign: maths('φ'), meaning: 'osmotic coefficient' },
  ],
  figures: [
    { what: 'The curve up to 12 %', source: 'Resnik and Chirife 1988', certainty: 'published' },
    { what: 'Pitzer\'s equation at 25 °C above that', source: 'Standard constants for salt', certainty: 'from memory' },
  ],
  range: { holds: '0 to 26.42 % water-phase salt, where water is saturated at 25 °C.', outside: 'More is refused. The first curve is never used above 12 %: at saturation it would say 0.776 for a true 0.753.' },
  checks,
  limits: ['Salt alone. Sugar and drying lower it further, so it is on the careful side for a sweet cure.', 'Within 0.002 of published pairs.'],
  never: 'No rule of this service passes on a reckoned water activity.',
};
