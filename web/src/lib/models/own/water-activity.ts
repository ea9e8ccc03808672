import { waterActivity } from '$domain/salt/water-activity.ts';
import { number, part } from './part.ts';
import { axis } from './words.ts';

const CURVE_TO = 26;

export const own = [
  part({
    title: 'Water activity of a salt',
    calculations: ['water-activity'],
    fields: { waterPhaseSaltPercent: number('Water-phase salt', 3.5, { unit: '%', slide: [0, 26, 0.1] }) },
    reckon: (v) => {
      const a = waterActivity(v);
      const points = Array.from({ length: CURVE_TO + 1 }, (_, s) => ({ x: s, y: waterActivity({ waterPhaseSaltPercent: s }).waterActivity }));
      return {
        rows: [{ label: 'Water activity, salt alone', value: a.waterActivity.toFixed(3), exact: a.waterActivity, band: 'within 0.002', working: a.working }],
        plot: {
          says: `At ${v.waterPhaseSaltPercent} % salt the water activity is ${a.waterActivity.toFixed(3)}.`, x: axis('Water-phase salt', '%', 0), y: axis('Water activity', '', 2),
          series: [{ name: 'Salt alone', tone: 'tide', points }], moments: [{ at: v.waterPhaseSaltPercent, name: `${v.waterPhaseSaltPercent} %` }],
        },
        cautions: [{ level: 'mind', text: 'Reckoned, not measured: sugar, smoke and drying lower it further, and only a laboratory’s figure is evidence.' }],
      };
    },
  }),
];
