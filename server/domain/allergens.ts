export type Allergen = {
  code: string;
  name: string;
  /** Named by the United States list of nine, or by the European list of fourteen only. */
  list: 'US and EU' | 'EU only';
};

/** What must be named on a label: rule people.allergens. */
export const ALLERGENS: readonly Allergen[] = [
  { code: 'fish', name: 'Fish', list: 'US and EU' },
  { code: 'milk', name: 'Milk', list: 'US and EU' },
  { code: 'egg', name: 'Egg', list: 'US and EU' },
  { code: 'wheat', name: 'Wheat', list: 'US and EU' },
  { code: 'soy', name: 'Soy', list: 'US and EU' },
  { code: 'sesame', name: 'Sesame', list: 'US and EU' },
  { code: 'nuts', name: 'Nuts', list: 'US and EU' },
  { code: 'peanuts', name: 'Peanuts', list: 'US and EU' },
  { code: 'crustaceans', name: 'Crustaceans', list: 'US and EU' },
  { code: 'celery', name: 'Celery', list: 'EU only' },
  { code: 'mustard', name: 'Mustard', list: 'EU only' },
  { code: 'sulphites', name: 'Sulphites', list: 'EU only' },
  { code: 'lupin', name: 'Lupin', list: 'EU only' },
  { code: 'molluscs', name: 'Molluscs', list: 'EU only' },
];

export const ALLERGEN_SOURCE = '21 USC 321(qq); EU 1169/2011 annex II';

/**
 * What a food of this service contains that people are allergic to, as its label names it: fish always, then what is named, each once
 * whatever its case, in the order in which it comes. Never throws. Rule people.allergens.
 */
export function containedAllergens(named: readonly string[]): string[] {
  const seen = new Set(['fish']);
  const others = named.filter((allergen) => {
    const key = allergen.trim().toLowerCase();
    return key !== '' && !seen.has(key) && seen.add(key);
  });
  return ['fish', ...others.map((allergen) => allergen.trim())];
}
