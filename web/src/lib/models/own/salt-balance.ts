import { saltAfterDrying, saltBeforeDrying } from '$domain/salt/drying.ts';
import { equilibriumSalt, saltForTarget, waterPhaseSalt } from '$domain/salt/water-phase.ts';
import { waterActivity } from '$domain/salt/water-activity.ts';
import { showWeight } from '../../show.ts';
import { number, part, type OwnCaution } from './part.ts';
import { percent } from './words.ts';

const PREDICTED: OwnCaution = { level: 'mind', text: 'Reckoned, not measured: only a laboratory’s figure counts for a pack without air or for more than 7 days.' };
const water = (start: number) => number('Water after the cure', start, { unit: '%', slide: [40, 85, 0.5], hint: 'Of the cured fish. Mackerel about 62, cod about 80' });
const kept = number('Weight kept in drying and smoking', 85, { unit: '%', slide: [50, 100, 1], hint: 'Finished weight for 100 of the weight after the cure' });

export const own = [
  part({
    title: 'Water-phase salt from salt and moisture',
    calculations: ['water-phase-salt'],
    fields: { saltPercent: number('Salt in the fish', 2.5, { unit: '%', slide: [0, 10, 0.1] }), moisturePercent: number('Moisture in the fish', 65, { unit: '%', slide: [30, 85, 0.5], hint: 'Both as the laboratory wrote them' }) },
    reckon: (v) => {
      const w = waterPhaseSalt(v);
      const a = waterActivity({ waterPhaseSaltPercent: w.waterPhaseSaltPercent });
      return { rows: [{ label: 'Water-phase salt', value: percent(w.waterPhaseSaltPercent), exact: w.waterPhaseSaltPercent, working: w.working }, { label: 'Water activity, salt alone', value: a.waterActivity.toFixed(3), exact: a.waterActivity, working: a.working }] };
    },
  }),
  part({
    title: 'Salt after drying and smoking',
    calculations: ['salt-after-drying'],
    fields: { curedPercent: number('Salt after the cure', 3, { unit: '%', slide: [0, 12, 0.1], hint: 'In the water of the fish' }), curedWaterPercent: water(65), keptPercent: kept },
    reckon: (v) => {
      const d = saltAfterDrying(v);
      return { rows: [{ label: 'Salt in the finished fish', value: percent(d.waterPhaseSaltPercent), exact: d.waterPhaseSaltPercent, working: d.working }, { label: 'Water in it', value: percent(d.waterPercentAfter, 1), exact: d.waterPercentAfter, working: d.working }], cautions: [PREDICTED] };
    },
  }),
  part({
    title: 'Salt to cure to, for a finished salt',
    calculations: ['salt-before-drying'],
    fields: { finishedPercent: number('Salt wanted when finished', 3.5, { unit: '%', slide: [0, 12, 0.1] }), curedWaterPercent: water(65), keptPercent: kept },
    reckon: (v) => {
      const d = saltBeforeDrying(v);
      return { rows: [{ label: 'Cure to', value: percent(d.waterPhaseSaltPercent), exact: d.waterPhaseSaltPercent, working: d.working }], cautions: [PREDICTED] };
    },
  }),
  part({
    title: 'Dry salt for a target',
    calculations: ['salt-for-target'],
    fields: { targetPercent: number('Salt to aim for', 3.5, { unit: '%', slide: [0, 12, 0.1] }), fishWaterGrams: number('Water in the fish', 3250, { kind: 'weight', hint: 'Weight of the fish times its part of water: 5 kg at 65 % is 3.25 kg' }) },
    reckon: (v) => {
      const s = saltForTarget(v);
      return { rows: [{ label: 'Salt, if all of it stays in', value: showWeight(s.saltGrams), exact: s.saltGrams, working: s.working }], cautions: [{ level: 'mind', text: 'What runs off takes salt along: the fish ends lower. The cure planner counts with time too.' }] };
    },
  }),
  part({
    title: 'Where a brine and its fish even out',
    calculations: ['salt-equilibrium'],
    fields: { saltGrams: number('Salt', 300, { kind: 'weight', small: true }), brineWaterGrams: number('Water in the brine', 5000, { kind: 'weight' }), fishWaterGrams: number('Water in the fish', 3250, { kind: 'weight' }) },
    reckon: (v) => {
      const e = equilibriumSalt(v);
      return { rows: [{ label: 'Both end at', value: percent(e.percent), exact: e.percent, working: e.working }], cautions: [PREDICTED] };
    },
  }),
];
