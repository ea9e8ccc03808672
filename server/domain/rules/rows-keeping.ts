import { ALL, asked, DIP, final, firm, guidance, information, limit, NO_AIR, RAW, SMOKED } from './row.ts';
import type { Rule } from './rule.ts';

/** How it is kept and packed, and its days. */
export const KEEPING_RULES: readonly Rule[] = [
  {
    id: 'hold.cold', title: 'Kept cold', group: 'keep', appliesTo: { products: ['hot-smoked', 'dip'] }, evidence: 'Readings of the place where it is kept, and of the fish once it was cold', evidenceAt: 'readings', evidencePlace: 'storage', source: 'NY262.3; MI569; WI ATCP 70', certainty: 'published',
    limits: [limit('hold.cold.celsius', 'place where it is kept', 3.3, 'C', 'at-most', -2)], whatToDo: 'Find out how long it was warm. A captain may release it with a reason: never packs without air that are not frozen, nor what was above 5 C for long.', ...asked,
  },
  {
    id: 'salt.air', title: 'Salt for more than 7 days', group: 'keep', appliesTo: { ...SMOKED, packages: ['tub', 'bag'] }, evidence: 'Water-phase salt of the loin, measured by a laboratory', evidenceAt: 'laboratory', source: 'MI569.8', certainty: 'published',
    limits: [limit('salt.air.percent', 'water-phase salt in the loin', 3.0, 'percent', 'at-least', 20)], whatToDo: 'Its use-by stays at 7 days.', ...information,
  },
  {
    id: 'salt.rop', title: 'Salt in a pack without air', group: 'keep', appliesTo: { ...SMOKED, packages: NO_AIR }, evidence: 'Water-phase salt of the loin, measured by a laboratory; a predicted figure never counts', evidenceAt: 'laboratory', source: 'HG ch. 13; Maine 01-001 ch. 359; FDA letter 2002', certainty: 'published',
    limits: [limit('salt.rop.percent', 'water-phase salt in the loin', 3.5, 'percent', 'at-least', 20), limit('salt.rop.with-nitrite-percent', 'the same with 100 to 200 ppm nitrite', 3.0, 'percent', 'at-least', 20)],
    whatToDo: 'Do not share what was kept in these packs unfrozen.', ...final,
  },
  {
    id: 'rop.freeze', title: 'A pack without air is frozen at once', group: 'keep', appliesTo: { ...ALL, packages: NO_AIR }, evidence: 'How each pack is kept', evidenceAt: 'packs', limits: [], source: 'FC 3-502.12(C), 3-501.13(E)', certainty: 'published',
    whatToDo: 'Freeze such packs at once, or pack it with air.', ...final,
  },
  {
    id: 'parasite', title: 'Frozen long enough against parasites', group: 'keep', appliesTo: RAW, evidence: 'Core readings in the freezer', evidenceAt: 'readings', evidencePlace: 'core', source: 'FC 3-402.11; EU 853/2004', certainty: 'published',
    limits: [
      limit('parasite.celsius', 'core while frozen', -20, 'C', 'at-most', -40), limit('parasite.hours', 'unbroken hours at that core', 168, 'hours', 'at-least', 2000),
      limit('parasite.deep.celsius', 'or core frozen solid', -35, 'C', 'at-most', -40), limit('parasite.deep.hours', 'and unbroken hours at that', 15, 'hours', 'at-least', 2000),
      limit('parasite.then.hours', 'or, once so cold, unbroken hours at the first temperature', 24, 'hours', 'at-least', 2000),
    ],
    whatToDo: 'Raw fish stays on hold until its core was logged at -20 C for 168 hours, or at -35 C for 15, or at -35 C and then at -20 C for 24.', ...firm,
  },
  guidance('record.keep', 'Keep the records', 'keep', ALL, 'One year for refrigerated fish, two for frozen: nothing here is ever deleted.', '21 CFR 123.9', 'published'),
  {
    id: 'date.dip', title: 'The day of mixing', group: 'dates', appliesTo: DIP, evidence: 'The mixing stage', evidenceAt: 'stage', evidenceStage: 'mix', source: 'FDA/USDA storage chart for tuna salad: 3 to 4 days', certainty: 'published',
    limits: [limit('date.dip.days', 'days of a dip, the day of mixing included', 3, 'days', 'at-most', 1)], whatToDo: 'Record the mixing stage to its end.', ...firm,
  },
  {
    id: 'date.mixed', title: 'No ingredient past its last day', group: 'dates', appliesTo: DIP, evidence: 'The last day of every lot in it, and the earliest of the other ingredients', evidenceAt: 'contents', limits: [], source: 'FC 3-501.17(C)', certainty: 'published',
    whatToDo: 'Do not share it. Fish past its last day went in.', ...final,
  },
  {
    id: 'date.seven', title: 'Days in the refrigerator', group: 'dates', appliesTo: SMOKED, evidence: 'The smoke day', evidenceAt: 'stage', evidenceStage: 'smoke', source: 'FC 3-501.17', certainty: 'published',
    limits: [limit('date.seven.days', 'days refrigerated, the smoke day included', 7, 'days', 'at-most', 1)], whatToDo: '', ...information,
  },
  {
    id: 'date.fourteen', title: 'Up to 14 days in the cold', group: 'dates', appliesTo: { ...SMOKED, packages: ['tub', 'bag'] }, evidence: 'Its refrigerator logged at 2.2 C or less over 24 hours that ended a day ago at the most, with the core, cooling and salt checks met', evidenceAt: 'readings', evidencePlace: 'storage', source: 'MSU 1997; Missouri; OSU', certainty: 'published',
    limits: [limit('date.fourteen.days', 'days refrigerated, the smoke day included', 14, 'days', 'at-most', 7), limit('date.fourteen.celsius', 'place where it is kept', 2.2, 'C', 'at-most', -2)], whatToDo: 'Its use-by stays at 7 days.', ...information,
  },
  guidance('date.vacuum-home', 'Vacuum packs at home', 'dates', SMOKED, 'Some agencies allow home vacuum packs 5 days at 3.3 C, then frozen. Here they are frozen at once.', 'Alaska leaflet', 'published'),
  {
    id: 'date.frozen-quality', title: 'Months in the freezer', group: 'dates', appliesTo: SMOKED, evidence: 'The day it was frozen', evidenceAt: 'packs', source: 'MSU 1997; Missouri', certainty: 'published',
    limits: [limit('date.frozen.months', 'months frozen at its best', 2, 'months', 'at-most', 1)], whatToDo: '', ...information,
  },
  {
    id: 'date.raw', title: 'Days of raw fish', group: 'dates', appliesTo: RAW, evidence: 'The day it was caught', evidenceAt: 'landing', source: 'FDA chart, memory', certainty: 'from memory',
    limits: [
      limit('date.raw.days', 'days refrigerated after the day of the catch', 1, 'days', 'at-most', 0), limit('date.raw.lean-months', 'months frozen, lean', 6, 'months', 'at-most', 1),
      limit('date.raw.fatty-months', 'months frozen, not lean', 2, 'months', 'at-most', 1),
    ], whatToDo: '', ...information,
  },
];
