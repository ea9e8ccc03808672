import { humidAir } from '$domain/heat/humid-air.ts';
import { DomainError } from '$domain/working.ts';
import { showNumber } from '../../show.ts';
import { number, part } from './part.ts';
import { axis, degreesFor, temperature } from './words.ts';

/** Air this moist at this heat is more steam than air: the curve ends there. */
function wetBulbOr(airC: number, relativeHumidityPct: number): number | null {
  try {
    return humidAir({ airC, relativeHumidityPct }).wetBulbC;
  } catch (cause) {
    if (cause instanceof DomainError) return null;
    throw cause;
  }
}

export const own = [
  part({
    title: 'How cool does a wet fish stay?',
    calculations: ['humid-air'],
    fields: { airC: number('Air in the smoker', 80, { kind: 'temperature', slide: [10, 120, 1] }), relativeHumidityPct: number('Its humidity', 20, { unit: '%', slide: [0, 100, 1] }) },
    reckon: (v, context) => {
      const h = humidAir(v);
      const { y, at } = degreesFor(context);
      const { working } = h;
      return {
        rows: [
          { label: 'Wet-bulb: the fish stalls near', value: temperature(h.wetBulbC), exact: h.wetBulbC, band: 'half a degree, more in still air', working },
          { label: 'Dew point', value: temperature(h.dewPointC), exact: h.dewPointC, working }, { label: 'Vapour', value: `${showNumber(h.vapourKPa, 2)} kPa`, exact: h.vapourKPa, working }, { label: 'Water in the air', value: `${showNumber(h.vapourDensityGPerM3, 0)} g/m³`, exact: h.vapourDensityGPerM3, working },
        ],
        plot: {
          says: `In air of ${temperature(v.airC)} a wet face settles at ${temperature(h.wetBulbC)}.`, x: axis('Humidity', '%', 0), y: { ...y, name: 'Wet-bulb' },
          series: [{ name: 'Wet-bulb', tone: 'ember', points: Array.from({ length: 21 }, (_, i) => wetBulbOr(v.airC, i * 5)).map((c, i) => ({ x: i * 5, y: c === null ? null : at(c) })) }], moments: [{ at: v.relativeHumidityPct, name: 'yours' }],
        },
        cautions: [{ level: 'mind', text: 'A core that stands still is not done.' }],
      };
    },
  }),
];
