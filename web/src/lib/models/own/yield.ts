import { weightAfterCure } from '$domain/salt/weight-change.ts';
import { questionStage, estimateYield, type OwnBatch } from '$domain/yield-evidence.ts';
import { expectedWeights } from '$domain/yield-stages.ts';
import type { Cure } from '$domain/yield.ts';
import type { Form } from '$domain/working.ts';
import { showNumber, showWeight } from '../../show.ts';
import { choice, lines, number, part } from './part.ts';
import { isOfLine, percent, percentBand, rowsOf, speciesWith } from './words.ts';

const forms = { 'whole': 'Whole', 'gutted': 'Gutted', 'headed-gutted': 'Headed and gutted', 'fillet': 'Fillet' } as const;
const cures = { wet: 'Brine', dry: 'Dry cure' } as const;
const stages = { prepare: 'Cutting', cure: 'Cure', smoke: 'Drying and smoking' } as const;
const brinePct = number('Brine', 15, { unit: '%', slide: [1, 26, 0.5], when: (v) => v['cure'] === 'wet' });
const cureOf = (v: { cure: 'wet' | 'dry'; brinePct: number }): Cure => (v.cure === 'dry' ? { kind: 'dry' } : { kind: 'wet', brinePct: v.brinePct });
const fish = { species: choice('Fish', speciesWith((s) => s.conversion !== undefined), 'atlantic-mackerel'), form: choice('It comes', forms, 'whole') };
const batches = lines('Your own batches at that stage', '', { hint: 'Weight in and weight out on each line, in one unit', lines: 4, optional: true });
const batchesOf = (text: string): OwnBatch[] => rowsOf(text, 'batches', 'a weight in and a weight out', 2).map(([massIn, massOut], i) => ({ id: `line ${i + 1}`, massInG: Math.round(massIn! * 1000), massOutG: Math.round(massOut! * 1000) }));

export const own = [
  part({
    title: 'What will it weigh after each stage?',
    calculations: ['yield-weights'],
    fields: { ...fish, massInG: number('Weight', 10_000, { kind: 'weight' }), cure: choice('Cured in', cures, 'wet'), brinePct },
    reckon: (v) => {
      const w = expectedWeights({ species: v.species, form: v.form, product: 'hot-smoked', massInG: v.massInG, cure: cureOf(v) });
      const last = w.stages.at(-1)!;
      return {
        rows: [
          { label: 'Finished, about', value: last.likelyGrams === null ? 'not known' : showWeight(last.likelyGrams), exact: last.likelyGrams, ...(last.lowGrams !== null && { band: `${showWeight(last.lowGrams)} to ${showWeight(last.highGrams!)}` }), working: last.estimate.working },
          ...w.stages.slice(0, -1).map((s) => ({ label: `After ${stages[s.stage as keyof typeof stages].toLowerCase()}`, value: s.likelyGrams === null ? 'not known' : showWeight(s.likelyGrams), exact: s.likelyGrams, ...(s.lowGrams !== null && { band: `${showWeight(s.lowGrams)} to ${showWeight(s.highGrams!)}` }), working: s.estimate.working })),
          ...(w.overall === null ? [] : [{ label: 'Kept in all', value: percent(w.overall.likelyPct, 0), exact: w.overall.likelyPct, band: percentBand(w.overall.lowPct, w.overall.highPct, 0) }]),
        ],
        cautions: w.stages.filter((s) => !s.estimate.known && s.note === '').map((s) => ({ level: 'mind' as const, text: s.estimate.reason })),
      };
    },
  }),
  part({
    title: 'What does one stage keep, with your own batches?',
    calculations: ['yield-expected'],
    fields: { ...fish, stage: choice('Stage', stages, 'smoke'), batches },
    fieldFor: (field) => (isOfLine(field) ? 'batches' : field),
    reckon: (v) => {
      const e = estimateYield({ question: { species: v.species, form: v.form, product: 'hot-smoked', stage: v.stage }, batches: batchesOf(v.batches) });
      return {
        says: e.words,
        rows: e.known ? [{ label: 'Kept', value: percent(e.likelyPct!, 1), exact: e.likelyPct, band: percentBand(e.lowPct!, e.highPct!, 1), working: e.working }, { label: 'Of it your own batches', value: percent(e.ownWeightPct, 0), exact: e.ownWeightPct, working: e.working }] : [{ label: 'Kept', value: 'not known', exact: null }],
        cautions: e.leftOut.map((id) => ({ level: 'mind' as const, text: `${id.charAt(0).toUpperCase()}${id.slice(1)} is far from the others and left out: look at it.` })),
      };
    },
  }),
  part({
    title: 'Is this weight believable?',
    calculations: ['yield-question'],
    fields: { ...fish, stage: choice('Stage', stages, 'smoke'), massInG: number('Weight in', 5000, { kind: 'weight' }), massOutG: number('Weight out', 4250, { kind: 'weight' }) },
    reckon: (v) => {
      const q = questionStage({ question: { species: v.species, form: v.form as Form, product: 'hot-smoked', stage: v.stage }, batches: [], massInG: v.massInG, massOutG: v.massOutG });
      return { says: q.words, rows: [{ label: 'Kept', value: percent(q.actualPct, 1), exact: q.actualPct, ...(q.expected.known && { band: `usual ${percentBand(q.expected.lowPct!, q.expected.highPct!, 0)}` }), working: q.expected.working }] };
    },
  }),
  part({
    title: 'What does it weigh after the cure?',
    calculations: ['weight-after-cure'],
    fields: { grams: number('Weight before', 5000, { kind: 'weight' }), cure: choice('Cured in', cures, 'wet'), brinePct },
    reckon: (v) => {
      const w = weightAfterCure({ grams: v.grams, cure: cureOf(v) });
      return { rows: [{ label: 'After the cure', value: showWeight(w.likelyGrams), exact: w.likelyGrams, band: `${showWeight(w.lowGrams)} to ${showWeight(w.highGrams)}`, working: w.working }, { label: 'Change', value: `${w.changePercent > 0 ? '+' : ''}${showNumber(w.changePercent, 1)} %`, exact: w.changePercent, working: w.working }] };
    },
  }),
];
