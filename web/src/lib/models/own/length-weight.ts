import { estimateGrams } from '$domain/length-weight.ts';
import { findSpecies } from '$domain/species/index.ts';
import { cmToIn, inToCm } from '$domain/units.ts';
import { DomainError } from '$domain/working.ts';
import { showLength, showWeight } from '../../show.ts';
import { choice, lines, number, part } from './part.ts';
import { axis, rowsOf, speciesWith } from './words.ts';

const POINTS = 24;
const tail = { fork: 'to the fork of the tail', total: 'to the tip of the tail' } as const;

/** Null where no such fish is believed. */
function gramsOr(speciesCode: string, cm: number, kind: 'fork' | 'total'): number | null {
  try {
    return estimateGrams(speciesCode, [cm], kind).grams;
  } catch (cause) {
    if (cause instanceof DomainError) return null;
    throw cause;
  }
}

export const own = [
  part({
    title: 'What does a fish of this length weigh?',
    calculations: ['length-weight'],
    fields: {
      speciesCode: choice('Fish', speciesWith((s) => s.lengthWeight !== undefined), 'atlantic-mackerel'), lengthCm: number('Length', 35, { kind: 'length' }),
      more: lines('More fish of that kind', '', { hint: 'One length on each line', lines: 3, optional: true }), unit: choice('Those are in', { cm: 'Centimetres', in: 'Inches' }, ({ system }) => (system === 'us' ? 'in' : 'cm'), { when: (v) => String(v['more']).trim() !== '' }),
    },
    fieldFor: (field) => (field === 'lengthsCm' ? 'lengthCm' : field),
    reckon: (v, { system }) => {
      const kind = findSpecies(v.speciesCode)!.lengthWeight!.lengthKind;
      const others = rowsOf(v.more, 'more', 'a length', 1).map(([length]) => (v.unit === 'in' ? inToCm(length!) : length!));
      const e = estimateGrams(v.speciesCode, [v.lengthCm, ...others], kind);
      const inUnit = system === 'us' ? cmToIn : (cm: number) => cm;
      const heavy = system === 'us' ? 453.59237 : 1000;
      const points = Array.from({ length: POINTS }, (_, i) => v.lengthCm * (0.5 + i / POINTS)).map((cm) => ({ cm, grams: gramsOr(v.speciesCode, cm, kind) }));
      return {
        says: `Measured ${tail[kind]}.`,
        rows: [
          { label: others.length === 0 ? 'Weighs about' : `${others.length + 1} fish weigh about`, value: showWeight(e.grams), exact: e.grams, working: e.working },
          ...(others.length === 0 ? [] : [{ label: 'Each', value: e.perFish.map((g) => showWeight(g)).join(', ') }]),
        ],
        plot: {
          says: `At ${showLength(v.lengthCm)} it weighs about ${showWeight(e.perFish[0]!)}.`, x: axis('Length', system === 'us' ? 'in' : 'cm', 0), y: { ...axis('Weight', system === 'us' ? 'lb' : 'kg', 2), fromZero: true },
          series: [{ name: findSpecies(v.speciesCode)!.name, tone: 'tide', predicted: true, points: points.map((p) => ({ x: inUnit(p.cm), y: p.grams === null ? null : p.grams / heavy })) }], moments: [{ at: inUnit(v.lengthCm), name: 'yours' }],
        },
        cautions: [{ level: 'mind', text: 'An estimate. How far off is not published with the curves; the scale outweighs it.' }],
      };
    },
  }),
];
