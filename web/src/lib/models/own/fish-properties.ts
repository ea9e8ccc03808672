import { compositionOfSpecies, thermalProperties } from '$domain/heat/composition.ts';
import { showNumber } from '../../show.ts';
import { choice, number, part } from './part.ts';
import { withFlesh } from './words.ts';

const OTHER = 'other';
const isOther = (v: Record<string, unknown>) => v['speciesCode'] === OTHER;
const gram = (label: string, start: number) => number(label, start, { unit: 'g in 100 g', when: isOther });

export const own = [
  part({
    title: 'How does this flesh take heat?',
    calculations: ['thermal-properties'],
    fields: {
      speciesCode: choice<string>('Fish', { ...withFlesh(), [OTHER]: 'Another, from its composition' }, 'atlantic-mackerel'),
      waterPct: gram('Water', 72), proteinPct: gram('Protein', 20), fatPct: gram('Fat', 7), ashPct: gram('Ash', 1.3),
      temperatureC: number('At', 20, { kind: 'temperature', slide: [0, 100, 1] }),
    },
    fieldFor: (field) => (field === 'composition' ? 'waterPct' : field),
    reckon: ({ speciesCode, temperatureC, ...flesh }) => {
      const p = thermalProperties({ ...(speciesCode === OTHER ? flesh : compositionOfSpecies(speciesCode)), temperatureC });
      const { working } = p;
      return {
        rows: [
          { label: 'Conducts heat', value: `${showNumber(p.conductivityWPerMK, 3)} W/m K`, exact: p.conductivityWPerMK, band: 'about 5 %', working },
          { label: 'Holds heat', value: `${showNumber(p.specificHeatKjPerKgK, 2)} kJ/kg K`, exact: p.specificHeatKjPerKgK, band: 'about 2 %', working },
          { label: 'Density', value: `${showNumber(p.densityKgPerM3, 0)} kg/m³`, exact: p.densityKgPerM3, band: 'about 2 %', working },
        ],
      };
    },
  }),
];
