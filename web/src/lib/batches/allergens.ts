/** Allergens as typed, "milk, mustard", one by one. */
export const allergensIn = (typed: string): string[] => typed.split(',').map((one) => one.trim()).filter(Boolean);

/** One more behind those that are typed. */
export const withAllergen = (typed: string, name: string): string => [...allergensIn(typed), name.toLowerCase()].join(', ');
