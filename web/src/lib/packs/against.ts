/** What stands against a pack going to anybody, and what whoever decides a claim on it may do. */
import type { PackLine } from '$contract/packs.ts';
import { verdictState } from '$lib/batches/standing.ts';
import type { StateName } from '$lib/ui/states.ts';

type Against = Extract<StateName, 'recalled' | 'do-not-share' | 'hold' | 'hold-unrecorded' | 'unknown' | 'past'>;

/** The mark of what stands against it, the gravest first; null where nothing does. A day that cannot be told is never a pass. */
export function againstSharing(pack: Pick<PackLine, 'recalled' | 'verdict' | 'notMet' | 'lastDay'>, today: string): Against | null {
  if (pack.recalled) return 'recalled';
  const state = verdictState(pack);
  if (state !== 'clear') return state;
  if (pack.lastDay === null) return 'unknown';
  return pack.lastDay < today ? 'past' : null;
}

/** Why a claim on such a pack cannot be confirmed, and what to do instead. */
export const CLAIM_REMEDY: Record<Against, string> = {
  recalled: 'Its lot is recalled: refuse the claim, and do not hand the pack over.',
  'do-not-share': 'It must not be shared: move the claim to another pack, or refuse it.',
  hold: 'It is on hold, because something is not met: move the claim to another pack, or refuse it.',
  'hold-unrecorded': 'It is on hold until what is missing is recorded: wait, move the claim to another pack, or refuse it.',
  unknown: 'Its last day cannot be told yet, because something is not recorded: wait, move the claim to another pack, or refuse it.',
  past: 'It is past its date: move the claim to another pack, or refuse it. Then throw this pack away.',
};
