/** What a pack contains that people are allergic to: fish always (rule people.allergens), then what its batch names, each once. */
export function packAllergens(named: readonly string[]): string[] {
  const seen = new Set(['fish']);
  const others = named.filter((allergen) => {
    const key = allergen.trim().toLowerCase();
    return key !== '' && !seen.has(key) && seen.add(key);
  });
  return ['fish', ...others.map((allergen) => allergen.trim())];
}
