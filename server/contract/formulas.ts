import { z } from 'zod';
import { id, name, note, positiveGrams, text, version } from './common.ts';

/** One ingredient. `ingredient` is a kind of salt or sugar that the service knows, 'water', or null for anything else. */
const item = z.strictObject({
  name: text(80, 'name').min(1, 'Name the ingredient'),
  ingredient: z.string().max(60).nullable(),
  grams: z.number().min(0, 'Enter a weight').max(10_000_000).meta({ description: 'Grams' }),
});
const fields = {
  name,
  method: z.enum(['dry', 'brine']),
  /** The fish that it was written for. */
  fishGrams: positiveGrams.max(1_000_000, 'A formula is for at most 1,000 kg of fish'),
  items: z.array(item).min(1, 'Add at least one ingredient').max(40, 'At most 40 ingredients'),
};
export const formula = z.object({ id, ...fields, note: z.string(), retired: z.boolean(), version });
export const formulaList = z.object({ items: z.array(formula) });
export const formulaBody = z.strictObject({ ...fields, note: note.default('') });
export const formulaPatch = z.strictObject({
  version,
  name: fields.name.optional(),
  method: fields.method.optional(),
  fishGrams: fields.fishGrams.optional(),
  items: fields.items.optional(),
  note: note.optional(),
  retired: z.boolean().optional(),
});

export type Formula = z.infer<typeof formula>;
export type FormulaBody = z.infer<typeof formulaBody>;
