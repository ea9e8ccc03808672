import { expect, test } from 'vitest';
import { mergeIngredients } from '../../server/domain/ingredients.ts';

test('ingredients of several lots are named once, in the order in which they come (rule label.content)', () => {
  expect(mergeIngredients(['Cream cheese (milk, salt), lemon', 'mackerel, salt, sugar', 'Salt; black pepper.'])).toBe('Cream cheese (milk, salt), lemon, mackerel, salt, sugar, black pepper');
  expect(mergeIngredients(['Salt', 'SALT\nsalt .  ', ''])).toBe('Salt');
  expect(mergeIngredients(['', '  '])).toBe('');
});

test('a bracket that is never closed, or never opened, loses nothing', () => {
  expect(mergeIngredients(['cheese (milk, salt', 'pepper), dill'])).toBe('cheese (milk, salt, pepper), dill');
});

test('a decimal comma, or one in a large number, parts nothing: each amount stays with what it is of', () => {
  expect(mergeIngredients(['mackerel, salt 2,5 %, sugar 1,5 %'])).toBe('mackerel, salt 2,5 %, sugar 1,5 %');
  expect(mergeIngredients(['water 1,000 g,salt 250 g', 'E 250,salt'])).toBe('water 1,000 g, salt 250 g, E 250, salt');
});
