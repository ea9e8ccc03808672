import { vesselFit } from '$domain/cure/vessel.ts';
import { showNumber, showWeight } from '../../show.ts';
import { number, part } from './part.ts';

export const own = [
  part({
    title: 'Does it fit?',
    calculations: ['cure-vessel'],
    fields: {
      fishGrams: number('Fish', 10_500, { kind: 'weight' }), cureLitres: number('Brine or cure', 8, { unit: 'litres', slide: [0, 60, 0.5] }),
      vesselLitres: number('Tub', 20, { unit: 'litres', slide: [1, 120, 1] }), headspacePercent: number('Left free', 10, { unit: '%', slide: [0, 50, 1] }),
    },
    reckon: (v) => {
      const f = vesselFit(v);
      const { working } = f;
      const each = f.perVessel[0]!;
      return {
        says: f.fits ? 'It fits.' : `It takes ${f.vessels} such tubs.`,
        rows: [
          { label: 'Tubs', value: String(f.vessels), exact: f.vessels, working }, { label: 'Needed', value: `${showNumber(f.needLitres, 1)} litres`, exact: f.needLitres, working }, { label: 'One tub holds', value: `${showNumber(f.usableLitres, 1)} litres`, exact: f.usableLitres, working },
          ...(f.fits ? [] : [{ label: 'Into each', value: `${showWeight(each.fishGrams)} with ${showNumber(each.cureLitres, 1)} litres` }]),
        ],
        cautions: [{ level: 'mind', text: 'Pieces do not lie without gaps. Look that all of it is covered.' }],
      };
    },
  }),
];
