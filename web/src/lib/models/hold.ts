import { longestHold } from '$domain/heat/hold.ts';
import { frac, maths } from './maths.ts';
import { own } from './own/hold.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const START = Date.UTC(2026, 5, 1, 10);
const log = (...points: (readonly [minute: number, celsius: number])[]) => points.map(([minute, celsius]) => ({ at: new Date(START + minute * 60_000), celsius }));
const words = { 'met': 'met', 'not-met': 'not met', 'not-recorded': 'not recorded' } as const;

function checks(): ModelCheck[] {
  const rule = 'rule smoke.core (Michigan R 285.569; FDA hazards guidance, chapter 13)';
  const hold = (readings: ReturnType<typeof log>) => longestHold({ readings });
  const crossing = hold(log([0, 61.8], [10, 63.8], [20, 63.8], [30, 63.8], [40, 63.8], [50, 61.8]));
  return [
    { what: '62.8 °C for exactly 30 minutes', source: rule, published: 'met', found: words[hold(log([0, 62.8], [10, 62.8], [20, 62.8], [30, 62.8])).state], unit: '', within: 0 },
    { what: 'A second less', source: rule, published: 'not met', found: words[hold(log([0, 62.8], [10, 63], [20, 63], [30 - 1 / 60, 63])).state], unit: '', within: 0 },
    { what: '62.7 °C for an hour', source: rule, published: 'not met', found: words[hold(log([0, 62.7], [10, 62.7], [20, 62.7], [30, 62.7], [40, 62.7], [50, 62.7], [60, 62.7])).state], unit: '', within: 0 },
    { what: '20 minutes, a gap of 11, 19 minutes', source: rule, published: 'not met', found: words[hold(log([0, 64], [10, 64], [20, 64], [31, 64], [40, 64], [50, 64])).state], unit: '', within: 0 },
    { what: 'Rising through the limit halfway between two readings, and falling so', source: 'arithmetic', published: 40, found: crossing.longestMinutes, unit: 'min', within: 0.001 },
  ];
}

export const page: ModelPage = {
  slug: 'hold',
  purpose: 'Finds in the log of the core how long it stayed at 62.8 °C (145 °F) or more without a break: 30 minutes make hot-smoked fish.',
  own,
  equations: [
    { maths: maths('t_c = t_1 +', frac('T_lim − T_1', 'T_2 − T_1'), '( t_2 − t_1 )'), words: 'Where the core passes the limit is found on a straight line between the two readings beside it.' },
    { maths: maths('H = max ( t_out − t_in )'), words: 'The hold is the longest stretch above the limit. Stretches are not added up.' },
  ],
  symbols: [
    { sign: maths('t_c'), meaning: 'time the core passes the limit', unit: 'min' },
    { sign: maths('t_1 , t_2'), meaning: 'times of the two readings', unit: 'min' },
    { sign: maths('T_1 , T_2'), meaning: 'the core in them', unit: '°C' },
    { sign: maths('T_lim'), meaning: 'limit, 62.8 or what the club made of it', unit: '°C' },
    { sign: maths('H'), meaning: 'longest hold', unit: 'min' },
  ],
  figures: [
    { what: '62.8 °C for 30 unbroken minutes in the thickest part of the largest piece in the coldest place', source: 'Michigan R 285.569; FDA hazards guidance, chapter 13; AFDO', certainty: 'published' },
    { what: 'Readings more than 10 minutes apart do not join', source: 'A choice of this service, stricter than a log by the half hour', certainty: 'common practice' },
  ],
  range: { holds: 'Cores of −30 to 100 °C; a limit of 62.8 to 95 °C and 30 to 600 minutes.', outside: 'A club may ask for more, never for less. Readings that no fish has, such as −999, are left out and flagged.' },
  checks,
  limits: ['A probe may be half a degree off. Check it in ice water and in boiling water.', 'A gap counts as a break, even if the core was hot on both sides of it.', 'Readings that look like Fahrenheit are not judged until somebody says what they are.', 'It knows the piece that was probed, not the others.'],
  never: 'Hot smoking does not kill the spores of botulinum: salt, cold and air in the pack hold those.',
};
