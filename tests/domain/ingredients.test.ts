import fc from 'fast-check';
import { expect, test } from 'vitest';
import { allergensIn } from '../../server/domain/advice/allergen-words.ts';
import { CURE_INGREDIENTS, CUP_WEIGHTS } from '../../server/domain/cure/kitchen-weights.ts';
import { curedWith, fishNamed, mergeIngredients } from '../../server/domain/ingredients.ts';
import { SPECIES } from '../../server/domain/species/index.ts';

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

const cure = (more: Partial<Parameters<typeof curedWith>[0][number]> = {}) => ({ saltGrams: 400, sugarKind: null, sugarGrams: 0, waterGrams: null, brinePercent: null, others: [], ...more });
const other = (name: string, grams = 10) => ({ name, grams });

test('fish is named by species and as fish, the most by weight first, each once (people.allergens; order: 21 CFR 101.4(a), EU 1169/2011 art. 18)', () => {
  expect(fishNamed([{ name: 'Sea trout', grams: 500 }, { name: 'Atlantic mackerel', grams: 400 }, { name: 'atlantic mackerel', grams: 200 }])).toEqual(['Atlantic mackerel (fish)', 'Sea trout (fish)']);
  expect(fishNamed([])).toEqual([]);
});

test('a cure is named in descending order of weight, by common names (21 CFR 101.4(a)(1) and (b)(20); EU 1169/2011 art. 18)', () => {
  expect(curedWith([cure({ sugarKind: 'brown-sugar-packed', sugarGrams: 200, others: [other('Dill', 5), other('Black pepper', 20)] })])).toEqual(['salt', 'brown sugar', 'Black pepper', 'Dill']);
  expect(curedWith([cure({ sugarKind: 'honey', sugarGrams: 401 })])).toEqual(['honey', 'salt']);
  expect(curedWith([cure({ sugarKind: 'granulated-sugar', sugarGrams: 400 })]), 'salt before sugar where they are level').toEqual(['salt', 'sugar']);
  expect(curedWith([])).toEqual([]);
});

test('several cures are one list, with what they took together', () => {
  const first = cure({ saltGrams: 100, sugarKind: 'honey', sugarGrams: 90, others: [other('Dill', 95)] });
  expect(curedWith([first, cure({ saltGrams: 10, sugarKind: 'honey', sugarGrams: 30 })])).toEqual(['honey', 'salt', 'Dill']);
});

test('each is named once, however it was written down, and a kind that was typed is that kind', () => {
  const others = [other('Brown sugar, loose'), other('KOSHER SALT, FLAKES'), other('dill'), other('Dill'), other('Honey'), other('juniper; bay leaf')];
  expect(curedWith([cure({ sugarKind: 'brown-sugar-packed', sugarGrams: 300, others })])).toEqual(['salt', 'brown sugar', 'dill', 'honey', 'juniper', 'bay leaf']);
});

test('a kind of sugar that nothing was taken of is none; water of a brine is left out, as an other ingredient too (EU 1169/2011 annex VII part A: below 5 % of the finished food)', () => {
  expect(curedWith([cure({ sugarKind: 'honey', sugarGrams: 0, waterGrams: 9000, others: [other('Water', 9000)] })])).toEqual(['salt']);
});

test('the salt of a brine is what makes its strength: 20 % of 10,000 g of brine is 2,000 g; where water is not known either it comes first', () => {
  const brine = (sugarGrams: number, waterGrams: number | null) => curedWith([cure({ saltGrams: null, brinePercent: 20, waterGrams, sugarKind: 'granulated-sugar', sugarGrams })]);
  expect(brine(1999, 8000)).toEqual(['salt', 'sugar']);
  expect(brine(2001, 8000)).toEqual(['sugar', 'salt']);
  expect(brine(2001, null)).toEqual(['salt', 'sugar']);
  const unknown = cure({ saltGrams: null, brinePercent: 20, sugarKind: 'honey', sugarGrams: 5 });
  expect(curedWith([unknown, cure({ saltGrams: 1, sugarKind: 'honey', sugarGrams: 1000 }), unknown])).toEqual(['salt', 'honey']);
});

test('every kind of salt and sugar has a plain name: no cup, flakes or packing in it', () => {
  for (const kind of CURE_INGREDIENTS.filter((k) => CUP_WEIGHTS[k].role === 'sugar')) expect(curedWith([cure({ sugarKind: kind, sugarGrams: 1 })])[1], kind).toMatch(/^(sugar|brown sugar|turbinado sugar|honey|molasses|maple syrup)$/);
  for (const kind of CURE_INGREDIENTS.filter((k) => CUP_WEIGHTS[k].role === 'salt')) expect(curedWith([cure({ others: [other(CUP_WEIGHTS[kind].name)] })]), kind).toEqual(['salt']);
});

test('whatever was written down, each of it is in the list, and merging the list loses and doubles nothing', () => {
  const names = fc.array(fc.string({ minLength: 1, maxLength: 80 }), { maxLength: 10 });
  fc.assert(fc.property(names, (written) => {
    const list = curedWith([cure({ others: written.map((name, i) => other(name, i)) })]);
    expect(mergeIngredients(list)).toBe(list.join(', '));
    expect(new Set(list.map((one) => one.toLowerCase())).size).toBe(list.length);
  }));
});

test('no fish of the tables is taken for another allergen by its name (people.allergens)', () => {
  for (const { name } of SPECIES) expect(allergensIn(fishNamed([{ name, grams: 1 }])[0]!).map(({ code }) => code), name).toEqual(['fish']);
});
