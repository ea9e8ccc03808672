/**
 * An edit refused because somebody else was faster. The form keeps what was typed, shows both, and takes the version
 * that is there now, so that saving again is a choice made with both in view.
 *
 *   send: (body) => retake(patch(`/api/boats/${id}`, { ...body, version }, boatSchema), (now) => (version = now)),
 */
import { Problem } from './api/problem.ts';

/** How a field of the contract is called on the screen, and how its value is written there. */
export type FieldWords = Record<string, { label: string; show?: (value: unknown) => string }>;

/** The version that a refused edit found; null for any other failure. */
export function versionNow(failure: unknown): number | null {
  if (!(failure instanceof Problem)) return null;
  const theirs = failure.changes.find((change) => change.field === 'version')?.theirs;
  return typeof theirs === 'number' ? theirs : null;
}

/** Passes the answer on, and the version to save over when the edit was stale. */
export async function retake<R>(answer: Promise<R>, take: (version: number) => void): Promise<R> {
  try {
    return await answer;
  } catch (cause) {
    const now = versionNow(cause);
    if (now !== null) take(now);
    throw cause;
  }
}

/** For an act without a form: when what it acts on was changed meanwhile, it is read anew, so that the next try starts from that. */
export async function readAnew<R>(act: () => Promise<R>, reload: () => unknown): Promise<R> {
  try {
    return await act();
  } catch (cause) {
    if (versionNow(cause) !== null) await reload();
    throw cause;
  }
}
