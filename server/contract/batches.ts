import { z } from 'zod';
import { celsius, check, fishForm, grams, id, instant, localDay, name, note, notMet, page, pageQuery, personRef, pooling, positiveGrams, productKind, stageKind, text, verdict, version, working } from './common.ts';
import { adviceGiven, allergenFound } from './advice.ts';
import { cureFacts, cureFactsBody } from './cures.ts';
import { measurement, readingList, release, withdrawal } from './evidence.ts';
import { slot } from './stations.ts';
import { packLine } from './packs.ts';

const trayNo = z.int().min(1, 'Trays are numbered from 1').max(200, 'At most 200 trays');

export const drawBody = z.strictObject({
  source: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('landing'), id }),
    z.strictObject({ kind: z.literal('batch'), id }),
    z.strictObject({ kind: z.literal('pack'), id }),
  ]),
  /** null: all that is left of a landing, all on hand of a batch, the whole pack. */
  grams: positiveGrams.nullable().default(null),
  /** null: the service finds the tray that the pooling rules ask for. */
  trayNo: trayNo.nullable().default(null),
});
export const batchBody = z.strictObject({
  productKind: productKind.default('hot-smoked'),
  name: text(80, 'name').optional(),
  note: note.default(''),
  ingredients: text(1000, 'ingredients').default(''),
  allergens: z.array(text(40, 'allergen').min(1)).max(20).default([]),
  draws: z.array(drawBody).max(100, 'At most 100 draws at once').default([]),
});
export const batchPatch = z.strictObject({
  version,
  name: name.optional(),
  note: note.optional(),
  ingredients: text(1000, 'ingredients').optional(),
  allergens: z.array(text(40, 'allergen').min(1)).max(20).optional(),
});
export const drawsBody = z.strictObject({ draws: z.array(drawBody).min(1, 'Add at least one draw').max(100) });
/** A correction keeps the earlier value in the record. */
export const drawPatch = z.strictObject({
  version,
  reason: text(300, 'reason').default(''),
  grams: positiveGrams.optional(),
  cancelled: z.boolean().optional(),
});

const stageResult = {
  finishedAt: instant.nullable(),
  massOutG: grams.nullable(),
  addedG: grams,
  trimG: grams,
  lossReason: text(300, 'reason'),
  note,
  maxCoreC: celsius.nullable(),
  /** Somebody looked at the unit: a core of 85 C or more is rare, and counts only then. */
  coreUnitConfirmed: z.boolean(),
  holdMinutes: z.number().min(0, 'Minutes are 0 or more').max(2880, 'Minutes held are below 2,880 (two days)').nullable(),
  /** When the fish was back at 21 C or less; at the cool stage, or at the smoke. */
  cooledTo21At: instant.nullable(),
  /** When it was back at 5 C or less. */
  cooledAt: instant.nullable(),
  /** Of preparing: the fish came out of a freezer. */
  fromFrozen: z.boolean(),
  /** Of a cure: the warmest that the place where it stood was, as read there. */
  maxPlaceC: celsius.nullable(),
  /** Of mixing a dip: the earliest last day of the other ingredients, as it stands on their packages. */
  addedLastDay: localDay.nullable(),
};
/** Starts a stage; with finishedAt and massOutG it is recorded whole in one go. Loss is reckoned from the masses. */
export const stageBody = z.strictObject({
  kind: stageKind,
  startedAt: instant,
  dueAt: instant.nullable().default(null),
  /** null: all that is on hand. */
  massInG: positiveGrams.nullable().default(null),
  finishedAt: stageResult.finishedAt.default(null),
  massOutG: stageResult.massOutG.default(null),
  addedG: stageResult.addedG.default(0),
  trimG: stageResult.trimG.default(0),
  lossReason: stageResult.lossReason.default(''),
  note: stageResult.note.default(''),
  maxCoreC: stageResult.maxCoreC.default(null),
  coreUnitConfirmed: stageResult.coreUnitConfirmed.default(false),
  holdMinutes: stageResult.holdMinutes.default(null),
  cooledTo21At: stageResult.cooledTo21At.default(null),
  cooledAt: stageResult.cooledAt.default(null),
  /** Of a cure stage: how it is cured, as the planner hands it over. */
  cure: cureFactsBody.nullable().default(null),
  fromFrozen: stageResult.fromFrozen.default(false),
  maxPlaceC: stageResult.maxPlaceC.default(null),
  addedLastDay: stageResult.addedLastDay.default(null),
});
/** Finishes or corrects a stage. Finishing a pack stage writes the rest off as loss and closes the batch. */
export const stagePatch = z.strictObject({
  version,
  reason: text(300, 'reason').default(''),
  startedAt: instant.optional(),
  dueAt: instant.nullable().optional(),
  massInG: positiveGrams.optional(),
  finishedAt: stageResult.finishedAt.optional(),
  massOutG: stageResult.massOutG.optional(),
  addedG: stageResult.addedG.optional(),
  trimG: stageResult.trimG.optional(),
  lossReason: stageResult.lossReason.optional(),
  note: stageResult.note.optional(),
  maxCoreC: stageResult.maxCoreC.optional(),
  /** Left out, it falls with another maxCoreC. */
  coreUnitConfirmed: stageResult.coreUnitConfirmed.optional(),
  holdMinutes: stageResult.holdMinutes.optional(),
  cooledTo21At: stageResult.cooledTo21At.optional(),
  cooledAt: stageResult.cooledAt.optional(),
  fromFrozen: stageResult.fromFrozen.optional(),
  maxPlaceC: stageResult.maxPlaceC.optional(),
  addedLastDay: stageResult.addedLastDay.optional(),
  cancelled: z.boolean().optional(),
});

