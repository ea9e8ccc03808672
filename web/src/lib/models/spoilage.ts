import { keepingTime, warmSpellCost } from '$domain/spoilage-rate.ts';
import { frac, group, integral, maths, power } from './maths.ts';
import { own } from './own/spoilage.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const FAO = 'FAO FTP 348';

function checks(): ModelCheck[] {
  const days = (temperatureC: number, published: number): ModelCheck => ({ what: `Ten days in ice are, at ${temperatureC} °C`, source: FAO, published, found: keepingTime({ icedLifeDays: 10, temperatureC }).days, unit: 'days', within: 0.05 });
  const used = (celsius: number, hours: number) => warmSpellCost({ usualC: 0, warmC: celsius, hours }).usedDays;
  return [
    days(5, 4.4), days(10, 2.5), days(15, 1.6),
    { what: '2 days at 0, 1 at 5 and half a day at 10 °C use up', source: `${FAO}, worked`, published: 6.25, found: used(0, 48) + used(5, 24) + used(10, 12), unit: 'days on ice', within: 0.005 },
    { what: '5 hours at 12 °C instead of 1 °C cost', source: 'computed', published: 0.756, found: warmSpellCost({ usualC: 1, warmC: 12, hours: 5 }).extraDays, unit: 'days', within: 0.001 },
  ];
}

export const page: ModelPage = {
  slug: 'spoilage',
  purpose: 'Tells how many days on ice a storage log has used up, and what one warm afternoon cost.',
  own,
  equations: [
    { maths: maths('r =', power(group('1 + 0.1 T'), '2')), words: 'How many times as fast as in ice fish spoils at T degrees.' },
    { maths: maths('u =', integral('0', 't'), power(group('1 + 0.1 T'), '2'), 'd t'), words: 'Days on ice used up: each hour of the log at its own pace.' },
    { maths: maths('n =', frac('n_ice', 'r')), words: 'How long it keeps at another temperature.' },
  ],
  symbols: [
    { sign: maths('r'), meaning: 'times as fast as in ice' },
    { sign: maths('T'), meaning: 'temperature of the fish; below 0 it counts as 0', unit: '°C' },
    { sign: maths('t'), meaning: 'time', unit: 'days' },
    { sign: maths('u'), meaning: 'days on ice used up', unit: 'days' },
    { sign: maths('n'), meaning: 'how long it keeps; in ice with its index', unit: 'days' },
  ],
  figures: [
    { what: 'The relation for iced fish of temperate waters', source: FAO, certainty: 'published' },
    { what: 'Frozen below −3 °C: the count stands still', source: 'Most of the water is ice by then', certainty: 'from memory' },
    { what: 'Readings two hours apart still join', source: 'How cold stores are logged', certainty: 'common practice' },
  ],
  range: { holds: '0 to 15 °C, fish of temperate waters.', outside: 'Warmer counts as 15 °C and is said to be more. Gaps are flagged and left out, with what they may add.' },
  checks,
  limits: ['Species and handling differ: smell and look decide.', 'It was published for fish of temperate waters: others spoil at another pace.'],
  never: 'It is about quality. It moves no use-by day.',
};
