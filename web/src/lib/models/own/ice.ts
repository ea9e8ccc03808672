import { iceToLoad } from '$domain/boat/ice.ts';
import { showWeight } from '../../show.ts';
import { maybe, number, part } from './part.ts';

export const own = [
  part({
    title: 'How much ice to take?',
    calculations: ['ice-to-load'],
    fields: {
      catchG: number('Fish you hope for', 20_000, { kind: 'weight' }), fishC: number('Water', 15, { kind: 'temperature', slide: [0, 30, 1], hint: 'Fish comes up as warm as the water' }), airC: number('Air', 20, { kind: 'temperature', slide: [0, 40, 1] }),
      hours: number('From loading to landing', 12, { unit: 'h', slide: [1, 72, 1] }), meltG: maybe('Our box melts in a day', { kind: 'weight', hint: 'Weighed once, in such air as above' }),
    },
    fieldFor: (field) => (field === 'boxMelt.airC' ? 'airC' : field.startsWith('boxMelt') ? 'meltG' : field),
    reckon: ({ meltG, ...v }) => {
      const i = iceToLoad({ ...v, ...(meltG !== null && { boxMelt: { gPerDay: meltG, airC: v.airC } }) });
      const { working } = i;
      return {
        rows: [
          { label: 'Ice to take', value: showWeight(i.loadG), exact: i.loadG, working }, { label: 'To cool the fish', value: showWeight(i.coolingG), exact: i.coolingG, working },
          { label: 'Melts in the box', value: i.meltG === null ? 'not measured' : showWeight(i.meltG), exact: i.meltG, working }, { label: 'At least as much as the fish', value: showWeight(i.ruleOfThumbG), exact: i.ruleOfThumbG, working },
        ],
        cautions: i.advice.map((text) => ({ level: 'note' as const, text })),
      };
    },
  }),
];
