import { ALL, final, FISH, guidance, ifLogged, limit } from './row.ts';
import type { Rule } from './rule.ts';

/** From the sea to landing. */
export const BOAT_RULES: readonly Rule[] = [
  {
    id: 'species.sharing', title: 'A species that may be shared', group: 'start', appliesTo: ALL, evidence: 'The species of each landing', evidenceAt: 'landing', limits: [], source: 'tables/hazards.csv', certainty: 'published',
    whatToDo: 'Hold it; recall the lot if packs of it are out.', ...final,
  },
  {
    id: 'chill.hot', title: 'Chilled soon enough in warm air or water', group: 'boat', appliesTo: { ...FISH, hazard: 'scombrotoxin' }, evidence: 'When it was caught and iced, with the air and water temperature', evidenceAt: 'landing', source: 'HG ch. 7, memory; FAO 444', certainty: 'from memory',
    limits: [limit('chill.hot.hours', 'from death to ice above 28.3 C', 6, 'hours', 'at-most', 0.5), limit('chill.hot.celsius', 'air and water that the longer hours hold for', 28.3, 'C', 'at-most', 0)], words: 'Fewer hours that the club sets for mild air and water, or for gutted fish, hold here too.', whatToDo: 'Do not share it: histamine survives washing, freezing, smoking and cooking.', ...final,
  },
  {
    id: 'chill.mild', title: 'Chilled soon enough in mild air and water', group: 'boat', appliesTo: { ...FISH, hazard: 'scombrotoxin' }, evidence: 'When it was caught and iced, with the air and water temperature', evidenceAt: 'landing', source: 'HG ch. 7, memory', certainty: 'from memory',
    limits: [limit('chill.mild.hours', 'from death to ice at 28.3 C or less', 9, 'hours', 'at-most', 0.5)], words: 'Fewer hours that the club sets for gutted fish hold here too.', whatToDo: 'Do not share it: histamine survives washing, freezing, smoking and cooking.', ...final,
  },
  {
    id: 'chill.gutted', title: 'Gutted, and chilled soon enough', group: 'boat', appliesTo: { ...FISH, hazard: 'scombrotoxin' }, evidence: 'When it was caught, gutted and iced, and the club’s own source for the hours', evidenceAt: 'landing', source: 'HG ch. 7, memory', certainty: 'from memory',
    limits: [limit('chill.gutted.hours', 'from death to ice when gutted before', 12, 'hours', 'at-most', 0.5)], words: 'Not confirmed: the 9 hours of ungutted fish stay until a captain enters the club’s own source. Never in warm air or water.', whatToDo: 'Do not share it: histamine survives washing, freezing, smoking and cooking.', ...final,
  },
  guidance('chill.unknown', 'Nobody knows when it died', 'boat', { ...FISH, hazard: 'scombrotoxin' }, 'Enter the earliest that it can have died: when the lines went out, or when the trip began. Left empty it is on hold.', 'HG ch. 7, memory', 'from memory'),
  {
    id: 'chill.internal', title: 'Cold inside at landing', group: 'boat', appliesTo: { ...FISH, hazard: 'scombrotoxin' }, evidence: 'The core temperature at landing, and when that was', evidenceAt: 'landing', source: 'HG ch. 7, memory', certainty: 'from memory',
    limits: [
      limit('chill.internal.24h.celsius', 'inside at landing, 24 hours or more after death', 4.4, 'C', 'at-most', -2), limit('chill.internal.15h.celsius', 'inside at landing, 15 to 24 hours after death', 10, 'C', 'at-most', -2),
      limit('chill.internal.12h.celsius', 'inside at landing, 12 to 15 hours after death', 15.6, 'C', 'at-most', -2), limit('chill.internal.below.degrees', 'colder inside than air and water, landed under 12 hours after death', 3, 'degrees', 'at-least', 20),
    ],
    words: 'The longer it is dead, the colder: a limit that the club sets for fewer hours holds for more hours too. How much colder than air and water is clearly colder is common practice, with no source.',
    whatToDo: 'Do not share it: histamine survives washing, freezing, smoking and cooking.', ...ifLogged,
  },
  {
    id: 'chill.exposure', title: 'Hours in the warm before smoking', group: 'boat', appliesTo: { ...FISH, hazard: 'scombrotoxin' }, evidence: 'Readings of the fish from landing to the smoker', evidenceAt: 'readings', evidencePlace: 'core', source: 'HG ch. 7, memory', certainty: 'from memory',
    limits: [
      limit('chill.exposure.hours', 'above 4.4 C in all, never above 21.1 C', 8, 'hours', 'at-most', 0.5), limit('chill.exposure.warm-hours', 'above 4.4 C in all, some of it above 21.1 C', 4, 'hours', 'at-most', 0.5),
      limit('chill.exposure.frozen-hours', 'the same for fish that was frozen before, never above 21.1 C', 24, 'hours', 'at-most', 0.5), limit('chill.exposure.frozen-warm-hours', 'and some of it above 21.1 C', 12, 'hours', 'at-most', 0.5),
      limit('chill.exposure.cold.celsius', 'fish whose hours do not count', 4.4, 'C', 'at-most', 0), limit('chill.exposure.warm.celsius', 'fish that the longer hours hold for', 21.1, 'C', 'at-most', 5),
    ], words: 'Fewer hours that the club sets for what was never so warm, or for fish that was frozen before, hold for the rest too.', whatToDo: 'Do not share it: histamine survives washing, freezing, smoking and cooking.', ...ifLogged,
  },
  guidance('chill.no-rescue', 'Histamine stays', 'boat', { ...FISH, hazard: 'scombrotoxin' }, 'Washing, freezing, smoking and cooking leave histamine as it is: what was chilled too late is not made good later.', 'FDA, November 2024', 'published'),
];
