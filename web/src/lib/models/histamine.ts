import { histamineLine, HOT_C } from '$domain/boat/histamine.ts';
import type { HistamineInput } from '$domain/boat/histamine.ts';
import { maths } from './maths.ts';
import { own } from './own/histamine.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const GUIDANCE = 'FDA hazards guidance, chapter 7, from memory';
const START = Date.UTC(2026, 5, 1, 6);
const at = (hours: number) => new Date(START + hours * 3_600_000);
const words = { 'met': 'met', 'not-met': 'not met', 'not-recorded': 'not recorded' } as const;

function checks(): ModelCheck[] {
  const line = (change: Partial<HistamineInput>) => histamineLine({ speciesCode: 'king-mackerel', deathAt: at(0), medium: 'ice', maxAirC: 22, maxWaterC: 20, landedAt: at(13), landingCoreC: 10, ...change });
  const iced = (what: string, hours: number, published: string, change: Partial<HistamineInput> = {}): ModelCheck => ({ what, source: GUIDANCE, published, found: words[line({ icedAt: at(hours), ...change }).checks[0]!.state], unit: '', within: 0 });
  const core = (what: string, hours: number, landingCoreC: number, published: string): ModelCheck => ({ what, source: GUIDANCE, published, found: words[line({ icedAt: at(1), landedAt: at(hours), landingCoreC }).checks[1]!.state], unit: '', within: 0 });
  return [
    iced('Air 30 °C, in ice after 6 hours', 6, 'met', { maxAirC: 30 }), iced('Air 30 °C, after 6 hours and 6 minutes', 6.1, 'not met', { maxAirC: 30 }),
    iced('Air 22 °C, in ice after 9 hours', 9, 'met'), iced('Air 22 °C, after 9 hours and 6 minutes', 9.1, 'not met'),
    iced('Nobody knows how warm it was, after 7 hours', 7, 'not met', { maxAirC: null }),
    iced('Gutted first, after 10 hours, no source of the club\'s own', 10, 'not met', { guttedAt: at(1) }),
    core('Core of 4.4 °C at landing after 24 hours', 24, 4.4, 'met'), core('Core of 10 °C after 15 hours', 15, 10, 'met'), core('Core of 10.1 °C after 15 hours', 15, 10.1, 'not met'), core('Core of 15.6 °C after 12 hours', 12, 15.6, 'met'),
    { what: 'Hot is above', source: `${GUIDANCE}; FAO 444 agrees`, published: 28.3, found: HOT_C, unit: '°C', within: 0.05 },
  ];
}

export const page: ModelPage = {
  slug: 'histamine',
  purpose: 'Checks whether mackerel, tuna and their like were iced soon enough after they died, and cold enough at landing, for histamine not to form.',
  own,
  equations: [
    { maths: maths("t_ice − t_death ≤ '6 h or 9 h'"), words: 'In ice or slurry at 4.4 °C or less within six hours when air or water was above 28.3 °C, else within nine.' },
    { maths: maths("T_core ≤ '4.4, 10 or 15.6 °C'"), words: 'At landing, by hours since death: from 24 hours, from 15, from 12. Before that clearly below air and water.' },
  ],
  symbols: [
    { sign: maths('t_death'), meaning: 'when it died, or the earliest it can have been', unit: 'h' },
    { sign: maths('t_ice'), meaning: 'when it lay in ice or slurry', unit: 'h' },
    { sign: maths('T_core'), meaning: 'core of the largest fish at landing', unit: '°C' },
  ],
  figures: [
    { what: '6 and 9 hours, 4.4 °C, the limits at landing', source: 'FDA hazards guidance, chapter 7', certainty: 'from memory' },
    { what: '28 °C as hot', source: 'FAO 444', certainty: 'published' },
    { what: 'That nothing repairs it later', source: 'FDA, November 2024', certainty: 'published' },
    { what: 'Clearly below: 3 °C', source: 'A choice of this service', certainty: 'common practice' },
  ],
  range: { holds: 'From catch to landing, for species that form histamine. For others it is shown as advice on quality.', outside: 'What is not known counts against it: unknown heat as hot, unknown death as the earliest possible.' },
  checks,
  limits: ['Twelve hours for gutted fish are not confirmed: nine stay unless the club enters its own source.', 'It is as good as the times that were entered.', 'What comes after landing is added up by the exposure model.'],
  never: 'It measures no histamine. A failed check cannot be made good: histamine survives washing, freezing, smoking and cooking.',
};
