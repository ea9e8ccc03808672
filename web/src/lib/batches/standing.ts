/** How a batch stands, as one mark and its words: what has simply not come yet looks otherwise than what was found wrong. */
import type { Batch, BatchDetail } from '$contract/batches.ts';
import type { StageKind } from '$domain/working.ts';
import type { StateName } from '$lib/ui/states.ts';

type Known = Pick<Batch, 'verdict' | 'notMet' | 'recalled' | 'productKind' | 'smokeDay' | 'running' | 'lastStage'>;
type Standing = { state: StateName; word?: string };

const NOT_YET: Partial<Record<Batch['productKind'], string>> = { 'hot-smoked': 'not smoked yet', dip: 'not mixed yet' };

const NOW: Record<StageKind, string> = { prepare: 'being prepared', cure: 'being cured', rinse: 'being rinsed', dry: 'being dried', smoke: 'being smoked', cool: 'being cooled', mix: 'being mixed', pack: 'being packed' };
/** A stage that runs: what is being done, and red for the heat of a smoke alone. */
export const runningMark = (kind: StageKind): { state: StateName; word: string } => ({ state: kind === 'smoke' ? 'running' : 'under-way', word: NOW[kind] });

/** Whether it was smoked, or mixed: until then it is no news that something is not recorded. */
export function isBegun({ productKind, smokeDay, running, lastStage }: Omit<Known, 'verdict' | 'notMet' | 'recalled'>): boolean {
  if (productKind === 'raw') return true;
  if (running?.kind === 'smoke' || running?.kind === 'mix') return false;
  return productKind === 'dip' ? lastStage === 'mix' || lastStage === 'pack' : smokeDay !== null;
}

/** What has not come yet, where that alone explains the hold; a smoke that runs has begun and is not finished. */
function notYetWords(batch: Omit<Known, 'verdict' | 'notMet' | 'recalled'>): string | undefined {
  if (isBegun(batch)) return undefined;
  if (batch.running?.kind === 'smoke') return 'smoking is not finished';
  if (batch.running?.kind === 'mix') return 'mixing is not finished';
  return NOT_YET[batch.productKind];
}

export type Smoked = { startedAt: string; finishedAt: string } | { day: string };
/** When it was smoked: here, or before it came here; null while it was not, or still smokes. */
export function smokedWhen({ productKind, smokeDay, stages }: Pick<BatchDetail, 'productKind' | 'smokeDay' | 'stages'>): Smoked | null {
  if (productKind !== 'hot-smoked') return null;
  const smoke = stages.findLast((s) => s.kind === 'smoke');
  if (smoke) return smoke.finishedAt === null ? null : { startedAt: smoke.startedAt, finishedAt: smoke.finishedAt };
  return smokeDay === null ? null : { day: smokeDay };
}

/** Whether there is cooling ahead: not once it is cold, or packed. */
export const coolsYet = ({ stages, lastStage }: Pick<BatchDetail, 'stages' | 'lastStage'>): boolean => lastStage !== 'pack' && !stages.some((s) => (s.kind === 'cool' && s.finishedAt !== null) || s.cooledAt !== null);

/** On hold reads and looks otherwise where only a record is missing than where something was found that is not met. */
export const verdictState = ({ verdict, notMet }: Pick<Batch, 'verdict' | 'notMet'>): 'clear' | 'do-not-share' | 'hold' | 'hold-unrecorded' => (verdict === 'hold' && !notMet ? 'hold-unrecorded' : verdict);
const HOLD_IN_FULL = { hold: 'hold, do not share: not met', 'hold-unrecorded': 'hold, do not share yet: not recorded' } as const;
/** The same where it decides the screen. */
export function verdictInFull(of: Pick<Batch, 'verdict' | 'notMet'>): Standing {
  const state = verdictState(of);
  return state === 'hold' || state === 'hold-unrecorded' ? { state, word: HOLD_IN_FULL[state] } : { state };
}

/** In a list, of what it tells of a batch: on hold reads as what is missing where the batch has not got there. */
export function standingInList(batch: Known): Standing {
  if (batch.recalled) return { state: 'recalled' };
  const notYet = batch.verdict === 'hold' && !batch.notMet ? notYetWords(batch) : undefined;
  return notYet === undefined ? { state: verdictState(batch) } : { state: 'not-yet', word: notYet };
}

/** On the batch's own page: the cross only where something was found that is not met. */
export function standingOnPage(batch: Known): Standing {
  if (batch.recalled) return { state: 'recalled' };
  const notYet = batch.verdict === 'hold' && !batch.notMet ? notYetWords(batch) : undefined;
  return notYet === undefined ? verdictInFull(batch) : { state: 'not-yet', word: `hold: ${notYet}` };
}
