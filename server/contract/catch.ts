import { z } from 'zod';
import { celsius, fishForm, grams, id, instant, localDay, name, note, page, pageQuery, personRef, pooling, positiveGrams, text, version, working } from './common.ts';

export const boat = z.object({ id, name: z.string(), note: z.string(), retired: z.boolean(), version });
export const boatList = z.object({ items: z.array(boat) });
export const boatBody = z.strictObject({ name, note: note.default('') });
export const boatPatch = z.strictObject({ version, name: name.optional(), note: note.optional(), retired: z.boolean().optional() });

export const species = z.object({
  code: z.string(),
  name: z.string(),
  scientificName: z.string(),
  own: z.boolean(),
  /** null: not known; treated as yes. */
  scombrotoxin: z.boolean().nullable(),
  /** Of a club's own that forms none: who says so. */
  scombrotoxinSource: z.string(),
  sharing: z.enum(['ok', 'refuse']),
  maxFishGrams: grams,
  /** Whether a weight can be estimated from lengths. */
  hasLengthWeight: z.boolean(),
  version,
});
export const speciesList = z.object({ items: z.array(species) });
const heaviestFish = positiveGrams.max(1_000_000, 'Enter the heaviest single fish, at most 1,000 kg');
const scientificName = text(80, 'scientific name');
/** Needed where the fish is said to form none. */
const scombrotoxinSource = text(200, 'source');
export const speciesBody = z.strictObject({
  name,
  scientificName: scientificName.default(''),
  scombrotoxin: z.boolean().nullable().default(null),
  scombrotoxinSource: scombrotoxinSource.default(''),
  maxFishGrams: heaviestFish,
});
export const speciesPatch = z.strictObject({
  version,
  name: name.optional(),
  scientificName: scientificName.optional(),
  scombrotoxin: z.boolean().nullable().optional(),
  scombrotoxinSource: scombrotoxinSource.optional(),
  maxFishGrams: heaviestFish.optional(),
});
export const speciesParams = z.object({ code: z.string().min(1).max(80) });

export const tripPerson = z.object({
  memberId: id.nullable(),
  guestName: z.string().nullable(),
  name: z.string(),
  shareWeight: z.number(),
});
export const tripPersonBody = z
  .strictObject({
    memberId: id.optional(),
    guestName: name.optional(),
    shareWeight: z.number().min(0, 'A share weight is 0 to 100').max(100, 'A share weight is 0 to 100').default(1),
  })
  .refine((p) => (p.memberId === undefined) !== (p.guestName === undefined), 'Name either a member or a guest');

export const trip = z.object({
  id,
  boat: z.object({ id, name: z.string() }),
  day: localDay,
  area: z.string(),
  note: z.string(),
  open: z.boolean(),
  people: z.array(tripPerson),
  landingCount: z.int(),
  landedGrams: grams,
  leftGrams: grams,
  version,
});
export const tripList = page(trip);
export const tripBody = z.strictObject({
  boatId: id,
  day: localDay,
  area: text(120, 'area').min(1, 'Enter where you fished'),
  note: note.default(''),
  people: z.array(tripPersonBody).max(60, 'At most 60 people').default([]),
});
export const tripPatch = z.strictObject({
  version,
  boatId: id.optional(),
  day: localDay.optional(),
  area: text(120, 'area').min(1).optional(),
  note: note.optional(),
  people: z.array(tripPersonBody).max(60).optional(),
  open: z.boolean().optional(),
});

