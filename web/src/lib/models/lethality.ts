import { lethality, lethalRate } from '$domain/heat/lethality.ts';
import { frac, integral, maths, power } from './maths.ts';
import { own } from './own/lethality.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const START = Date.UTC(2026, 5, 1, 10);
const log = (count: number, minutes: number, celsius: (minute: number) => number) => Array.from({ length: count + 1 }, (_, i) => ({ at: new Date(START + (i * minutes * 60_000) / count), celsius: celsius((i * minutes) / count) }));
const LISTERIA = 'FDA hazards guidance, table A-3, from memory';
const BOTULINUM = 'FDA hazards guidance, table A-4, from memory';

function checks(): ModelCheck[] {
  const rate = (celsius: number, published: number): ModelCheck => ({ what: `Listeria: a minute at ${celsius} °C is worth at 70`, source: LISTERIA, published, found: lethalRate(celsius, 'listeria'), unit: 'min', within: 0.0006 });
  const ramp = (step: number) => lethality({ readings: log(20 / step, 20, (minute) => 50 + minute) });
  return [
    rate(63, 0.117), rate(66, 0.293), rate(70, 1), rate(74, 3.415),
    { what: 'Botulinum without proteolysis: a minute at 88 °C is worth at 90', source: BOTULINUM, published: 0.52, found: lethalRate(88, 'botulinum-fda'), unit: 'min', within: 0.01 },
    { what: 'The same at 95 °C', source: BOTULINUM, published: 3.16, found: lethalRate(95, 'botulinum-fda'), unit: 'min', within: 0.005 },
    { what: 'The same, six decimal reductions at 85 °C', source: 'UK FSA', published: 36, found: 10 / lethalRate(85, 'botulinum-uk'), unit: 'min', within: 0.5 },
    { what: '50 to 70 °C evenly in 20 minutes', source: 'exact integral', published: 3.2502, found: ramp(1).equivalentMinutes, unit: 'min', within: 0.0001 },
    { what: 'The same by trapezoid, every minute', source: 'computed', published: 3.2757, found: ramp(1).trapezoidMinutes, unit: 'min', within: 0.0001 },
    { what: 'The same by trapezoid, every 5 minutes: too coarse', source: 'computed', published: 3.8647, found: ramp(5).trapezoidMinutes, unit: 'min', within: 0.0001 },
    { what: '30 minutes at 145 °F (62.78 °C)', source: 'computed', published: 3.267, found: lethality({ readings: log(6, 30, () => (145 - 32) / 1.8) }).equivalentMinutes, unit: 'min', within: 0.001 },
  ];
}

export const page: ModelPage = {
  slug: 'lethality',
  purpose: 'Adds up what the whole heating did to Listeria, as if it had been so many minutes at 70 °C: two minutes make one in a million.',
  own,
  equations: [
    { maths: maths('F =', integral('0', 't'), power('10', frac('T − T_ref', 'z')), 'd t'), words: 'Every minute counts, ten times more for each z degrees hotter and ten times less for each z degrees colder.' },
    { maths: maths('n =', frac('6 F', 'F_6')), words: 'The decimal reductions: one of them leaves a tenth alive.' },
  ],
  symbols: [
    { sign: maths('F'), meaning: 'minutes at the reference that the heating is worth', unit: 'min' },
    { sign: maths('T'), meaning: 'core', unit: '°C' },
    { sign: maths('T_ref'), meaning: 'reference: 70 for Listeria, 90 for botulinum', unit: '°C' },
    { sign: maths('t'), meaning: 'time', unit: 'min' },
    { sign: maths('z'), meaning: 'degrees for a tenfold change: 7.5 for Listeria', unit: '°C' },
    { sign: maths('F_6'), meaning: 'minutes for six decimal reductions: 2 for Listeria, 10 for botulinum', unit: 'min' },
    { sign: maths('n'), meaning: 'decimal reductions' },
  ],
  figures: [
    { what: 'Listeria: 2 minutes at 70 °C, z 7.5', source: 'FDA hazards guidance, appendix 4, table A-3', certainty: 'from memory' },
    { what: 'Non-proteolytic botulinum: 10 minutes at 90 °C, z 7 below and 10 above', source: 'FDA hazards guidance, table A-4', certainty: 'from memory' },
    { what: 'The same with z 9 below', source: 'UK FSA', certainty: 'published' },
  ],
  range: { holds: 'Cores up to 100 °C, readings that join within 10 minutes, at any times.', outside: 'Stretches without readings count as nothing. A log whose unit is in doubt is not judged.' },
  checks,
  limits: ['A probe that reads half a degree high overstates it by about 17 %.', 'Between readings the core is taken to change evenly, and reckoned exactly along that line.', 'Salt, fat and drying make germs tougher: the table is for moist fish.'],
  never: 'It does not take the place of the hold at 62.8 °C: that one decides, and this is for information.',
};
