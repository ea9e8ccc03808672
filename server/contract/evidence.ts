import { z } from 'zod';
import { check, id, instant, localDay, note, personRef, readingPlace, text, verdict, version } from './common.ts';

export const readingFlag = z.enum(['out-of-order', 'duplicate', 'conflict', 'probe-error', 'fahrenheit']);
const reason = text(300, 'reason').default('').meta({ description: 'Needed to withdraw or to end; the record keeps it' });

/** One temperature as it was read, whatever it says: a probe's error value is kept and flagged. */
export const readingBody = z.strictObject({
  at: instant,
  celsius: z.number().min(-99_999).max(99_999).meta({ description: 'Degrees Celsius' }),
  humidityPct: z.number().min(0, 'Humidity is 0 to 100 %').max(100, 'Humidity is 0 to 100 %').nullable().default(null),
});
/** Temperatures of one probe at one place, in one write: rows, or the text as a logger or a person writes it. */
export const readingsBody = z
  .strictObject({
    place: readingPlace,
    probe: text(40, 'probe').default(''),
    /** The stage that they belong to, if one. */
    stageId: id.nullable().default(null),
    readings: z.array(readingBody).min(1, 'Enter at least one reading').max(5000, 'At most 5,000 readings at once').optional(),
    /** Whether the rows were typed one by one or come from a logger. A text is always pasted. */
    source: z.enum(['typed', 'pasted']).default('typed'),
    text: z.string().min(1, 'Paste the readings').max(500_000, 'At most 500,000 characters at once').optional(),
    /** Of numbers in the text that carry no unit. */
    unit: z.enum(['C', 'F']).default('C'),
    /** Of lines in the text that carry no date; null: the day the stage began, or the one after when all would be long before it; or today. */
    day: localDay.nullable().default(null),
    /** Somebody looked at the unit of a log that seems too hot. */
    unitConfirmed: z.boolean().default(false),
  })
  .refine((b) => (b.readings === undefined) !== (b.text === undefined), 'Send either readings or a text');

/** A table of several columns in one write: those that are named become a list each, whole or not at all. */
export const readingColumnsBody = z.strictObject({
  text: z.string().min(1, 'Paste the readings').max(500_000, 'At most 500,000 characters at once'),
  unit: z.enum(['C', 'F']).default('C'),
  day: localDay.nullable().default(null),
  columns: z
    .array(z.strictObject({
      /** Counted from 1 over all columns of the table, that of the time included. */
      no: z.int().min(1).max(60),
      place: readingPlace,
      probe: text(40, 'probe').default(''),
      stageId: id.nullable().default(null),
      unitConfirmed: z.boolean().default(false),
      /** The column that holds the relative humidity of this one's air, in per cent. */
      humidityNo: z.int().min(1).max(60).nullable().default(null),
    }))
    .min(1, 'Say what at least one column is')
    .max(12, 'At most 12 columns at once'),
});

export const readingList = z.object({
  id,
  batchId: id,
  stageId: id.nullable(),
  place: readingPlace,
  probe: z.string(),
  source: z.enum(['typed', 'pasted']),
  readingCount: z.int(),
  firstAt: instant,
  lastAt: instant,
  /** Of what still counts: without error values of the probe and without withdrawn readings; null when nothing else is there. */
  lowestC: z.number().nullable(),
  highestC: z.number().nullable(),
  unitConfirmed: z.boolean(),
  /** Single readings that do not count any more, by number. */
  withdrawnNos: z.array(z.int()),
  withdrawn: z.boolean(),
  createdBy: personRef,
  createdAt: instant,
  version,
});
export const reading = z.object({ no: z.int(), at: instant, celsius: z.number(), humidityPct: z.number().nullable(), flag: readingFlag.nullable(), withdrawn: z.boolean() });
export const readingsOfBatch = z.object({ items: z.array(readingList.extend({ readings: z.array(reading) })) });
/** With listId the readings of one list alone; withdrawn lists come when asked for. */
export const readingsQuery = z.object({ listId: id.optional(), withdrawn: z.stringbool().optional() });

