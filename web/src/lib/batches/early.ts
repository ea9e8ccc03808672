import type { StageKind } from '$domain/working.ts';
import type { CureMethod } from '$domain/cure/amounts.ts';
import { showSpan } from '$lib/show.ts';

/** A cure that ends within a tenth of its time of when it was due ends as planned. A choice of this service. */
const AS_PLANNED = 0.1;

/** A cure that goes on for more than a quarter of its time after it was due got much more salt. A choice of this service. */
const LONG_AFTER = 0.25;

/** What to say of a cure that ended long after it was due; empty otherwise, and where nothing was planned or longer does no harm. */
export function endsLate(kind: StageKind, startedAt: string | null, dueAt: string | null, finishedAt: string, method: CureMethod | null = null): string {
  if (kind !== 'cure' || startedAt === null || dueAt === null || method === 'equilibrium-brine') return '';
  const [start, due, end] = [startedAt, dueAt, finishedAt].map((at) => Date.parse(at)) as [number, number, number];
  if (due <= start || end - due <= LONG_AFTER * (due - start)) return '';
  return `It ends ${showSpan(end - due)} after it was due. It will be saltier than planned: cook a test piece, then taste it. Laying it in fresh water helps: see “Too salty?” at the batch.`;
}

/** What to ask of a cure that ends well before it was due; empty otherwise, and where nothing was planned. */
export function endsEarly(kind: StageKind, startedAt: string | null, dueAt: string | null, finishedAt: string): string {
  if (kind !== 'cure' || startedAt === null || dueAt === null) return '';
  const [start, due, end] = [startedAt, dueAt, finishedAt].map((at) => Date.parse(at)) as [number, number, number];
  if (due <= start || end < start || due - end <= AS_PLANNED * (due - start)) return '';
  return `It ends ${showSpan(due - end)} before it was due. Cut short, the fish is less salty than planned.`;
}
