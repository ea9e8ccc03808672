import { compositionOfSpecies, thermalProperties } from '$domain/heat/composition.ts';
import { frac, maths, row, sum } from './maths.ts';
import { own } from './own/fish-properties.ts';
import type { ModelCheck, ModelPage } from './types.ts';

function checks(): ModelCheck[] {
  const source = 'computed from Choi and Okos 1986';
  const of = (code: string, name: string, k: number, cp: number, rho: number): ModelCheck[] => {
    const found = thermalProperties({ ...compositionOfSpecies(code), temperatureC: 20 });
    return [
      { what: `${name} at 20 °C: conductivity`, source, published: k, found: found.conductivityWPerMK, unit: 'W/m K', within: 0.00005 },
      { what: `${name} at 20 °C: specific heat`, source, published: cp, found: found.specificHeatKjPerKgK, unit: 'kJ/kg K', within: 0.00005 },
      { what: `${name} at 20 °C: density`, source, published: rho, found: found.densityKgPerM3, unit: 'kg/m³', within: 0.05 },
    ];
  };
  return [...of('atlantic-cod', 'Cod', 0.5428, 3.7484, 1047.6), ...of('king-mackerel', 'King mackerel', 0.5268, 3.6562, 1054.7)];
}

export const page: ModelPage = {
  slug: 'fish-properties',
  purpose: 'Tells how the flesh of a species takes up, holds and passes on heat, from its water, protein, fat and ash.',
  own,
  equations: [
    { maths: maths('ρ =', frac('1', row(sum('i'), frac('x_i', 'ρ_i')))), words: 'Density: the parts lie beside each other, so their volumes add up.' },
    { maths: maths('c =', sum('i'), 'x_i c_i'), words: 'Specific heat: each part brings its own, by weight.' },
    { maths: maths('k =', sum('i'), frac('ρ x_i', 'ρ_i'), 'k_i'), words: 'Conductivity: each part counts by the volume it fills.' },
    { maths: maths('k_i , c_i , ρ_i = a + b T + g T^2'), words: 'Each part changes with temperature along its own published curve.' },
  ],
  symbols: [
    { sign: maths('ρ'), meaning: 'density', unit: 'kg/m³' },
    { sign: maths('c'), meaning: 'specific heat', unit: 'kJ/kg K' },
    { sign: maths('k'), meaning: 'conductivity', unit: 'W/m K' },
    { sign: maths('x_i'), meaning: 'share of water, protein, fat, carbohydrate or ash by weight' },
    { sign: maths('a , b , g'), meaning: 'published constants of each part and property' },
    { sign: maths('T'), meaning: 'temperature', unit: '°C' },
  ],
  figures: [
    { what: 'The curves of the five parts', source: 'Choi and Okos 1986', certainty: 'published' },
    { what: 'Composition of raw flesh by species', source: 'USDA SR27', certainty: 'published' },
    { what: 'About 5 % for conductivity and 2 % for the others', source: 'How far such estimates usually lie off', certainty: 'from memory' },
  ],
  range: { holds: 'Unfrozen flesh, −1 to 121 °C, parts that add up to 90 to 110 g in 100 g.', outside: 'Frozen fish and impossible compositions are refused. A species without a published composition is named as such.' },
  checks,
  limits: ['Fat of one species changes with season and cut. The table holds one figure.', 'Melting of fat and shrinking of protein are not in the curves.'],
  never: 'It is not the temperature of your fish: a probe in the thickest piece is.',
};
