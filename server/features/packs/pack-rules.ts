import { formatDay } from '../../domain/time.ts';
import type { Day } from '../../domain/working.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import type { ProblemError } from '../../platform/errors/problem-error.ts';
import { packCode } from './packs.lines.ts';

export type Shareable = { lot: string; packNo: number; verdict: string; recalled: boolean; lastDay: Day | null };

/**
 * Whether a pack may go to anybody: its lot is not recalled, its evidence is there, its last day is known and not past.
 * Returns the refusal, or null. A missing day is never taken for a pass.
 */
export function whyNotShareable(pack: Shareable, today: Day, field: string): ProblemError | null {
  const code = packCode(pack);
  if (pack.recalled) return badField(field, code, `Lot ${pack.lot} is recalled.`, 'Do not eat it or pass it on.', 'recalled');
  if (pack.verdict !== 'clear') return badField(field, code, `${code} is on hold.`, 'Wait until what is missing is recorded on its batch.', 'on-hold');
  if (pack.lastDay === null) return badField(field, code, `${code} has no last day: something that it rests on is not recorded.`, 'Wait until it is recorded on its batch.', 'on-hold');
  if (pack.lastDay < today) return badField(field, code, `The last day of ${code} was ${formatDay(pack.lastDay)}.`, 'Do not eat it or pass it on.', 'conflict');
  return null;
}
