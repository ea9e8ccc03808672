import { CHILLING_POINTS, chillingHours } from '$domain/boat/chilling.ts';
import { frac, maths } from './maths.ts';
import { own } from './own/chilling.ts';
import type { ModelCheck, ModelPage } from './types.ts';

function checks(): ModelCheck[] {
  const hours = (thicknessMm: number, published: number, source = 'FAO TP 331'): ModelCheck => ({ what: `A layer of ${thicknessMm} mm`, source, published, found: chillingHours({ thicknessMm }).hours, unit: 'h', within: 0.001 });
  return [hours(75, 2), hours(100, 4), hours(125, 6.5), hours(87.5, 3, 'halfway between the first two'), { what: 'Published points that it rests on', source: 'FAO TP 331', published: 3, found: CHILLING_POINTS.length, unit: '', within: 0 }];
}

export const page: ModelPage = {
  slug: 'chilling',
  purpose: 'Tells how many hours a layer of fish takes in ice from 10 to 2 °C.',
  own,
  equations: [{ maths: maths('t = t_1 +', frac('d − d_1', 'd_2 − d_1'), '( t_2 − t_1 )'), words: 'A straight line between the two published thicknesses beside it.' }],
  symbols: [
    { sign: maths('t'), meaning: 'time in ice', unit: 'h' },
    { sign: maths('d'), meaning: 'thickness of the layer of fish between ice', unit: 'mm' },
  ],
  figures: [{ what: '75 mm 2 h, 100 mm 4 h, 125 mm 6.5 h', source: 'FAO TP 331', certainty: 'published' }],
  range: { holds: '75 to 125 mm, 10 to 2 °C, in plenty of melting ice.', outside: 'Thinner and thicker layers are refused: thinner chills faster and thicker slower, by how much is not published.' },
  checks,
  limits: ['About a quarter either way. Ice with hollows chills slower; stirred slurry faster.', 'Fish that comes up warmer than 10 °C takes longer.'],
  never: 'The core of the largest fish at landing is what the rule asks for.',
};
