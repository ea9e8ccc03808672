import { CHILLING_POINTS, chillingHours } from '$domain/boat/chilling.ts';
import { showNumber } from '../../show.ts';
import { number, part } from './part.ts';
import { axis } from './words.ts';

export const own = [
  part({
    title: 'How long does it take to chill?',
    calculations: ['chilling-time'],
    fields: { thicknessMm: number('Layer of fish', 100, { unit: 'mm', slide: [75, 125, 1] }) },
    reckon: (v) => {
      const c = chillingHours(v);
      return {
        rows: [{ label: 'From 10 to 2 °C', value: `${showNumber(c.hours, 1)} h`, exact: c.hours, band: `${showNumber(c.hours * 0.75, 1)} to ${showNumber(c.hours * 1.25, 1)} h`, working: c.working }],
        plot: {
          says: `A layer of ${showNumber(v.thicknessMm)} mm takes ${showNumber(c.hours, 1)} h in ice.`, x: axis('Layer', 'mm', 0), y: { ...axis('Chilling', 'h'), fromZero: true },
          series: [{ name: 'Chilled', tone: 'tide', points: CHILLING_POINTS.map(([x, y]) => ({ x, y, low: y * 0.75, high: y * 1.25 })) }], moments: [{ at: v.thicknessMm, name: 'yours' }],
        },
      };
    },
  }),
];
