import type { Mark, Today } from '../../contract/today.ts';
import { formatPackNo } from '../../domain/lot-code.ts';
import { formatDay } from '../../domain/time.ts';
import { formatGrams } from '../../domain/units.ts';
import type { ClubSettings } from '../../platform/club-settings.ts';
import type * as packs from './today-packs.store.ts';
import type * as store from './today.store.ts';

type Waiting = Today['waiting'][number];
type Units = ClubSettings['units'];

/** On hold for want of a record alone is told from what was found wrong. */
const heldMark = ({ verdict, notMet }: { verdict: 'hold' | 'do-not-share'; notMet: boolean }): Mark => (verdict === 'hold' && !notMet ? 'hold-unrecorded' : verdict);

/** What stands against sharing a claimed pack; one whose last day cannot be told waits as one on hold does. */
function markOf(row: packs.ClaimRow, day: string): Mark {
  if (row.recalled) return 'recalled';
  if (row.verdict !== 'clear') return heldMark({ ...row, verdict: row.verdict });
  if (row.lastDay === null) return 'hold-unrecorded';
  return row.lastDay < day ? 'past' : null;
}

const many = (n: number, one: string, more = `${one}s`) => `${n} ${n === 1 ? one : more}`;

/** What to do where a claim cannot be confirmed, or what was confirmed cannot be handed over any more. */
function claimRemedy(row: packs.ClaimRow, day: string): string {
  if (row.verdict !== 'clear') return '';
  if (row.lastDay === null) return '. Its last day cannot be told yet: wait, move the claim or refuse it.';
  return row.lastDay < day ? `. Its last day was ${formatDay(row.lastDay)}: move the claim to another pack or refuse it, then throw this pack away.` : '';
}

/** A claim that was confirmed comes back to be decided once its pack may not be handed over for its date. */
export const claimToDecide = (row: packs.ClaimRow, units: Units, day: string): Waiting => ({
  kind: 'claim-to-decide',
  id: row.id,
  title: row.status === 'confirmed' ? `${row.product} for ${row.member} cannot be handed over` : `${row.member} claims ${row.product}`,
  detail: `Pack ${formatPackNo(row.lot, row.packNo)}, ${formatGrams(row.grams, units)}${claimRemedy(row, day)}`,
  count: 1,
  path: `/packs/${row.packId}`,
  mark: markOf(row, day),
});

export const handOver = (row: packs.ToHandOverRow, units: Units): Waiting => ({
  kind: 'to-hand-over',
  id: row.memberId,
  title: `Hand ${many(row.packs, 'pack')} to ${row.member}`,
  detail: `${formatGrams(row.grams, units)} in all`,
  count: row.packs,
  path: `/packs?face=claims&member=${row.memberId}`,
  mark: null,
});

export const evidence = (row: store.EvidenceRow): Waiting => ({
  kind: 'evidence-missing',
  id: row.batchId,
  title: `${row.name} is on hold`,
  detail: `Lot ${row.lot}. ${row.notMet ? 'Something is not met' : 'Something is not recorded'}: open it to see what.`,
  count: 1,
  path: `/batches/${row.batchId}`,
  mark: heldMark({ verdict: 'hold', notMet: row.notMet }),
});

export const fish = (row: store.FishRow, units: Units): Waiting => ({
  kind: 'fish-not-assigned',
  id: row.tripId,
  title: `${formatGrams(row.grams, units)} of fish in no batch`,
  detail: `${row.boat}, ${formatDay(row.day)}, ${many(row.landings, 'landing')}`,
  count: row.landings,
  path: `/fish/${row.tripId}`,
  mark: null,
});

export const notStarted = (row: store.NotStartedRow, units: Units): Waiting => ({
  kind: 'batch-not-started',
  id: row.batchId,
  title: `${row.name} is not started`,
  detail: `Lot ${row.lot}, ${formatGrams(row.grams, units)} waiting`,
  count: 1,
  path: `/batches/${row.batchId}`,
  mark: row.mark,
});