export const flaggedReading = z.object({ no: z.int(), at: instant, celsius: z.number(), flag: readingFlag, text: z.string() });
export const leftOutLine = z.object({ lineNo: z.int(), text: z.string(), why: z.string() });
/** What came of the readings, and what the batch's rules then say. */
export const readingsMade = z.object({ list: readingList, flagged: z.array(flaggedReading), leftOut: z.array(leftOutLine), verdict, checks: z.array(check) });
export const readingColumnsMade = z.object({ items: z.array(readingsMade.omit({ verdict: true, checks: true }).extend({ no: z.int() })), verdict, checks: z.array(check) });
/** Withdraws a list or single readings of it, or says that its unit was looked at. What was read is never altered. */
export const readingListPatch = z.strictObject({
  version,
  reason,
  withdrawn: z.boolean().optional(),
  withdrawnNos: z.array(z.int().min(1)).max(5000).optional(),
  unitConfirmed: z.boolean().optional(),
});
export const readingListChanged = z.object({ list: readingList, verdict, checks: z.array(check) });

export const measurementKind = z.enum(['water-phase-salt', 'nitrite', 'water-activity']);
export const fishPart = z.enum(['loin', 'belly', 'tail', 'whole']);
/** A laboratory's figure: water-phase salt in per cent, nitrite in ppm, water activity as a fraction of 1. */
export const measurementBody = z.strictObject({
  kind: measurementKind,
  value: z.number().min(0, 'A measured value is 0 or more').max(5000),
  part: fishPart,
  laboratory: text(80, 'laboratory').min(1, 'Name the laboratory'),
  sampledDay: localDay,
  reportedDay: localDay,
  note: note.default(''),
});
export const measurementPatch = z.strictObject({ version, reason, withdrawn: z.boolean() });
export const measurement = z.object({
  id, kind: measurementKind, value: z.number(), part: fishPart, laboratory: z.string(), sampledDay: localDay, reportedDay: localDay, note: z.string(), createdBy: personRef, createdAt: instant, version,
});

/** A captain lets a batch go although one rule is not met or not recorded; it holds for what was found then. */
export const releaseBody = z.strictObject({ ruleId: z.string().min(1).max(40), reason: text(500, 'reason').min(3, 'Say why it may go') });
export const releasePatch = z.strictObject({ version, reason, withdrawn: z.literal(true) });
export const release = z.object({ id, ruleId: z.string(), found: z.string(), reason: z.string(), createdBy: personRef, createdAt: instant, version });

/**
 * What of a batch's own evidence does not count any more, and why: at the checks of the rules that it was read for. For crew and captains, as the
 * record is; a member is told none.
 */
export const withdrawal = z.object({
  kind: z.enum(['readings', 'figure', 'release']),
  ruleIds: z.array(z.string()),
  /** Of readings: where, by which probe, how many of how many. */
  place: readingPlace.nullable(),
  probe: z.string(),
  readings: z.int().nullable(),
  of: z.int().nullable(),
  /** Of a laboratory's figure. */
  measured: measurementKind.nullable(),
  value: z.number().nullable(),
  at: instant,
  by: personRef.nullable(),
  /** Empty where nobody was asked for one then. */
  reason: z.string(),
});

export type ReadingsBody = z.infer<typeof readingsBody>;
export type ReadingColumnsBody = z.infer<typeof readingColumnsBody>;
export type ReadingColumnsMade = z.infer<typeof readingColumnsMade>;
export type ReadingListRecord = z.infer<typeof readingList>;
export type ReadingsOfBatch = z.infer<typeof readingsOfBatch>;
export type ReadingsMade = z.infer<typeof readingsMade>;
export type ReadingListPatch = z.infer<typeof readingListPatch>;
export type Measurement = z.infer<typeof measurement>;
export type MeasurementBody = z.infer<typeof measurementBody>;
export type Withdrawal = z.infer<typeof withdrawal>;
export type Release = z.infer<typeof release>;
