import { z } from 'zod';
import { adviceGiven } from './advice.ts';
import { check, dateKind, grams, id, instant, localDay, name, note, notMet, packageKind, packStatus, page, pageQuery, personRef, positiveGrams, productKind, storage, text, verdict, version, working } from './common.ts';

export const claimStatus = z.enum(['asked', 'confirmed', 'refused', 'withdrawn', 'moved', 'handed-over']);
/** A pack as a row of a list. Names of others are told to crew and captains only. */
export const packLine = z.object({
  id,
  batchId: id,
  lot: z.string(),
  packNo: z.int(),
  trayNo: z.int(),
  product: z.string(),
  grams,
  packageKind,
  storage,
  lastDay: localDay.nullable(),
  dateKind,
  status: packStatus,
  /** 'hold' until the batch's evidence is there and good. */
  verdict,
  notMet,
  recalled: z.boolean(),
  /** Member or recipient who has it. */
  holder: z.string().nullable(),
  claim: z.object({ id, member: personRef, status: claimStatus, version }).nullable(),
  mine: z.boolean(),
  printCount: z.int(),
  version,
});
export const packList = page(packLine);
export const packQuery = pageQuery.extend({
  batchId: id.optional(),
  status: packStatus.optional(),
  storage: storage.optional(),
  /** Only what may be claimed now. */
  claimable: z.stringbool().optional(),
  /** Only what I hold or have claimed. */
  mine: z.stringbool().optional(),
  q: text(60, 'search').optional(),
});
export const packsBody = z.strictObject({
  weightsG: z.array(positiveGrams).min(1, 'Enter at least one weight').max(500, 'At most 500 packs at once'),
  packageKind,
  storage,
  trayNo: z.int().min(1).max(200).default(1),
  packedAt: instant,
});
export const packsMade = z.object({ items: z.array(packLine), onHandGrams: grams });
export const packPatch = z.strictObject({
  version,
  reason: text(300, 'reason').default(''),
  grams: positiveGrams.optional(),
  packageKind: packageKind.optional(),
  storage: storage.optional(),
  frozenDay: localDay.nullable().optional(),
  thawedDay: localDay.nullable().optional(),
  discarded: z.boolean().optional(),
});
export const handOver = z.object({
  id,
  packId: id,
  pack: z.string(),
  product: z.string(),
  grams,
  kind: z.enum(['hand-over', 'gift']),
  from: z.string().nullable(),
  to: z.string(),
  handedAt: instant,
  by: personRef,
  note: z.string(),
  undone: z.boolean(),
  /** Whoever asks passed the pack on themselves. */
  fromMe: z.boolean(),
  recalled: z.boolean(),
  /** What the lot of the pack is judged since. */
  verdict,
  notMet,
  /** Whoever has the pack was told of the recall that stands. */
  told: z.boolean(),
  version,
});
export const handOverList = page(handOver);
/** passedOn: only what I passed on myself, and what was not undone. */
export const handOverQuery = pageQuery.extend({ passedOn: z.stringbool().optional() });
export const toldBody = z.strictObject({ told: z.boolean() });
export const toldAnswer = z.object({ packId: id, told: z.boolean() });
export const packDetail = packLine.extend({
  productKind,
  species: z.array(z.string()),
  smokeDay: localDay.nullable(),
  packedAt: instant,
  frozenDay: localDay.nullable(),
  thawedDay: localDay.nullable(),
  storageWords: z.string(),
  labelWords: z.array(z.string()),
  dateReasons: z.array(z.object({ ruleId: z.string(), text: z.string(), source: z.string() })),
  dateWorking: working.nullable(),
  checks: z.array(check),
  /** What nobody recorded, though it would stand against sharing if it were recorded as not met; of a clear lot alone. */
  notRecorded: z.array(z.string()),
  advice: adviceGiven,
  holdReason: z.string().nullable(),
  recallReason: z.string().nullable(),
  origins: z.array(
    z.object({ landingId: id, species: z.string(), catcher: z.string(), day: localDay, boat: z.string(), landedGrams: grams, /** The landing's weight was reckoned from lengths. */ estimated: z.boolean(), fish: z.number().nullable() }),
  ),
  handOvers: z.array(handOver),
  publicUrl: z.string(),
});

