import { DomainError } from './working.ts';

/** A part of a station's capacity taken from one instant up to, not including, another. */
export type CapacitySlot = { startsAt: Date; endsAt: Date; amount: number };

export type Fit = { ok: true } | { ok: false; over: number; from: Date; to: Date };

/**
 * The highest load of some slots and the first instant it is reached; null when there
 * are none. Slots are half-open: one that ends at 14:00 leaves room for one that
 * starts then. Amounts are in the station's own unit. Throws DomainError on a slot
 * that does not end after it starts, or an amount below zero.
 */
export function peakLoad(slots: readonly CapacitySlot[]): { peak: number; at: Date | null } {
  let peak = 0;
  let at: Date | null = null;
  for (const step of loadSteps(slots)) {
    if (step.load > peak) [peak, at] = [step.load, new Date(step.fromMs)];
  }
  return { peak, at };
}

/**
 * Whether a station has room for one more slot. If not: by how much the worst moment
 * within the new slot is over, and the first stretch of it that is over.
 */
export function fits(capacity: number, existing: readonly CapacitySlot[], next: CapacitySlot): Fit {
  if (!(Number.isFinite(capacity) && capacity >= 0)) throw badAmount('capacity', capacity);
  const steps = loadSteps([...existing, next]).filter((step) => step.toMs > next.startsAt.getTime() && step.fromMs < next.endsAt.getTime());
  const first = steps.findIndex((step) => step.load > capacity);
  if (first < 0) return { ok: true };
  let last = first;
  while (steps[last + 1] !== undefined && steps[last + 1]!.load > capacity) last += 1;
  const over = Math.max(...steps.map((step) => step.load)) - capacity;
  return { ok: false, over, from: new Date(steps[first]!.fromMs), to: new Date(steps[last]!.toMs) };
}

type LoadStep = { fromMs: number; toMs: number; load: number };

/** The load between each two instants at which it may change, in order of time. */
function loadSteps(slots: readonly CapacitySlot[]): LoadStep[] {
  for (const slot of slots) checkSlot(slot);
  const changes = new Map<number, number>();
  for (const { startsAt, endsAt, amount } of slots) {
    changes.set(startsAt.getTime(), (changes.get(startsAt.getTime()) ?? 0) + amount);
    changes.set(endsAt.getTime(), (changes.get(endsAt.getTime()) ?? 0) - amount);
  }
  const instants = [...changes.keys()].sort((a, b) => a - b);
  let load = 0;
  return instants.slice(0, -1).map((fromMs, i) => {
    load += changes.get(fromMs)!;
    return { fromMs, toMs: instants[i + 1]!, load };
  });
}

function checkSlot(slot: CapacitySlot): void {
  if (!(Number.isFinite(slot.amount) && slot.amount >= 0)) throw badAmount('amount', slot.amount);
  if (slot.endsAt.getTime() > slot.startsAt.getTime()) return;
  throw new DomainError({ code: 'slot.order', field: 'endsAt', label: 'end', value: slot.endsAt, problem: 'is not after the start', remedy: 'choose a later end' });
}

function badAmount(field: string, value: number): DomainError {
  return new DomainError({ code: 'slot.amount', field, value, problem: 'is not a number, zero or more', remedy: "enter it in the station's unit" });
}
