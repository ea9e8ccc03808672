import { z } from 'zod';
import { grams, id, instant, localDay, page, pageQuery, personRef, stageKind, units } from './common.ts';
import { packLine } from './packs.ts';

/** units: what weights are told in; without it the club's. */
export const todayQuery = z.object({ units: units.optional() });
/** What stands against sharing it. What is under way is on hold until its evidence is there: of a batch that goes without saying. 'hold-unrecorded': nothing was found wrong, only records are missing; 'past': its last day is over. */
const mark = z.enum(['hold', 'hold-unrecorded', 'do-not-share', 'recalled', 'past']).nullable();

export const today = z.object({
  now: instant,
  day: localDay,
  /** What runs now and until when. */
  running: z.array(
    z.object({ batchId: id, lot: z.string(), name: z.string(), stageId: id, kind: stageKind, startedAt: instant, dueAt: instant.nullable(), station: z.string().nullable(), mark }),
  ),
  /** What begins next, and where a station is free again within hours for whoever booked or runs it; soonest first. */
  next: z.array(
    z.object({ at: instant, what: z.enum(['slot-starts', 'slot-ends']), stageKind, batchId: id, lot: z.string(), name: z.string(), station: z.string().nullable(), mark }),
  ),
  /** What waits for me. */
  waiting: z.array(
    z.object({
      kind: z.enum(['claim-to-decide', 'to-hand-over', 'evidence-missing', 'fish-not-assigned', 'batch-not-started', 'my-claim', 'past-date', 'recalled-pack', 'held-pack', 'recall-tell', 'held-tell', 'recall-open']),
      id: z.string(),
      title: z.string(),
      detail: z.string(),
      count: z.int(),
      path: z.string(),
      mark,
    }),
  ),
  claimable: z.array(packLine),
  claimableCount: z.int(),
  mine: z.array(packLine),
  /** Fish landed and not yet in a batch. */
  unassignedGrams: grams,
  /** For a captain of a club that has not yet all it needs: what to set up, in order. 'contact': how to reach the club; told only while that is empty. */
  start: z.array(z.object({ what: z.enum(['boat', 'station', 'people', 'contact', 'trip']), done: z.boolean() })),
  openTrips: z.array(z.object({ id, boat: z.string(), area: z.string(), day: localDay })),
});

export const recordQuery = pageQuery.extend({ subjectKind: z.string().max(40).optional(), subjectId: z.string().max(80).optional() });
export const recordEntry = z.object({
  id: z.string(),
  at: instant,
  by: personRef.nullable(),
  subjectKind: z.string(),
  subjectId: z.string(),
  action: z.enum(['created', 'changed', 'removed']),
  /** Field by field, with names as in the API. */
  fields: z.array(z.object({ field: z.string(), before: z.unknown().optional(), after: z.unknown().optional() })),
  reason: z.string().nullable(),
});
export const recordPage = page(recordEntry);

export type Today = z.infer<typeof today>;
export type Mark = z.infer<typeof mark>;
export type RecordEntry = z.infer<typeof recordEntry>;