export const draw = z.object({
  id,
  trayNo: z.int(),
  grams,
  source: z.object({
    kind: z.enum(['landing', 'batch', 'pack']),
    id,
    /** "Mackerel, Ina, 3 Jun" or the lot or pack number. */
    label: z.string(),
    pooling: pooling.nullable(),
    form: fishForm.nullable(),
    /** Of a landing: what tells it from another of the same fish. */
    landing: z.object({ day: localDay, landedAt: instant.nullable(), caughtAt: instant.nullable(), writtenAt: instant }).nullable(),
  }),
  /** Whether it may be undone now: false once a stage, a draw or packs took the weight, or the lot it came from is closed. */
  undoable: z.boolean(),
  /** Whether it came from a lot that is packed and closed, which takes no weight back until its packing is open again. */
  sourceClosed: z.boolean(),
  createdBy: personRef,
  createdAt: instant,
  version,
});
/** What a weight stands for: which fish, whose, how many. Fish may be a fraction. */
export const origin = z.object({
  landingId: id,
  species: z.string(),
  speciesCode: z.string(),
  /** The form it was landed in. */
  form: fishForm,
  catcher: z.string(),
  tripId: id,
  day: localDay,
  boat: z.string(),
  area: z.string(),
  landedGrams: grams,
  /** The landing's weight was reckoned from lengths. */
  estimated: z.boolean(),
  fish: z.number().nullable(),
});
export const expected = z.object({ lowPct: z.number(), likelyPct: z.number(), highPct: z.number(), working });
export const stageYield = z.object({
  /** null: not recorded yet. */
  yieldPct: z.number().nullable(),
  expected: expected.nullable(),
  standing: z.enum(['within', 'below', 'above', 'unknown']),
  /** Why there is no expectation, or no yield, in words. */
  missing: z.string().nullable(),
});
export const stage = z.object({
  id,
  seq: z.int(),
  kind: stageKind,
  startedAt: instant,
  dueAt: instant.nullable(),
  finishedAt: instant.nullable(),
  massInG: grams,
  addedG: grams,
  massOutG: grams.nullable(),
  trimG: grams,
  lossG: grams,
  lossReason: z.string(),
  note: z.string(),
  maxCoreC: celsius.nullable(),
  coreUnitConfirmed: z.boolean(),
  holdMinutes: z.number().nullable(),
  cooledTo21At: instant.nullable(),
  cooledAt: instant.nullable(),
  fromFrozen: z.boolean(),
  maxPlaceC: celsius.nullable(),
  addedLastDay: localDay.nullable(),
  yield: stageYield,
  /** Of a cure stage, once told. */
  cure: cureFacts.nullable(),
  createdBy: personRef,
  version,
});
export const batch = z.object({
  id,
  lot: z.string(),
  name: z.string(),
  productKind,
  verdict,
  notMet,
  recalled: z.boolean(),
  closed: z.boolean(),
  onHandGrams: grams,
  packCount: z.int(),
  packedGrams: grams,
  species: z.array(z.string()),
  /** The running stage, if one runs. */
  running: z.object({ id, kind: stageKind, startedAt: instant, dueAt: instant.nullable() }).nullable(),
  lastStage: stageKind.nullable(),
  smokeDay: localDay.nullable(),
  createdAt: instant,
  version,
});
export const batchList = page(batch);
export const batchQuery = pageQuery.extend({ open: z.stringbool().optional(), q: text(60, 'search').optional() });
export const batchDetail = batch.extend({
  /** Whether a person named it; a name that the service made follows the fish. */
  nameTyped: z.boolean(),
  /** The fish that a typed name tells of when that is none of the fish in it, such as "mackerel"; else null. */
  nameSays: z.string().nullable(),
  note: z.string(),
  ingredients: z.string(),
  allergens: z.array(z.string()),
  /** What the lots that it was made from bring in besides, the nearest first. */
  inherited: z.array(z.object({ batchId: id, lot: z.string(), ingredients: z.string(), allergens: z.array(z.string()) })),
  /** What labels and the public page name: with all that it was made from, and by the cure where nobody typed it. */
  printed: z.object({
    /** Empty: none are named. */
    ingredients: z.string(),
    /** 'mixed': typed on lots that it was made from, and from the cure or the landings. 'fish': from the landings alone. null: none are named. */
    source: z.enum(['typed', 'cure', 'fish', 'mixed']).nullable(),
    /** Why none are named; `lot` is the lot above where it is missing, null for its own. */
    missing: z.object({ what: z.enum(['cure-untold', 'no-cure', 'mix-untold', 'no-fish']), lot: z.string().nullable() }).nullable(),
    /** Fish first. */
    allergens: z.array(z.string()),
    /** Those of them that the cure's other ingredients give away. */
    fromCure: z.array(allergenFound),
  }),
  mixedDay: localDay.nullable(),
  draws: z.array(draw),
  stages: z.array(stage),
  overallYield: stageYield,
  /** The rules as they stand on what was recorded; the verdict follows from them. */
  checks: z.array(check),
  /** What those who eat it are told. */
  advice: adviceGiven,
  /** Allergens that the ingredients give away and that labels do not name yet. */
  unticked: z.array(allergenFound),
  /** Lists of temperatures that count; the readings themselves are read apart. */
  readingLists: z.array(readingList),
  measurements: z.array(measurement),
  /** A laboratory measured enough salt for packs without air to be kept cold instead of frozen (salt.rop). */
  saltForNoAir: z.boolean(),
  releases: z.array(release),
  /** Empty for a member. */
  withdrawals: z.array(withdrawal),
  origins: z.array(origin),
  slots: z.array(slot),
  packs: z.array(packLine),
  /** Batches that took weight from this one. */
  drawnBy: z.array(z.object({ id, lot: z.string(), name: z.string(), grams })),
  recall: z.object({ at: instant, reason: z.string(), by: personRef }).nullable(),
  createdBy: personRef,
});
export const recallBody = z.strictObject({ reason: text(500, 'reason').min(3, 'Say why the lot is recalled') });
export const recallLiftBody = z.strictObject({ reason: text(500, 'reason').min(3, 'Say why the recall ends') });
/** Everyone who holds a pack of the lot, or of a lot made from it. */
export const holderList = z.object({
  items: z.array(
    z.object({ packId: id, pack: z.string(), lot: z.string(), grams, status: z.string(), holder: z.string(), since: instant.nullable(), /** The member who passed it on to its holder. */ through: z.string().nullable(), /** The holder was told of the recall that stands. */ told: z.boolean() }),
  ),
});

export type Batch = z.infer<typeof batch>;
export type BatchDetail = z.infer<typeof batchDetail>;
export type BatchBody = z.infer<typeof batchBody>;
export type DrawBody = z.infer<typeof drawBody>;
export type Draw = z.infer<typeof draw>;
export type Stage = z.infer<typeof stage>;
export type StageBody = z.infer<typeof stageBody>;
export type StagePatch = z.infer<typeof stagePatch>;
export type StageYield = z.infer<typeof stageYield>;
export type Origin = z.infer<typeof origin>;
