import type { PackDetail } from '$contract/packs.ts';
import { givesDaysBack } from '$domain/pack-days.ts';
import type { Day } from '$domain/working.ts';

type Keeping = Pick<PackDetail, 'frozenDay' | 'thawedDay' | 'storage'>;

/** What a correction has to say about a pack's days in the freezer; nothing when they stayed. Empty text is no day. */
export function keepingChange(before: Pick<Keeping, 'frozenDay' | 'thawedDay'>, frozenDay: string, thawedDay: string): Partial<Keeping> {
  const frozen = frozenDay || null;
  const thawed = frozen === null ? null : thawedDay || null;
  if (frozen === before.frozenDay && thawed === before.thawedDay) return {};
  return { frozenDay: frozen, thawedDay: thawed, storage: frozen !== null && thawed === null ? 'frozen' : 'refrigerated' };
}

/** Whether the service asks why, since the days as corrected would give it days back. */
export function asksWhy(before: Keeping & Pick<PackDetail, 'lastDay'>, frozenDay: string, thawedDay: string, today: Day): boolean {
  const change = keepingChange(before, frozenDay, thawedDay);
  return Object.keys(change).length > 0 && givesDaysBack({ ...before, wasOut: before.thawedDay !== null }, { ...before, ...change }, today);
}
