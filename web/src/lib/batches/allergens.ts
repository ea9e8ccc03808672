/** Allergens as typed, "milk, mustard", one by one. */
export const allergensIn = (typed: string): string[] => typed.split(',').map((one) => one.trim()).filter(Boolean);
