import { CHILLING_POINTS, chillingHours } from '$domain/boat/chilling.ts';
import { mmToIn } from '$domain/units.ts';
import { showNumber, showRuleText, showThickness } from '../../show.ts';
import { number, part } from './part.ts';
import { axis } from './words.ts';

export const own = [
  part({
    title: 'How long does it take to chill?',
    calculations: ['chilling-time'],
    fields: { thicknessMm: number('Layer of fish', 100, { kind: 'thickness', slide: [75, 125, 1] }) },
    reckon: (v, { system }) => {
      const [unit, inUnit] = system === 'us' ? ['in', mmToIn] as const : ['mm', (mm: number) => mm] as const;
      const c = chillingHours(v);
      return {
        rows: [{ label: `From ${showRuleText('10 to 2 C')}`, value: `${showNumber(c.hours, 1)} h`, exact: c.hours, band: `${showNumber(c.hours * 0.75, 1)} to ${showNumber(c.hours * 1.25, 1)} h`, working: c.working }],
        plot: {
          says: `A layer of ${showThickness(v.thicknessMm)} takes ${showNumber(c.hours, 1)} h in ice.`, x: axis('Layer', unit, system === 'us' ? 1 : 0), y: { ...axis('Chilling', 'h'), fromZero: true },
          series: [{ name: 'Chilled', tone: 'tide', points: CHILLING_POINTS.map(([mm, y]) => ({ x: inUnit(mm), y, low: y * 0.75, high: y * 1.25 })) }], moments: [{ at: inUnit(v.thicknessMm), name: 'yours' }],
        },
      };
    },
  }),
];
