import { Problem } from '../api/problem.ts';

/** Whether a link lets nobody in: used, too old, unknown, or mistyped so that it cannot be read. `looked` is what looking at it answered. */
export function linkEnded(looked: unknown, ...tried: unknown[]): boolean {
  const gone = (failure: unknown): boolean => failure instanceof Problem && (failure.code === 'link-ended' || failure.status === 404);
  return gone(looked) || (looked instanceof Problem && looked.status === 400) || tried.some(gone);
}
