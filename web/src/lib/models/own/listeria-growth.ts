import { listeriaGrowthAt } from '$domain/spoilage-rate.ts';
import { showNumber } from '../../show.ts';
import { number, part } from './part.ts';
import { axis, degreesFor } from './words.ts';

export const own = [
  part({
    title: 'How much faster does it grow there?',
    calculations: ['listeria-growth'],
    fields: { logPerDay: number('Growth that is known', 0.15, { unit: 'log a day', slide: [0, 1, 0.01], hint: 'Tenfold in so many parts of a day' }), atC: number('At', 5, { kind: 'temperature', slide: [0, 15, 0.5] }), toC: number('Kept at', 8, { kind: 'temperature', slide: [0, 15, 0.5] }) },
    reckon: (v, context) => {
      const g = listeriaGrowthAt(v);
      const { y, at } = degreesFor(context);
      return {
        rows: [{ label: 'So many times as fast', value: showNumber(g.timesAsFast, 2), exact: g.timesAsFast, working: g.working }, { label: 'Grows', value: `${showNumber(g.logPerDay, 3)} log a day`, exact: g.logPerDay, working: g.working }],
        plot: {
          says: `There it grows ${showNumber(g.timesAsFast, 2)} times as fast.`, x: axis('Kept at', y.unit ?? '', 0), y: { ...axis('Growth', 'log a day', 2), fromZero: true },
          series: [{ name: 'Listeria', tone: 'ember', predicted: true, points: Array.from({ length: 31 }, (_, i) => ({ x: at(i / 2), y: listeriaGrowthAt({ ...v, toC: i / 2 }).logPerDay })) }], moments: [{ at: at(v.toC), name: 'kept so' }],
        },
        cautions: [{ level: 'mind', text: 'For information: no date and no rule rests on it. It differs several times over between strains.' }],
      };
    },
  }),
];
