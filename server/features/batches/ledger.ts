import type { StageKind } from '../../domain/working.ts';

/** One thing that moved or weighed fish of a batch. */
export type LedgerEvent =
  | { kind: 'in'; id: string; eventNo: number; grams: number }
  | { kind: 'out'; id: string; eventNo: number; grams: number }
  | { kind: 'stage'; id: string; eventNo: number; stage: StageKind; massInG: number; addedG: number; massOutG: number | null; trimG: number; lossG: number };

export type LedgerInput = { events: readonly LedgerEvent[]; /** What was packed in all; packs come after everything else. */ packedGrams: number };

export type Ledger = {
  /** What the batch held just before each event, by its id. */
  before: Map<string, number>;
  /** What it holds after all of them. */
  balance: number;
  /** The first event that took more than there was. */
  short: { event: LedgerEvent | null; held: number; asked: number } | null;
};

/**
 * Goes through what happened to a batch's weight in the order in which it was recorded, and tells what was held at each
 * step. Packing lasts until its stage is finished, so its trim and loss come off after the packs.
 */
export function replay({ events, packedGrams }: LedgerInput): Ledger {
  const before = new Map<string, number>();
  let balance = 0;
  let atTheEnd = 0;
  let short: Ledger['short'] = null;
  for (const event of [...events].sort((a, b) => a.eventNo - b.eventNo)) {
    before.set(event.id, balance);
    const asked = event.kind === 'out' ? event.grams : event.kind === 'stage' && event.stage !== 'pack' ? event.massInG : 0;
    if (asked > balance) short ??= { event, held: balance, asked };
    if (event.kind === 'in') balance += event.grams;
    else if (event.kind === 'out') balance -= event.grams;
    else if (event.stage === 'pack') atTheEnd += event.trimG + event.lossG;
    else balance += event.addedG - event.trimG - event.lossG;
    if (balance < 0) short ??= { event, held: balance, asked: 0 };
  }
  if (packedGrams > balance) short ??= { event: null, held: balance, asked: packedGrams };
  return { before, balance: balance - packedGrams - atTheEnd, short };
}

/** What the packing stage comes to: all that was on hand goes in; when finished, what is not in packs is trim or loss. */
export function packStageMasses(heldBefore: number, packedGrams: number, trimG: number, finished: boolean): { massInG: number; massOutG: number | null; trimG: number; lossG: number } {
  if (!finished) return { massInG: heldBefore, massOutG: null, trimG: 0, lossG: 0 };
  return { massInG: heldBefore, massOutG: packedGrams, trimG, lossG: heldBefore - packedGrams - trimG };
}
