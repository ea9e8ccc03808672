import { ALL, asked, DIP, final, firm, FISH, guidance, ifLogged, information, limit, SMOKED } from './row.ts';
import type { Rule } from './rule.ts';

/** Preparing, curing, drying, smoking and cooling. */
export const PROCESS_RULES: readonly Rule[] = [
  {
    id: 'raw.cold', title: 'Raw fish waits in the cold', group: 'cure', appliesTo: FISH, evidence: 'Readings of the place where the fish waits', evidenceAt: 'readings', evidencePlace: 'storage', source: 'NY262.3', certainty: 'published',
    limits: [limit('raw.cold.celsius', 'place where raw fish waits', 3.3, 'C', 'at-most', -2)], whatToDo: 'Find out how long it was warm. A captain may release it with a reason.', ...asked,
  },
  {
    id: 'thaw', title: 'Thawed in the cold', group: 'cure', appliesTo: { ...FISH, stages: ['prepare'] }, evidence: 'Readings of the fish, its place or the water while it thaws', evidenceAt: 'readings', evidenceStage: 'prepare', evidencePlace: 'storage', source: 'NY262; FC 3-501.13', certainty: 'published',
    limits: [limit('thaw.celsius', 'fish, and the place where it thaws', 7.2, 'C', 'at-most', 0), limit('thaw.water.celsius', 'running water that it thaws in', 21, 'C', 'at-most', 0)],
    words: 'Thaw at 3.3 C or below.', whatToDo: 'Thaw in the refrigerator next time. A captain may release it with a reason.', ...asked,
  },
  {
    id: 'brine.start', title: 'Cold brine', group: 'cure', appliesTo: { ...FISH, stages: ['cure'] }, evidence: 'A reading of the brine when the fish goes in', evidenceAt: 'readings', evidenceStage: 'cure', evidencePlace: 'brine', source: 'NY262.5, MI569.5', certainty: 'published',
    limits: [limit('brine.start.celsius', 'brine when the fish goes in', 15.6, 'C', 'at-most', 0)], whatToDo: 'Cool the brine first next time. A captain may release it with a reason.', ...asked,
  },
  {
    id: 'brine.cold', title: 'Cured in the cold', group: 'cure', appliesTo: { ...FISH, stages: ['cure'] }, evidence: 'How warm the place was where a cure of more than 4 hours stands: readings, or the warmest that was read', evidenceAt: 'stage', evidenceStage: 'cure', evidencePlace: 'storage', source: 'NY262.5, MI569.5', certainty: 'published',
    limits: [limit('brine.cold.celsius', 'place of a cure of more than 4 h', 3.3, 'C', 'at-most', 0), limit('brine.cold.hours', 'cure that needs no cold place', 4, 'hours', 'at-most', 0)], whatToDo: 'Cure in the refrigerator next time. A captain may release it with a reason.', ...asked, ifNotRecorded: 'hold',
  },
  guidance('brine.reuse', 'Used brine', 'cure', SMOKED, 'Throw used brine away. Alaska: change it after three batches, and after 4 hours unless it is filtered.', 'AK34.310', 'published'),
  {
    id: 'brine.no-mix', title: 'One species in a vessel', group: 'cure', appliesTo: { ...SMOKED, stages: ['cure'] }, evidence: 'The species of the batch; which vessel each was in is not recorded', evidenceAt: 'contents', limits: [], source: 'NY262.5', certainty: 'published',
    words: 'One species in a brine vessel; pieces do not touch in the smoker.', whatToDo: 'Give each species its own vessel.', ...information,
  },
  {
    id: 'nitrite', title: 'Nitrite, where it was measured', group: 'cure', appliesTo: ALL, evidence: 'Nitrite measured by a laboratory', evidenceAt: 'laboratory', source: 'HG ch. 13; 21 CFR 172.175, 172.177', certainty: 'from memory',
    limits: [limit('nitrite.ppm', 'nitrite in any part', 200, 'ppm', 'at-most', 100)], words: 'Only where it is permitted, and only for the few species that it is permitted in. No dose is reckoned here.', whatToDo: 'Hold it. It holds more nitrite than is permitted in any fish.', kind: 'check', ifNotMet: 'hold', ifNotRecorded: 'nothing', releasable: false,
  },
  {
    id: 'dry.pellicle', title: 'Dried until tacky', group: 'cure', appliesTo: { ...SMOKED, stages: ['dry'] }, evidence: 'How long it dried', evidenceAt: 'stage', evidenceStage: 'dry', limits: [], source: 'Extension bulletins', certainty: 'common practice',
    words: 'About an hour in cool moving air, until the surface is tacky.', whatToDo: 'Touch it: a wet surface takes smoke badly.', ...information,
  },
  {
    id: 'smoke.core', title: 'Hot enough for long enough', group: 'smoke', appliesTo: { ...SMOKED, stages: ['smoke'] }, evidence: 'Core readings, or the highest core and the minutes held', evidenceAt: 'stage', evidenceStage: 'smoke', evidencePlace: 'core', source: 'MI569.7; HG ch. 13; AFDO', certainty: 'published',
    limits: [limit('smoke.core.celsius', 'core of the thickest part of the largest piece', 62.8, 'C', 'at-least', 95), limit('smoke.core.minutes', 'unbroken minutes at that core', 30, 'minutes', 'at-least', 600)],
    whatToDo: 'Hold it. It was not hot enough for long enough to count as hot-smoked.', ...firm,
  },
  {
    id: 'smoke.lethality', title: 'Reckoned effect of the heat', group: 'smoke', appliesTo: { ...SMOKED, stages: ['smoke'] }, evidence: 'Core readings', evidenceAt: 'readings', evidenceStage: 'smoke', evidencePlace: 'core', source: 'HG appendix 4 table A-3, memory', certainty: 'from memory',
    limits: [limit('smoke.lethality.minutes', 'minutes at 70 C that the heat is worth; 2 are six tenfold reductions', 2, 'minutes', 'at-least', 60)],
    whatToDo: 'For information: the rule of 62.8 C for 30 minutes decides.', ...information,
  },
  {
    id: 'smoke.core-home', title: 'Hotter, as home advice asks', group: 'smoke', appliesTo: { ...SMOKED, stages: ['smoke'] }, evidence: 'Core readings; readings of the smoker’s air', evidenceAt: 'readings', evidenceStage: 'smoke', evidencePlace: 'core', source: 'OSU and WSU extension', certainty: 'published',
    limits: [
      limit('smoke.core-home.celsius', 'core, as home advice asks', 65.6, 'C', 'at-least', 95), limit('smoke.core-home.minutes', 'unbroken minutes so hot, as home advice asks', 30, 'minutes', 'at-least', 600),
      limit('smoke.core-home.air-from.celsius', 'smoker air at the end, its low side', 93, 'C', 'at-least', 100), limit('smoke.core-home.air-to.celsius', 'smoker air at the end, its high side', 107, 'C', 'at-most', 100),
    ],
    words: 'Better 71.1 C. It never decides: a club that wants the hotter core of every batch tightens “Hot enough for long enough”.', whatToDo: 'For information: 62.8 C for 30 minutes decides.', ...information,
  },
  guidance('smoke.first-half', 'Smoke early', 'smoke', SMOKED, 'Smoke goes on in the first half of the process.', 'NY262.5', 'published'),
  {
    id: 'smoke.cold', title: 'Not smoked cold', group: 'smoke', appliesTo: { ...SMOKED, stages: ['smoke'] }, evidence: 'Readings of the smoker’s air to the end of the smoke', evidenceAt: 'readings', evidenceStage: 'smoke', evidencePlace: 'chamber', source: 'HG ch. 13', certainty: 'published',
    limits: [limit('smoke.cold.celsius', 'smoker air at its hottest', 32.2, 'C', 'above', 80)], words: 'Fish whose smoker was never hotter is cold-smoked: kept as a record, not offered for sharing.', whatToDo: 'Hold it. Its smoker was never hot: cold-smoked fish is not shared.', kind: 'check', ifNotMet: 'hold', ifNotRecorded: 'nothing', releasable: false,
  },
  guidance('smoke.not-botulinum', 'Smoking leaves botulinum', 'smoke', SMOKED, 'Hot smoking does not kill its spores, which takes 90 C for 10 minutes: salt and cold hold them back.', 'HG table A-4, memory; UK FSA', 'from memory'),
  guidance('smoke.stall', 'The core stands still', 'smoke', SMOKED, 'A core that stops rising between 45 and 65 C is usually cooled by drying, and no fault. Smoke on.', 'psychrometrics', 'arithmetic'),
  {
    id: 'lot.code', title: 'One smoker load', group: 'smoke', appliesTo: SMOKED, evidence: 'The weight that went into the smoker', evidenceAt: 'stage', evidenceStage: 'smoke', limits: [], source: 'MI569.7', certainty: 'published',
    whatToDo: 'Move what was not smoked into a batch of its own, or correct the weight that went in.', ...firm,
  },
  {
    id: 'lot.no-mix', title: 'One smoke day under one lot', group: 'smoke', appliesTo: SMOKED, evidence: 'The smoke day of every lot in it', evidenceAt: 'contents', limits: [], source: 'WI ATCP 70.46', certainty: 'published',
    whatToDo: 'Undo the draw of one of them: two smoke days are never packed under one label.', ...firm,
  },
  {
    id: 'cool.fc', title: 'Cooled fast enough', group: 'cool', appliesTo: { ...SMOKED, stages: ['smoke', 'cool'] }, evidence: 'Core readings, or when it was back at 21 C and at 5 C', evidenceAt: 'stage', evidenceStage: 'cool', evidencePlace: 'core', source: 'FC 3-501.14', certainty: 'published',
    limits: [limit('cool.fc.first-minutes', 'from 57 C to 21 C', 120, 'minutes', 'at-most', 15), limit('cool.fc.total-minutes', 'from 57 C to 5 C in all', 360, 'minutes', 'at-most', 30),
      limit('cool.fc.first.celsius', 'core once the time from 57 C is over', 21, 'C', 'at-most', 5), limit('cool.fc.end.celsius', 'core once both times are over', 5, 'C', 'at-most', 0)],
    words: 'Typed times are for 21 C and 5 C: a club that asks for colder fish needs core readings.',
    whatToDo: 'Do not share it. It stayed warm for too long, and cooling it again does not mend that.', ...final,
  },
  {
    id: 'cool.hg', title: 'Cooled from 60 C, and to 4.4 C', group: 'cool', appliesTo: { ...SMOKED, stages: ['smoke', 'cool'] }, evidence: 'Core readings from 60 C down to 4.4 C', evidenceAt: 'readings', evidenceStage: 'cool', evidencePlace: 'core', source: 'HG, memory', certainty: 'from memory',
    limits: [limit('cool.hg.first-minutes', 'from 60 C to 21 C', 120, 'minutes', 'at-most', 15), limit('cool.hg.second-minutes', 'from 21 C to 4.4 C', 240, 'minutes', 'at-most', 15),
      limit('cool.hg.first.celsius', 'core once the time from 60 C is over', 21, 'C', 'at-most', 5), limit('cool.hg.end.celsius', 'core once the second time, from 21 C, is over', 4.4, 'C', 'at-most', 0)],
    words: '“Cooled fast enough” decides. This one, of another agency, begins hotter and ends colder: it counts only where it was recorded as too slow.',
    whatToDo: 'Do not share it. It stayed warm for too long, and cooling it again does not mend that.', ...ifLogged,
  },
  {
    id: 'cool.ambient', title: 'A dip is cold again soon', group: 'cool', appliesTo: { ...DIP, stages: ['mix'] }, evidence: 'When it was at 5 C, or its readings from mixing on', evidenceAt: 'stage', evidenceStage: 'mix', evidencePlace: 'core', source: 'FC 3-501.14(B)', certainty: 'published',
    limits: [limit('cool.ambient.minutes', 'from the start of mixing to 5 C', 240, 'minutes', 'at-most', 15), limit('cool.ambient.celsius', 'the dip after that time', 5, 'C', 'at-most', 0)],
    words: 'Counted as made from ingredients at room temperature: nobody records that they were cold. Typed times are for 5 C: a club that asks for a colder dip needs its readings.', whatToDo: 'Do not share it. It stayed warm for too long, and cooling it again does not mend that.', ...final,
  },
];
