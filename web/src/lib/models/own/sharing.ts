import { layerPortions } from '$domain/cure/layers.ts';
import { shareOut } from '$domain/share.ts';
import { showNumber, showWeight } from '../../show.ts';
import { choice, lines, number, part } from './part.ts';
import { isOfLine, rowsOf } from './words.ts';

export const own = [
  part({
    title: 'Divide it by shares',
    calculations: ['share-out'],
    fields: { what: choice('What is divided', { packs: 'Packs', weight: 'Weight' }, 'packs'), count: number('Packs', 11, { whole: true, when: (v) => v['what'] === 'packs' }), grams: number('Weight', 11_000, { kind: 'weight', when: (v) => v['what'] === 'weight' }), weights: lines('Shares', '6\n6\n2', { hint: 'One on each line: hours, people, what each landed', lines: 5 }) },
    fieldFor: (field, v) => (field === 'total' ? (v.what === 'packs' ? 'count' : 'grams') : field),
    reckon: (v) => {
      const show = (amount: number) => (v.what === 'packs' ? showNumber(amount) : showWeight(amount));
      const { rows, working } = shareOut({ total: v.what === 'packs' ? v.count : Math.round(v.grams), weights: rowsOf(v.weights, 'weights', 'a share', 1).map(([share]) => share!) });
      return {
        rows: [
          { label: 'In the order of the lines', value: rows.map((r) => show(r.share)).join(', '), exact: rows.map((r) => r.share).join(', '), working },
          ...rows.map((r, i) => ({ label: `Line ${i + 1}, share ${showNumber(r.weight)}`, value: show(r.share), exact: r.share, band: `due ${v.what === 'packs' ? showNumber(r.due, 2) : showWeight(Math.round(r.due))}`, working })),
        ],
      };
    },
  }),
  part({
    title: 'Dry cure by layers',
    calculations: ['cure-layers'],
    fields: { cureGrams: number('Dry cure', 1001, { kind: 'weight', small: true }), layers: lines('Fish in each layer, from the bottom', '0.9\n1.1\n1', { hint: 'One on each line', lines: 4 }), unit: choice('Those are in', { kg: 'Kilograms', lb: 'Pounds' }, ({ system }) => (system === 'us' ? 'lb' : 'kg')) },
    fieldFor: (field) => (isOfLine(field) || field === 'layersFishGrams' ? 'layers' : field),
    reckon: (v) => {
      const grams = rowsOf(v.layers, 'layers', 'a weight', 1).map(([weight]) => Math.round(weight! * (v.unit === 'lb' ? 453.59237 : 1000)));
      const l = layerPortions({ cureGrams: Math.round(v.cureGrams), layersFishGrams: grams });
      return { rows: l.layers.map((layer) => ({ label: layer.what, value: showWeight(layer.cureGrams), exact: layer.cureGrams, band: `${showWeight(layer.leftGrams)} left`, working: l.working })) };
    },
  }),
];
