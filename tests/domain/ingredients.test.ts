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
