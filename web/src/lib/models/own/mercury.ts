import { mercuryMeals, servingFor, smokedServingGrams, LEAST_SMOKED_YIELD_PCT } from '$domain/advice/servings.ts';
import { showNumber, showWeight } from '../../show.ts';
import { choice, number, part } from './part.ts';
import { speciesWith } from './words.ts';

export const own = [
  part({
    title: 'How many meals a month?',
    calculations: ['mercury-meals'],
    fields: { speciesCode: choice('Fish', speciesWith((s) => s.mercury !== undefined), 'king-mackerel'), bodyG: number('Body weight', 70_000, { kind: 'weight' }), mealGrams: number('A meal', 227, { kind: 'weight', small: true }), weighed: choice('The meal was weighed', { raw: 'Raw', smoked: 'Smoked' }, 'raw') },
    fieldFor: (field) => (field === 'bodyKg' ? 'bodyG' : field),
    reckon: (v) => {
      const m = mercuryMeals({ speciesCode: v.speciesCode, bodyKg: v.bodyG / 1000, mealGrams: v.mealGrams, ...(v.weighed === 'smoked' && { yieldPct: LEAST_SMOKED_YIELD_PCT }) });
      const { working } = m;
      return {
        says: m.words,
        rows: [
          { label: 'Meals a month', value: showNumber(m.mealsPerMonth), exact: m.mealsPerMonth, band: `reckoned ${showNumber(m.exact, 2)}`, working }, { label: 'Mercury, the mean of the species', value: `${showNumber(m.meanPpm, 3)} ppm`, exact: m.meanPpm, working }, { label: 'The meal, raw', value: showWeight(m.rawMealGrams), exact: m.rawMealGrams, working },
        ],
        cautions: [{ level: 'mind', text: 'A local advisory comes first. With none, eat one serving of self-caught fish and no other fish that week. Big and old fish hold several times the mean.' }],
      };
    },
  }),
  part({
    title: 'How large is a serving?',
    calculations: ['serving'],
    fields: { ageYears: number('Age', 30, { unit: 'years', slide: [1, 90, 1] }) },
    reckon: (v) => {
      const s = servingFor(v);
      return { rows: [{ label: 'A serving, raw', value: showWeight(s.rawGrams), exact: s.rawGrams, working: s.working }, { label: 'The same smoked, at least', value: showWeight(smokedServingGrams(s.rawGrams)), exact: smokedServingGrams(s.rawGrams) }] };
    },
  }),
];
