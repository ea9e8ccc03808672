import { z } from 'zod';

/** An instant as an ISO 8601 string with its offset; the service answers in UTC. */
export const instant = z.iso.datetime({ offset: true }).meta({ description: 'Instant, ISO 8601 with offset' });
/** A local calendar day in the club's time zone. */
export const localDay = z.iso.date().meta({ description: "Calendar day in the club's time zone" });
/** A local time of day. */
export const localTime = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'Write the time as HH:MM, for example 06:30');
export const id = z.uuid();
export const grams = z.int().min(0).max(100_000_000).meta({ description: 'Grams' });
export const positiveGrams = z.int().min(1, 'Enter a weight above zero').max(100_000_000).meta({ description: 'Grams' });
export const celsius = z.number().min(-80).max(300).meta({ description: 'Degrees Celsius' });
/** A record's version; an edit sends back the version that it started from. */
export const version = z.int().min(1);

/** Text that a person types: trimmed, without control characters, of a bounded length. */
export function text(max: number, what = 'text') {
  return z
    .string()
    .trim()
    .max(max, `Keep the ${what} within ${max} characters`)
    .refine((value) => !/[\u0000-\u0008\u000B\u000C\u000E-\u001F\u007F]/.test(value), `The ${what} holds characters that cannot be shown`);
}
export const name = text(80, 'name').min(1, 'Enter a name');
export const note = text(2000, 'note');

export const role = z.enum(['captain', 'crew', 'member']);
export const units = z.enum(['metric', 'us']);
export const productKind = z.enum(['hot-smoked', 'dip', 'raw']);
export const fishForm = z.enum(['whole', 'gutted', 'headed-gutted', 'fillet']);
export const pooling = z.enum(['apart', 'tray', 'pooled']);
export const stageKind = z.enum(['prepare', 'cure', 'rinse', 'dry', 'smoke', 'cool', 'mix', 'pack']);
export const packageKind = z.enum(['tub', 'bag', 'vacuum', 'jar']);
export const storage = z.enum(['refrigerated', 'frozen']);
export const verdict = z.enum(['hold', 'clear', 'do-not-share']);
/** Whether something that was found stands against the batch; false on one on hold: only records are missing. */
export const notMet = z.boolean();
export const packStatus = z.enum(['ready', 'claimed', 'handed-over', 'used', 'discarded']);
export const dateKind = z.enum(['use-by', 'best-before']);

/** A list that grows is read in pages: ask for the next one with the cursor of the last. */
export const pageQuery = z.object({
  cursor: z.string().max(200).optional(),
  limit: z.coerce.number().int().min(1).max(100).default(50),
});
export function page<T extends z.ZodType>(item: T) {
  return z.object({ items: z.array(item), nextCursor: z.string().nullable() });
}

/** What a number was reckoned with; the app explains each on a page of its own. The same as the domain's MODELS: a test holds them together. */
export const model = z.enum([
  'brine', 'kitchen-measures', 'salt-balance', 'vessel', 'salt-uptake', 'salt-fit', 'water-activity',
  'fish-properties', 'humid-air', 'smoking-heat', 'smoker-fit', 'hold', 'lethality', 'cooling',
  'ice', 'chilling', 'histamine', 'exposure',
  'spoilage', 'listeria-growth', 'dates',
  'yield', 'length-weight', 'sharing', 'mercury',
]);

/** How a number came about. */
export const working = z.object({
  inputs: z.array(z.object({ name: z.string(), value: z.union([z.string(), z.number()]), unit: z.string().optional() })),
  model: model.optional(),
  formula: z.string(),
  source: z.string(),
  range: z.string().optional(),
  uncertainty: z.string().optional(),
  certainty: z.enum(['published', 'from memory', 'common practice', 'arithmetic']),
});

/** Where in the work a rule belongs, in that order. The same as the domain's RULE_GROUPS. */
export const ruleGroup = z.enum(['start', 'boat', 'cure', 'smoke', 'cool', 'keep', 'dates', 'people']);
/** Where what a rule asks for is entered; 'contents': what the batch was made of. */
export const evidenceAt = z.enum(['landing', 'readings', 'laboratory', 'stage', 'packs', 'contents']);
export const readingPlace = z.enum(['core', 'chamber', 'surface', 'storage', 'brine']);

/** One rule applied to what was recorded. */
export const check = z.object({
  ruleId: z.string(),
  /** Which part of the rule, when it has several. */
  part: z.string(),
  title: z.string(),
  /** What it is about, in words, to follow the title; empty where no other check has the same one. */
  about: z.string(),
  group: ruleGroup,
  state: z.enum(['met', 'not-met', 'not-recorded']),
  found: z.string(),
  limit: z.string(),
  source: z.string(),
  certainty: z.enum(['published', 'from memory', 'common practice', 'arithmetic']),
  whatToDo: z.string(),
  /** What it means for the batch as it stands; 'nothing' when it is met, released, or for information. */
  means: z.enum(['hold', 'do-not-share', 'nothing']),
  /** Whether it is part of the verdict; false: shown for information. */
  counts: z.boolean(),
  /** Whether the club's own, tighter limit was used. */
  tightened: z.boolean(),
  /** Whether a captain may let the batch go with a reason. */
  releasable: z.boolean(),
  released: z.object({ by: z.string(), reason: z.string() }).nullable(),
  /** How the number came about, where it was reckoned. */
  working: working.nullable(),
  evidenceAt,
  /** The stage that it is entered with, or whose readings they are. */
  evidenceStage: stageKind.nullable(),
  /** What is read, where readings show it too. */
  evidencePlace: readingPlace.nullable(),
});

export const personRef = z.object({ id, name: z.string() });

/** RFC 9457 problem document: the body of every 4xx and 5xx answer. */
export const problem = z.object({
  type: z.string(),
  title: z.string(),
  status: z.int(),
  detail: z.string(),
  code: z.string(),
  requestId: z.string().optional(),
  /** What is wrong, field by field, and what to do about it. */
  errors: z
    .array(z.object({ field: z.string(), value: z.unknown().optional(), message: z.string(), remedy: z.string() }))
    .optional(),
  /** On a stale edit: what somebody else changed meanwhile. */
  changes: z.array(z.object({ field: z.string(), yours: z.unknown().optional(), theirs: z.unknown().optional() })).optional(),
});
export const idParams = z.object({ id });
export const nothing = z.object({}).meta({ description: 'Done' });

export type Role = z.infer<typeof role>;
export type Units = z.infer<typeof units>;
export type ProblemBody = z.infer<typeof problem>;
export type Check = z.infer<typeof check>;
export type Working = z.infer<typeof working>;
export type Model = z.infer<typeof model>;