export const catcher = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('member'), memberId: id }),
  z.strictObject({ kind: z.literal('guest'), guestName: name }),
  z.strictObject({ kind: z.literal('boat') }),
]);
const landingFields = {
  catcher,
  speciesCode: z.string().min(1, 'Choose the species').max(80),
  /** null: not counted. */
  fishCount: z.int().min(1, 'Enter how many fish, at least 1').max(100_000).nullable(),
  /** null: estimate from the lengths. */
  grams: positiveGrams.nullable(),
  form: fishForm,
  lengthsCm: z.array(z.number().positive('A length is above zero').max(600, 'A length is in centimetres, below 600')).max(500),
  lengthKind: z.enum(['fork', 'total']).nullable(),
  caughtAt: instant.nullable(),
  /** Gilled and gutted. */
  guttedAt: instant.nullable(),
  icedAt: instant.nullable(),
  /** Ashore: what the core at landing is judged by. */
  landedAt: instant.nullable(),
  coreC: celsius.nullable(),
  airC: celsius.nullable(),
  waterC: celsius.nullable(),
  note,
  pooling,
};
export const landingBody = z.strictObject({
  catcher: landingFields.catcher,
  speciesCode: landingFields.speciesCode,
  fishCount: landingFields.fishCount.default(null),
  grams: landingFields.grams.default(null),
  form: landingFields.form.default('whole'),
  lengthsCm: landingFields.lengthsCm.default([]),
  lengthKind: landingFields.lengthKind.default(null),
  caughtAt: landingFields.caughtAt.default(null),
  guttedAt: landingFields.guttedAt.default(null),
  icedAt: landingFields.icedAt.default(null),
  landedAt: landingFields.landedAt.default(null),
  coreC: landingFields.coreC.default(null),
  airC: landingFields.airC.default(null),
  waterC: landingFields.waterC.default(null),
  note: landingFields.note.default(''),
  pooling: landingFields.pooling.default('apart'),
});
export const landingPatch = z.strictObject({
  version,
  reason: text(300, 'reason').optional(),
  catcher: landingFields.catcher.optional(),
  speciesCode: landingFields.speciesCode.optional(),
  fishCount: landingFields.fishCount.optional(),
  grams: landingFields.grams.optional(),
  form: landingFields.form.optional(),
  lengthsCm: landingFields.lengthsCm.optional(),
  lengthKind: landingFields.lengthKind.optional(),
  caughtAt: landingFields.caughtAt.optional(),
  guttedAt: landingFields.guttedAt.optional(),
  icedAt: landingFields.icedAt.optional(),
  landedAt: landingFields.landedAt.optional(),
  coreC: landingFields.coreC.optional(),
  airC: landingFields.airC.optional(),
  waterC: landingFields.waterC.optional(),
  note: landingFields.note.optional(),
  pooling: landingFields.pooling.optional(),
  /** Take a landing out that should not be there; only while nothing is drawn from it. */
  withdrawn: z.boolean().optional(),
});

export const landing = z.object({
  id,
  trip: z.object({ id, day: localDay, area: z.string(), boatName: z.string() }),
  catcher: z.object({ kind: z.enum(['member', 'guest', 'boat']), memberId: id.nullable(), name: z.string() }),
  species: z.object({ code: z.string(), name: z.string(), sharing: z.enum(['ok', 'refuse']), /** Whether it forms histamine; null: not known, treated as yes. */ scombrotoxin: z.boolean().nullable() }),
  fishCount: z.int().nullable(),
  grams,
  weightSource: z.enum(['weighed', 'estimated']),
  /** How the estimate came about, when it is one. */
  estimate: working.nullable(),
  form: fishForm,
  lengthsCm: z.array(z.number()),
  lengthKind: z.enum(['fork', 'total']).nullable(),
  caughtAt: instant.nullable(),
  /** Gilled and gutted. */
  guttedAt: instant.nullable(),
  icedAt: instant.nullable(),
  /** Ashore: what the core at landing is judged by. */
  landedAt: instant.nullable(),
  coreC: celsius.nullable(),
  airC: celsius.nullable(),
  waterC: celsius.nullable(),
  note: z.string(),
  pooling,
  drawnGrams: grams,
  leftGrams: grams,
  withdrawn: z.boolean(),
  createdBy: personRef,
  createdAt: instant,
  version,
});
export const landingList = page(landing);
export const landingQuery = pageQuery.extend({
  tripId: id.optional(),
  /** Only landings with weight left to draw. */
  left: z.stringbool().optional(),
});
export const tripDetail = trip.extend({ landings: z.array(landing) });

export type Boat = z.infer<typeof boat>;
export type Species = z.infer<typeof species>;
export type Trip = z.infer<typeof trip>;
export type TripDetail = z.infer<typeof tripDetail>;
export type Landing = z.infer<typeof landing>;
export type LandingBody = z.infer<typeof landingBody>;
export type LandingPatch = z.infer<typeof landingPatch>;
