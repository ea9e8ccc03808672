import { describe, expect, it } from 'vitest';
import { mealsOf } from '$lib/advice/meals.ts';
import { allergensIn, withAllergen } from '$lib/batches/allergens.ts';
import { untickedAllergens } from '$domain/advice/allergen-words.ts';

const bluefish = { speciesCode: 'bluefish', bodyGrams: 70_000, mealGrams: 226.796185, smoked: false };

describe('meals by body weight', () => {
  it('bluefish, 70 kg and 8 oz raw: 2 a month (models.md, mercury; FDA monitoring 1990-2012)', () => {
    expect(mealsOf(bluefish)).toMatchObject({ mealsPerMonth: 2, exact: 2.55 });
  });

  it('a smoked plate is reckoned as the most raw fish it may have been: 72 % kept (models.md, low ends, from memory)', () => {
    expect(mealsOf({ ...bluefish, smoked: true })).toMatchObject({ mealsPerMonth: 1, rawMealGrams: 315 });
  });

  it('says nothing while a weight is missing, and names the weight that no person has', () => {
    expect(mealsOf({ ...bluefish, bodyGrams: null })).toBeNull();
    expect(mealsOf({ ...bluefish, mealGrams: null })).toBeNull();
    expect(mealsOf({ ...bluefish, bodyGrams: 500_000 })).toMatchObject({ field: 'bodyKg', refused: expect.stringContaining('500') });
    expect(mealsOf({ ...bluefish, mealGrams: 0 })).toMatchObject({ field: 'mealGrams' });
  });
});

describe('allergens that were written and not named', () => {
  it('are asked about until they are named, in words or by code', () => {
    const ask = (typed: string) => untickedAllergens('Fish, butter, wholegrain mustard', allergensIn(typed)).map(({ code }) => code);
    expect(ask('')).toEqual(['milk', 'mustard']);
    expect(ask(withAllergen('', 'Milk'))).toEqual(['mustard']);
    expect(ask(withAllergen('MILK', 'Mustard'))).toEqual([]);
  });

  it('one more goes behind those that are typed', () => {
    expect(withAllergen('celery , ', 'Milk')).toBe('celery, milk');
  });
});
