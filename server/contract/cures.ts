// How fish was cured, what the club's laboratory figures say of it, and what stands in the cupboard for the next cure.
import { z } from 'zod';
import { fishPart } from './evidence.ts';
import { grams, id, instant, localDay, personRef, positiveGrams, text, version, working } from './common.ts';

const fat = z.enum(['lean', 'medium', 'fatty']);
const kind = z.string().max(60).nullable().default(null);
const otherIngredient = z.strictObject({ name: text(80, 'name').min(1, 'Name the ingredient'), grams });
/** What a number may be is said by the domain, in a person's words. */
const fields = {
  method: z.enum(['dry', 'brine', 'equilibrium-brine']),
  /** A kind of salt or sugar that the service knows; null: not said. */
  saltKind: kind,
  saltGrams: positiveGrams.nullable().default(null),
  sugarKind: kind,
  sugarGrams: grams.default(0),
  waterGrams: positiveGrams.nullable().default(null),
  /** Of the brine, by weight; null: as salt and water make it. */
  brinePercent: z.number().nullable().default(null),
  others: z.array(otherIngredient).max(40, 'At most 40 ingredients').default([]),
  thicknessMm: z.number(),
  /** Skin on one face, or gutted fish. */
  skin: z.boolean(),
  temperatureC: z.number(),
  onceFrozen: z.boolean(),
  fat: fat.or(z.literal('mixed')),
};
export const cureFactsBody = z.strictObject(fields);
/** Tells of a cure stage how it was cured, or corrects it; the earlier facts stay in the record. Version 0: nothing was told yet. */
export const cureFactsPatch = z.strictObject({ ...fields, version: z.int().min(0), reason: text(300, 'reason').default('') });
export const cureFacts = z.object({
  method: fields.method, saltKind: z.string().nullable(), saltGrams: grams.nullable(), sugarKind: z.string().nullable(), sugarGrams: grams, waterGrams: grams.nullable(), brinePercent: z.number().nullable(),
  others: z.array(z.object({ name: z.string(), grams })), thicknessMm: z.number(), skin: z.boolean(), temperatureC: z.number(), onceFrozen: z.boolean(), fat: fields.fat,
  createdBy: personRef,
  version,
});

const percent = z.number();
export const saltFigure = z.object({
  figureId: id, batchId: id, lot: z.string(), part: fishPart, sampledDay: localDay, measuredPercent: percent,
  /** Of finished fish: what it kept of its weight after the cure, and its water then; null when it was sampled after the cure. */
  keptPercent: percent.nullable(), curedWaterPercent: percent.nullable(),
  /** Read back to the end of the cure. */
  curedPercent: percent,
  minutes: z.number(), thicknessMm: z.number(),
  /** With the published start; then with what all figures make of it, and its band. */
  startPercent: percent, predictedPercent: percent, lowPercent: percent, highPercent: percent,
  /** How far it lies from the prediction, in its own standard deviations. */
  residual: z.number(),
  working,
});
/** What the club's laboratory figures make of the diffusivity, by fat class. A prediction: it meets no rule that asks for a measurement. */
export const saltFigures = z.object({
  measured: z.literal(false),
  /** `used` is false where there are no figures, or they come to a value that no muscle has: then the value is the published start. */
  classes: z.array(z.object({ fat, startM2PerSAt5C: z.number(), used: z.boolean(), m2PerSAt5C: z.number(), bandFactor: z.number(), figures: z.array(saltFigure), notes: z.array(z.string()), working })),
  /** Figures that do not count, and why. */
  leftOut: z.array(z.object({ batchId: id, lot: z.string(), figureId: id, fat: fat.or(z.literal('mixed')).nullable(), why: z.string() })),
});

export const stockItem = z.object({
  id,
  /** A kind of salt or sugar as it stands on the shelf, brown sugar as one; null: something else, by its name. */
  ingredient: z.string().nullable(),
  name: z.string(),
  /** What is left: counted less taken, never below 0. */
  grams,
  countedGrams: grams,
  /** All that cures took together: no single weight's limit holds for it. */
  usedGrams: z.int().min(0),
  /** By how much cures took more than was there: above 0 the count is out. */
  outByGrams: z.int().min(0),
  countedAt: instant,
  countedBy: personRef,
  working,
});
export const stockList = z.object({ items: z.array(stockItem) });
/** Counts of one or several ingredients, by a kind of salt or sugar (brown sugar is one, loose or packed) or by name; a count goes before whatever cures took until then. Weight null takes it off the list. */
export const stockCountBody = z.strictObject({
  counts: z.array(z.strictObject({
    ingredient: kind,
    name: text(80, 'name').default(''),
    grams: z.int().min(0).max(1_000_000, 'At most 1,000 kg').nullable(),
  })).min(1, 'Count at least one ingredient').max(60, 'At most 60 ingredients at once'),
});

export type CureFactsBody = z.infer<typeof cureFactsBody>;
export type CureFactsPatch = z.infer<typeof cureFactsPatch>;
export type CureFactsView = z.infer<typeof cureFacts>;
export type SaltFigures = z.infer<typeof saltFigures>;
export type SaltFigure = z.infer<typeof saltFigure>;
export type StockItem = z.infer<typeof stockItem>;
export type StockList = z.infer<typeof stockList>;
export type StockCountBody = z.infer<typeof stockCountBody>;
