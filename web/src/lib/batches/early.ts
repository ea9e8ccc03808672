import type { StageKind } from '$domain/working.ts';
import { showSpan } from '$lib/show.ts';

/** A cure that ends within a tenth of its time of when it was due ends as planned. A choice of this service. */
const AS_PLANNED = 0.1;

/** What to ask of a cure that ends well before it was due; empty otherwise, and where nothing was planned. */
export function endsEarly(kind: StageKind, startedAt: string | null, dueAt: string | null, finishedAt: string): string {
  if (kind !== 'cure' || startedAt === null || dueAt === null) return '';
  const [start, due, end] = [startedAt, dueAt, finishedAt].map((at) => Date.parse(at)) as [number, number, number];
  if (due <= start || end < start || due - end <= AS_PLANNED * (due - start)) return '';
  return `It ends ${showSpan(due - end)} before it was due. Cut short, the fish is less salty than planned.`;
}
