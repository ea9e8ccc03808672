import type { Rule, RuleLimit } from './rule.ts';

const SMOKED = { products: ['hot-smoked'] } as const;
const FISH = { products: ['hot-smoked', 'raw'] } as const;
const ALL = { products: ['hot-smoked', 'dip', 'raw'] } as const;
const NO_AIR = ['vacuum', 'jar'] as const;

const limit = (id: string, name: string, value: number, unit: RuleLimit['unit'], direction: RuleLimit['direction'], tightest: number): RuleLimit => ({ id, name, value, unit, direction, tightest });

/** Not releasable, and on hold when it is not met or not recorded: what most rules are. */
const firm = { ifNotMet: 'hold', ifNotRecorded: 'hold', releasable: false } as const;
/** Shown, and no part of the verdict. */
const information = { ifNotMet: 'nothing', ifNotRecorded: 'nothing', releasable: false } as const;
const final = { ifNotMet: 'do-not-share', ifNotRecorded: 'hold', releasable: false } as const;

/** The rules that a batch is held against, each with its numbers and its source; in the order in which they are shown. */
export const RULES: readonly Rule[] = [
  {
    id: 'species.sharing', title: 'A species that may be shared', group: 'start', appliesTo: ALL, evidence: 'The species of each landing', evidenceAt: 'landing', limits: [], source: 'tables/hazards.csv', certainty: 'published',
    whatToDo: 'Hold it; recall the lot if packs of it are out.', ...final,
  },
  {
    id: 'chill.hot', title: 'Chilled soon enough in warm air or water', group: 'boat', appliesTo: { ...FISH, hazard: 'scombrotoxin' }, evidence: 'When it was caught and iced, with the air and water temperature', evidenceAt: 'landing', source: 'HG ch. 7, memory; FAO 444', certainty: 'from memory',
    limits: [limit('chill.hot.hours', 'from death to ice above 28.3 C', 6, 'hours', 'at-most', 0.5)], whatToDo: 'Do not share it: histamine survives washing, freezing, smoking and cooking.', ...final,
  },
  {
    id: 'chill.mild', title: 'Chilled soon enough in mild air and water', group: 'boat', appliesTo: { ...FISH, hazard: 'scombrotoxin' }, evidence: 'When it was caught and iced, with the air and water temperature', evidenceAt: 'landing', source: 'HG ch. 7, memory', certainty: 'from memory',
    limits: [limit('chill.mild.hours', 'from death to ice at 28.3 C or less', 9, 'hours', 'at-most', 0.5)], whatToDo: 'Do not share it: histamine survives washing, freezing, smoking and cooking.', ...final,
  },
  {
    id: 'chill.internal', title: 'Cold inside at landing', group: 'boat', appliesTo: { ...FISH, hazard: 'scombrotoxin' }, evidence: 'The core temperature at landing', evidenceAt: 'landing', limits: [], source: 'HG ch. 7, memory', certainty: 'from memory',
    whatToDo: 'Do not share it: histamine survives washing, freezing, smoking and cooking.', ifNotMet: 'do-not-share', ifNotRecorded: 'nothing', releasable: false,
  },
  {
    id: 'brine.start', title: 'Cold brine', group: 'cure', appliesTo: { ...SMOKED, stages: ['cure'] }, evidence: 'A reading of the brine when the fish goes in', evidenceAt: 'readings', evidenceStage: 'cure', evidencePlace: 'brine', source: 'NY262.5, MI569.5', certainty: 'published',
    limits: [limit('brine.start.celsius', 'brine when the fish goes in', 15.6, 'C', 'at-most', 0)], whatToDo: 'Cool the brine first next time. A captain may release it with a reason.', ifNotMet: 'hold', ifNotRecorded: 'nothing', releasable: true,
  },
  {
    id: 'brine.cold', title: 'Cured in the cold', group: 'cure', appliesTo: { ...SMOKED, stages: ['cure'] }, evidence: 'Readings of the place where a cure of more than 4 hours stands', evidenceAt: 'readings', evidenceStage: 'cure', evidencePlace: 'storage', source: 'NY262.5, MI569.5', certainty: 'published',
    limits: [limit('brine.cold.celsius', 'place of a cure of more than 4 h', 3.3, 'C', 'at-most', 0)], whatToDo: 'Cure in the refrigerator next time. A captain may release it with a reason.', ifNotMet: 'hold', ifNotRecorded: 'nothing', releasable: true,
  },
  {
    id: 'smoke.core', title: 'Hot enough for long enough', group: 'smoke', appliesTo: { ...SMOKED, stages: ['smoke'] }, evidence: 'Core readings, or the highest core and the minutes held', evidenceAt: 'stage', evidenceStage: 'smoke', evidencePlace: 'core', source: 'MI569.7; HG ch. 13; AFDO', certainty: 'published',
    limits: [limit('smoke.core.celsius', 'core of the thickest part of the largest piece', 62.8, 'C', 'at-least', 95), limit('smoke.core.minutes', 'unbroken minutes at that core', 30, 'minutes', 'at-least', 600)],
    whatToDo: 'Hold it. It was not hot enough for long enough to count as hot-smoked.', ...firm,
  },
  {
    id: 'smoke.lethality', title: 'Reckoned effect of the heat', group: 'smoke', appliesTo: { ...SMOKED, stages: ['smoke'] }, evidence: 'Core readings', evidenceAt: 'readings', evidenceStage: 'smoke', evidencePlace: 'core', source: 'HG appendix 4 table A-3, memory', certainty: 'from memory', limits: [],
    whatToDo: 'For information: the rule of 62.8 C for 30 minutes decides.', ...information,
  },
  {
    id: 'cool.fc', title: 'Cooled fast enough', group: 'cool', appliesTo: { ...SMOKED, stages: ['smoke', 'cool'] }, evidence: 'Core readings, or when it was back at 21 C and at 5 C', evidenceAt: 'stage', evidenceStage: 'cool', evidencePlace: 'core', source: 'FC 3-501.14', certainty: 'published',
    limits: [limit('cool.fc.first-minutes', 'from 57 C to 21 C', 120, 'minutes', 'at-most', 15), limit('cool.fc.total-minutes', 'from 57 C to 5 C in all', 360, 'minutes', 'at-most', 30)],
    whatToDo: 'Do not share it. It stayed warm for too long, and cooling it again does not mend that.', ...final,
  },
  {
    id: 'cool.hg', title: 'Cooled to 4.4 C in the second step', group: 'cool', appliesTo: { ...SMOKED, stages: ['smoke', 'cool'] }, evidence: 'Core readings down to 4.4 C', evidenceAt: 'readings', evidenceStage: 'cool', evidencePlace: 'core', source: 'HG, memory', certainty: 'from memory',
    limits: [limit('cool.hg.second-minutes', 'from 21 C to 4.4 C', 240, 'minutes', 'at-most', 15)],
    whatToDo: 'Do not share it. It stayed warm for too long, and cooling it again does not mend that.', ifNotMet: 'do-not-share', ifNotRecorded: 'nothing', releasable: false,
  },
  {
    id: 'hold.cold', title: 'Kept cold', group: 'keep', appliesTo: ALL, evidence: 'Readings of the place where it is kept', evidenceAt: 'readings', evidencePlace: 'storage', source: 'NY262.3; MI569; WI ATCP 70', certainty: 'published',
    limits: [limit('hold.cold.celsius', 'place where it is kept', 3.3, 'C', 'at-most', -2)], whatToDo: 'Find out how long it was warm. A captain may release it with a reason.', ifNotMet: 'hold', ifNotRecorded: 'nothing', releasable: true,
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
    id: 'parasite', title: 'Frozen long enough against parasites', group: 'keep', appliesTo: { products: ['raw'] }, evidence: 'Core readings in the freezer', evidenceAt: 'readings', evidencePlace: 'core', source: 'FC 3-402.11; EU 853/2004', certainty: 'published',
    limits: [limit('parasite.celsius', 'core while frozen', -20, 'C', 'at-most', -40), limit('parasite.hours', 'unbroken hours at that core', 168, 'hours', 'at-least', 2000)],
    whatToDo: 'Raw fish stays on hold until its core was logged at -20 C for 168 hours.', ...firm,
  },
  {
    id: 'lot.code', title: 'One smoker load', group: 'smoke', appliesTo: SMOKED, evidence: 'The weight that went into the smoker', evidenceAt: 'stage', evidenceStage: 'smoke', limits: [], source: 'MI569.7', certainty: 'published',
    whatToDo: 'Move what was not smoked into a batch of its own, or correct the weight that went in.', ...firm,
  },
  {
    id: 'lot.no-mix', title: 'One smoke day under one lot', group: 'smoke', appliesTo: SMOKED, evidence: 'The smoke day of every lot in it', evidenceAt: 'contents', limits: [], source: 'WI ATCP 70.46', certainty: 'published',
    whatToDo: 'Undo the draw of one of them: two smoke days are never packed under one label.', ...firm,
  },
  {
    id: 'date.dip', title: 'The day of mixing', group: 'dates', appliesTo: { products: ['dip'] }, evidence: 'The mixing stage', evidenceAt: 'stage', evidenceStage: 'mix', source: 'FDA/USDA storage chart for tuna salad: 3 to 4 days', certainty: 'published',
    limits: [limit('date.dip.days', 'days of a dip, the day of mixing included', 3, 'days', 'at-most', 1)], whatToDo: 'Record the mixing stage to its end.', ...firm,
  },
  {
    id: 'date.mixed', title: 'No ingredient past its last day', group: 'dates', appliesTo: { products: ['dip'] }, evidence: 'The last day of every lot in it', evidenceAt: 'contents', limits: [], source: 'FC 3-501.17(C)', certainty: 'published',
    whatToDo: 'Do not share it. Fish past its last day went in.', ...final,
  },
  {
    id: 'date.seven', title: 'Days in the refrigerator', group: 'dates', appliesTo: SMOKED, evidence: 'The smoke day', evidenceAt: 'stage', evidenceStage: 'smoke', source: 'FC 3-501.17', certainty: 'published',
    limits: [limit('date.seven.days', 'days refrigerated, the smoke day included', 7, 'days', 'at-most', 1)], whatToDo: '', ...information,
  },
  {
    id: 'date.fourteen', title: 'Up to 14 days in the cold', group: 'dates', appliesTo: { ...SMOKED, packages: ['tub', 'bag'] }, evidence: 'Storage readings at 2.2 C or less, with the core, cooling and salt checks met', evidenceAt: 'readings', evidencePlace: 'storage', source: 'MSU 1997; Missouri; OSU', certainty: 'published',
    limits: [limit('date.fourteen.days', 'days refrigerated, the smoke day included', 14, 'days', 'at-most', 7), limit('date.fourteen.celsius', 'place where it is kept', 2.2, 'C', 'at-most', -2)], whatToDo: 'Its use-by stays at 7 days.', ...information,
  },
  {
    id: 'date.frozen-quality', title: 'Months in the freezer', group: 'dates', appliesTo: SMOKED, evidence: 'The day it was frozen', evidenceAt: 'packs', source: 'MSU 1997; Missouri', certainty: 'published',
    limits: [limit('date.frozen.months', 'months frozen at its best', 2, 'months', 'at-most', 1)], whatToDo: '', ...information,
  },
  {
    id: 'date.raw', title: 'Days of raw fish', group: 'dates', appliesTo: { products: ['raw'] }, evidence: 'The day it was caught', evidenceAt: 'landing', source: 'FDA chart, memory', certainty: 'from memory',
    limits: [
      limit('date.raw.days', 'days refrigerated after the day of the catch', 1, 'days', 'at-most', 0), limit('date.raw.lean-months', 'months frozen, lean', 6, 'months', 'at-most', 1),
      limit('date.raw.fatty-months', 'months frozen, not lean', 2, 'months', 'at-most', 1),
    ], whatToDo: '', ...information,
  },
];

const byId: ReadonlyMap<string, Rule> = new Map(RULES.map((rule) => [rule.id, rule]));
const limitsById: ReadonlyMap<string, RuleLimit> = new Map(RULES.flatMap((rule) => rule.limits.map((l) => [l.id, l] as const)));

/** The rule of that name. Throws RangeError when there is none: names stand in the code. */
export function ruleOf(id: string): Rule {
  const rule = byId.get(id);
  if (!rule) throw new RangeError(`No rule is called ${id}.`);
  return rule;
}
export const findRule = (id: string): Rule | undefined => byId.get(id);
export const findLimit = (id: string): RuleLimit | undefined => limitsById.get(id);