const newsWords: Record<string, string> = { confirmed: 'is yours to collect', refused: 'was refused', moved: 'was moved' };
/** A claim that was confirmed says nothing of the lot since: what stands against eating it comes first. */
function newsOf(row: packs.ClaimRow, day: string): string {
  if (row.status !== 'confirmed') return newsWords[row.status] ?? row.status;
  if (row.recalled) return 'is recalled: do not eat it';
  if (row.verdict === 'do-not-share') return 'must not be shared: do not eat it';
  if (row.verdict !== 'clear' || row.lastDay === null) return 'is on hold: wait until the club says so';
  return row.lastDay < day ? 'is past its date: do not collect it' : newsWords['confirmed']!;
}
export const claimNews = (row: packs.ClaimRow, day: string): Waiting => ({
  kind: 'my-claim',
  id: row.id,
  title: `${row.product} ${newsOf(row, day)}`,
  detail: `Pack ${formatPackNo(row.lot, row.packNo)}${row.reason ? `: ${row.reason}` : ''}`,
  count: 1,
  path: `/packs/${row.packId}`,
  mark: row.status === 'confirmed' ? markOf(row, day) : null,
});

export const recalled = (row: packs.HeldRow): Waiting => ({
  kind: 'recalled-pack',
  id: row.packId,
  title: `Do not eat ${row.product}, pack ${formatPackNo(row.lot, row.packNo)}`,
  detail: `The lot is recalled: ${row.recallReason ?? 'ask your captain'}. Do not pass it on.`,
  count: 1,
  path: `/packs/${row.packId}`,
  mark: 'recalled',
});

export const notClear = (row: packs.NotClearRow): Waiting => ({
  kind: 'held-pack',
  id: row.packId,
  title: `Do not eat ${row.product}, pack ${formatPackNo(row.lot, row.packNo)}${row.verdict === 'hold' ? ', for now' : ''}`,
  detail: row.verdict === 'hold' ? 'Its lot is on hold. Keep it cold, do not pass it on, and ask your captain.' : 'Its lot must not be shared. Do not pass it on, and ask your captain.',
  count: 1,
  path: `/packs/${row.packId}`,
  mark: heldMark(row),
});

export const tell = (row: packs.TellRow): Waiting => ({
  kind: 'recall-tell',
  id: row.handOverId,
  title: `Recalled: tell ${row.to}`,
  detail: `You passed on ${row.product}, pack ${formatPackNo(row.lot, row.packNo)}. It must not be eaten: ${row.recallReason ?? 'ask your captain'}.`,
  count: 1,
  path: `/packs/${row.packId}`,
  mark: 'recalled',
});

export const tellHeld = (row: packs.TellHeldRow): Waiting => ({
  kind: 'held-tell',
  id: row.handOverId,
  title: `${row.verdict === 'hold' ? 'On hold' : 'Do not share'}: tell ${row.to}`,
  detail: `You passed on ${row.product}, pack ${formatPackNo(row.lot, row.packNo)}. ${row.verdict === 'hold' ? 'It must not be eaten or passed on until the club says so: keep it cold.' : 'It must not be eaten or passed on: ask your captain.'}`,
  count: 1,
  path: `/packs/${row.packId}`,
  mark: heldMark(row),
});

export function openRecall(row: packs.OpenRecallRow): Waiting {
  const call = row.toCall > 0 ? [`call ${row.names.join(', ')} (${many(row.toCall, 'pack')})`] : [];
  const here = row.here > 0 ? [`${many(row.here, 'pack')} still in the larder to discard`] : [];
  return {
    kind: 'recall-open',
    id: row.batchId,
    title: `The recall of ${row.name} is not settled`,
    detail: `Lot ${row.lot}: ${[...call, ...here].join('; ')}`,
    count: row.toCall + row.here,
    path: `/batches/${row.batchId}`,
    mark: 'recalled',
  };
}

export const pastDate = (row: packs.HeldRow): Waiting => ({
  kind: 'past-date',
  id: row.packId,
  title: `${row.product} is past its date`,
  detail: `Pack ${formatPackNo(row.lot, row.packNo)}, ${row.dateKind === 'use-by' ? 'use by' : 'best before'} ${row.lastDay ? formatDay(row.lastDay) : 'not known'}`,
  count: 1,
  path: `/packs/${row.packId}`,
  mark: 'past',
});
