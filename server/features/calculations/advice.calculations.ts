import * as c from '../../contract/calculations/advice.ts';
import { adviceFor, allergensIn, mercuryMeals, servingFor } from '../../domain/advice/advice.ts';
import { calculation } from './calculation.ts';

export const adviceCalculations = [
  calculation({ name: 'advice', summary: 'What those who eat the fish are told', body: c.adviceBody, answer: c.adviceAnswer, reckon: adviceFor }),
  calculation({
    name: 'allergens-found', summary: 'Allergens that a list of ingredients gives away', body: c.allergensFoundBody, answer: c.allergensFoundAnswer,
    reckon: ({ ingredients }) => ({ found: allergensIn(ingredients) }),
  }),
  calculation({ name: 'serving', summary: 'Raw grams in a serving by age', body: c.servingBody, answer: c.servingAnswer, reckon: servingFor }),
  calculation({ name: 'mercury-meals', summary: 'Meals a month within the reference dose of mercury, on raw weight', body: c.mercuryMealsBody, answer: c.mercuryMealsAnswer, reckon: mercuryMeals }),
];
