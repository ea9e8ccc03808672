import { DomainError, STAGE_ORDER } from './working.ts';
import type { StageKind } from './working.ts';

export type StageSlot = { kind: StageKind; startsAt: Date; endsAt: Date };
export type OrderBreak = { kind: StageKind; otherKind: StageKind; text: string };

/**
 * Whether the slots of one batch keep the order of its stages: none may start before
 * every slot of an earlier stage has ended. Two slots of one kind may overlap (two
 * tubs). Names each pair of kinds that is out of order once, the later stage first.
 * Throws DomainError on a slot that does not end after it starts.
 */
export function checkStageOrder(slots: readonly StageSlot[], order: readonly StageKind[] = STAGE_ORDER): { ok: true } | { ok: false; breaks: OrderBreak[] } {
  for (const slot of slots) {
    if (slot.endsAt.getTime() > slot.startsAt.getTime()) continue;
    throw new DomainError({ code: 'slot.order', field: 'endsAt', label: 'end', value: slot.endsAt, problem: 'is not after the start', remedy: 'choose a later end' });
  }
  const breaks = new Map<string, OrderBreak>();
  for (const later of slots) {
    for (const earlier of slots) {
      if (order.indexOf(earlier.kind) >= order.indexOf(later.kind) || later.startsAt.getTime() >= earlier.endsAt.getTime()) continue;
      const text = `${later.kind.charAt(0).toUpperCase()}${later.kind.slice(1)} would start before ${earlier.kind} ends.`;
      breaks.set(`${later.kind} ${earlier.kind}`, { kind: later.kind, otherKind: earlier.kind, text });
    }
  }
  return breaks.size === 0 ? { ok: true } : { ok: false, breaks: [...breaks.values()] };
}