export const claim = z.object({
  id,
  pack: packLine,
  member: personRef,
  status: claimStatus,
  note: z.string(),
  reason: z.string(),
  createdAt: instant,
  decidedAt: instant.nullable(),
  decidedBy: personRef.nullable(),
  version,
});
export const claimList = page(claim);
/** memberId: one member's claims; a member's own come whatever is asked. */
export const claimQuery = pageQuery.extend({ status: claimStatus.optional(), mine: z.stringbool().optional(), memberId: id.optional() });
/** memberId: a captain may claim for another member. */
export const claimBody = z.strictObject({ packId: id, memberId: id.optional(), note: note.default('') });
/** All of them, or none. */
export const claimSeveralBody = z.strictObject({ packIds: z.array(id).min(1, 'Choose at least one pack').max(100, 'At most 100 packs at once'), memberId: id.optional(), note: note.default('') });
export const claimsMade = z.object({ items: z.array(claim) });
export const claimDecisionBody = z.strictObject({ version, reason: text(300, 'reason').default('') });
export const claimMoveBody = z
  .strictObject({ version, reason: text(300, 'reason').default(''), toPackId: id.optional(), toMemberId: id.optional() })
  .refine((m) => (m.toPackId === undefined) !== (m.toMemberId === undefined), 'Move the claim either to another pack or to another member');

export const recipient = z
  .strictObject({ memberId: id.optional(), name: name.optional() })
  .refine((r) => (r.memberId === undefined) !== (r.name === undefined), 'Name either a member or a recipient');
export const handOverBody = z.strictObject({
  packIds: z.array(id).min(1, 'Choose at least one pack').max(200),
  to: recipient,
  handedAt: instant.optional(),
  note: note.default(''),
});
export const handOversMade = z.object({ items: z.array(handOver) });
export const giftBody = z.strictObject({ packId: id, to: recipient, note: note.default('') });
export const undoBody = z.strictObject({ version, reason: text(300, 'reason').min(3, 'Say why it is undone') });

/** What a stranger with the code sees: the food, never a person. */
export const publicPack = z.object({
  clubName: z.string(),
  product: z.string(),
  productKind,
  species: z.array(z.string()),
  lot: z.string(),
  packNo: z.int(),
  grams,
  smokeDay: localDay.nullable(),
  lastDay: localDay.nullable(),
  dateKind,
  /** 'good', 'past' (its day is over), 'hold', 'recalled', 'unknown' (no date can be told) */
  state: z.enum(['good', 'past', 'hold', 'recalled', 'unknown']),
  stateWords: z.string(),
  /** What nobody recorded of it, though it would stand against sharing if it were recorded as not met; only of what is 'good'. */
  notRecorded: z.array(z.string()),
  storage,
  storageWords: z.string(),
  labelWords: z.array(z.string()),
  ingredients: z.string(),
  allergens: z.array(z.string()),
  saleWords: z.string(),
  cautions: z.array(z.string()),
  /** Why the lot is recalled; null while it is not, and where the reason names somebody. */
  recallReason: z.string().nullable(),
  /** How to reach the club, in its own words; may be empty. */
  contactWords: z.string(),
  advice: adviceGiven,
  timeZone: z.string(),
});
/** Any text: what is no code at all is answered like a code that is not there. */
export const publicCodeParams = z.object({ code: z.string().max(200) });

export type PackLine = z.infer<typeof packLine>;
export type PackDetail = z.infer<typeof packDetail>;
export type Claim = z.infer<typeof claim>;
export type HandOver = z.infer<typeof handOver>;
export type PublicPack = z.infer<typeof publicPack>;
