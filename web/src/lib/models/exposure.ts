import { BANDS } from '$domain/boat/exposure-table.ts';
import { cumulativeExposure } from '$domain/boat/exposure.ts';
import { frac, maths, sum } from './maths.ts';
import { own } from './own/exposure.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const GUIDANCE = 'FDA hazards guidance, chapter 7, from memory';
const TABLE = 'table of cumulative exposure';
const START = Date.UTC(2026, 5, 1, 6);
const words = { 'met': 'met', 'not-met': 'not met', 'not-recorded': 'not recorded' } as const;
/** So many hours at one temperature, read every quarter of an hour, with cold on either side. */
const warm = (hours: number, celsius: number) => [{ at: new Date(START - 1), celsius: 2 }, ...Array.from({ length: hours * 4 + 1 }, (_, i) => ({ at: new Date(START + i * 900_000), celsius })), { at: new Date(START + hours * 3_600_000 + 1), celsius: 2 }];

function checks(): ModelCheck[] {
  const of = (hours: number, celsius: number, previouslyFrozen = false) => cumulativeExposure({ readings: warm(hours, celsius), previouslyFrozen });
  const state = (what: string, hours: number, celsius: number, published: string, frozen = false): ModelCheck => ({ what, source: GUIDANCE, published, found: words[of(hours, celsius, frozen).state], unit: '', within: 0 });
  const most = (organism: string, fromC: number, published: number): ModelCheck => ({ what: `${organism}, from ${fromC} °C`, source: TABLE, published, found: BANDS.find((band) => band.organism === organism && band.fromC === fromC)!.maxHours, unit: 'h', within: 0 });
  return [
    state('7 hours at 10 °C', 7, 10, 'met'), state('9 hours at 10 °C', 9, 10, 'not met'), state('3 hours at 25 °C', 3, 25, 'met'), state('5 hours at 25 °C', 5, 25, 'not met'),
    state('13 hours at 25 °C, frozen before', 13, 25, 'not met', true),
    { what: '5 hours at 10 °C: hours above 4.4 °C', source: 'arithmetic', published: 5, found: of(5, 10).hoursAbove4C4, unit: 'h', within: 0.001 },
    most('Listeria monocytogenes', 6, 24), most('Staphylococcus aureus', 21, 3), most('C. botulinum E and non-proteolytic B F', 11, 11),
  ];
}

export const page: ModelPage = {
  slug: 'exposure',
  purpose: 'Adds up from the logs how long the fish was warm on its whole way from landing on, and whether that was too long.',
  own,
  equations: [
    { maths: maths('H =', sum('i'), "h_i ≤ '4 h or 8 h'"), words: 'All hours above 4.4 °C together: at most four when any of it was above 21.1 °C, else eight; 12 and 24 for fish that was frozen before.' },
    { maths: maths('u =', sum('b'), frac('h_b', 'm_b'), '≤ 1'), words: 'For each germ: the hours in each band of temperature, each as a part of the most that is allowed there.' },
  ],
  symbols: [
    { sign: maths('H'), meaning: 'hours above 4.4 °C', unit: 'h' },
    { sign: maths('h_b'), meaning: 'hours in a band of temperature', unit: 'h' },
    { sign: maths('m_b'), meaning: 'most hours that are allowed in it', unit: 'h' },
    { sign: maths('u'), meaning: 'part that is used up' },
  ],
  figures: [
    { what: '4 and 8 hours, 12 and 24 when frozen before', source: 'FDA hazards guidance, chapter 7 (rule chill.exposure)', certainty: 'from memory' },
    { what: 'Hours by germ and band', source: 'Table of cumulative exposure', certainty: 'from memory' },
    { what: 'Adding the bands of a germ up', source: 'A choice of this service, stricter than the table', certainty: 'common practice' },
  ],
  range: { holds: 'The fish\'s own temperature, −30 to 100 °C, with readings at most half an hour apart.', outside: 'A longer gap counts as warm: it can fail the check or leave it open, never pass it.' },
  checks,
  limits: ['Air in a cold store is not the fish: put a probe into the fish.', 'Temperatures between two printed bands count in the warmer one.', 'It starts at landing. Before that the histamine check counts.'],
  never: 'Nothing later mends it: neither cold, nor salt, nor smoke.',
};
