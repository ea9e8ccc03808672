import type { Day, Storage } from './working.ts';

export type PackDays = { storage: Storage; frozenDay: Day | null; thawedDay: Day | null };

/**
 * Whether a correction of a pack's days would give it days back if it were taken at its word, and so needs a reason
 * (date.freeze, FC 3-501.17): a thaw taken out or moved later, a freezing moved earlier, or one told for a day on which its count
 * was over or after it was out of the freezer. Freezing it today gives none back: every day up to now counts as used.
 */
export function givesDaysBack(before: PackDays & { lastDay: Day | null; wasOut: boolean }, next: PackDays, today: Day): boolean {
  const frozenToday = next.storage === 'frozen' && next.thawedDay === null && next.frozenDay === today;
  if (frozenToday) return false;
  if (before.thawedDay !== null && (next.thawedDay === null || next.thawedDay > before.thawedDay)) return true;
  if (next.frozenDay === null || next.frozenDay === before.frozenDay) return before.wasOut && next.storage === 'frozen' && before.storage !== 'frozen';
  if (before.frozenDay !== null) return next.frozenDay < before.frozenDay;
  return before.wasOut || before.lastDay === null || before.lastDay < today;
}
