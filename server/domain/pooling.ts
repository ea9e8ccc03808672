import { DomainError } from './working.ts';
import type { Pooling } from './working.ts';

export type PlacedFish = { catcherKey: string; pooling: Pooling; trayNo: number };
export type FishToPlace = { catcherKey: string; pooling: Pooling; trayNo?: number };

/**
 * Who caught a fish, as one key: a member, a guest by name, or the boat in common.
 * A guest's name is compared without regard to case and spacing.
 */
export function catcherKey(catcher: { memberId: string } | { guestName: string } | { boatId: string }): string {
  if ('memberId' in catcher) return `member:${catcher.memberId}`;
  if ('boatId' in catcher) return `boat:${catcher.boatId}`;
  return `guest:${catcher.guestName.normalize('NFC').trim().replace(/\s+/g, ' ').toLowerCase()}`;
}

/**
 * Whether fish may join a batch, and on which tray. Fish kept apart shares a batch only
 * with fish of its own catcher. Tray fish shares the batch, on a tray that holds its own
 * catcher's fish alone. Pooled fish may share a tray with other pooled fish. Without
 * `trayNo` it goes to the first tray that suits, or to a new one. Throws DomainError
 * with the reason. Source: product.md, "fish stays apart unless its owner agreed".
 */
export function checkDraw(existing: readonly PlacedFish[], next: FishToPlace): { trayNo: number } {
  checkApart(existing, next);
  if (next.trayNo !== undefined) return checkTray(existing, next, next.trayNo);
  const trays = [...new Set(existing.map((fish) => fish.trayNo))].sort((a, b) => a - b);
  const suits = trays.filter((trayNo) => clash(onTray(existing, trayNo), next) === null);
  // A pooled tray first: the catcher's own tray is then left free for fish that may lie nowhere else.
  const pooled = next.pooling === 'pooled' ? suits.find((trayNo) => onTray(existing, trayNo).every((fish) => fish.pooling === 'pooled')) : undefined;
  return { trayNo: pooled ?? suits[0] ?? (trays.at(-1) ?? 0) + 1 };
}

function checkApart(existing: readonly PlacedFish[], next: FishToPlace): void {
  const other = existing.find((fish) => fish.catcherKey !== next.catcherKey && (fish.pooling === 'apart' || next.pooling === 'apart'));
  if (!other) return;
  const whose = next.pooling === 'apart' ? 'is kept apart, and the batch holds fish of somebody else' : "cannot join: the batch holds somebody else's fish that is kept apart";
  throw new DomainError({
    code: 'pooling.apart', field: 'pooling', label: 'fish', value: next.pooling, shown: `(${next.pooling})`,
    problem: whose, remedy: 'use a batch of its own, or have its owner agree to share a batch',
  });
}

function checkTray(existing: readonly PlacedFish[], next: FishToPlace, trayNo: number): { trayNo: number } {
  if (!Number.isSafeInteger(trayNo) || trayNo < 1 || trayNo > 999) {
    throw new DomainError({ code: 'pooling.tray-number', field: 'trayNo', label: 'tray', value: trayNo, problem: 'is not a whole number from 1 to 999', remedy: 'number trays from 1' });
  }
  const problem = clash(onTray(existing, trayNo), next);
  if (problem === null) return { trayNo };
  throw new DomainError({
    code: 'pooling.tray', field: 'trayNo', label: 'tray', value: trayNo, problem, remedy: 'choose another tray, or have both owners agree to pool',
  });
}

/** Why fish may not lie together on a tray, or null. */
function clash(tray: readonly PlacedFish[], next: FishToPlace): string | null {
  const oneCatcher = tray.every((fish) => fish.catcherKey === next.catcherKey);
  if (oneCatcher) return null;
  if (next.pooling !== 'pooled') return "holds somebody else's fish, and this fish needs a tray of its own";
  return tray.every((fish) => fish.pooling === 'pooled') ? null : "holds somebody else's fish that needs a tray of its own";
}

function onTray(existing: readonly PlacedFish[], trayNo: number): PlacedFish[] {
  return existing.filter((fish) => fish.trayNo === trayNo);
}
