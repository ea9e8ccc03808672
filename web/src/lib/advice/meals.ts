import { LEAST_SMOKED_YIELD_PCT, mercuryMeals, type MealCount } from '$domain/advice/servings.ts';
import { DomainError } from '$domain/working.ts';

export type MealQuestion = { speciesCode: string; bodyGrams: number | null; mealGrams: number | null; smoked: boolean };

/** Meals a month of a person's weight and plate; a smoked plate is reckoned as the most raw fish that it may have been. Null while something is empty. */
export function mealsOf({ speciesCode, bodyGrams, mealGrams, smoked }: MealQuestion): MealCount | { refused: string; field: string } | null {
  if (bodyGrams === null || mealGrams === null) return null;
  try {
    return mercuryMeals({ speciesCode, bodyKg: bodyGrams / 1000, mealGrams, ...(smoked ? { yieldPct: LEAST_SMOKED_YIELD_PCT } : {}) });
  } catch (cause) {
    if (cause instanceof DomainError) return { refused: cause.message, field: cause.field };
    throw cause;
  }
}
