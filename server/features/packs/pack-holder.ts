import type { z } from 'zod';
import type { packPatch } from '../../contract/packs.ts';
import { formatDay } from '../../domain/time.ts';
import type { Day } from '../../domain/working.ts';
import type { Actor } from '../../platform/context.ts';
import { badField, ProblemError } from '../../platform/errors/problem-error.ts';
import { packCode } from './packs.lines.ts';
import type { PackDetailRow, PackFields } from './packs.store.ts';

type Patch = z.infer<typeof packPatch>;
const HOLDERS: readonly string[] = ['version', 'reason', 'storage', 'frozenDay', 'thawedDay', 'packageKind'];
const airless = (kind: string) => kind === 'vacuum' || kind === 'jar';

/**
 * What a member may record of a pack that they have: that it went into the freezer today, that it thawed, and with that that a
 * pack without air was opened. Their word never gives a pack back days of its count (date.freeze, FC 3-501.17): it is frozen
 * on the day that they say so, and a day of thawing moves back only. Anything else is for crew.
 */
export function checkHolder(actor: Actor, before: PackDetailRow, next: PackFields, patch: Patch, today: Day): void {
  const code = packCode(before);
  if (before.status !== 'handed-over' || before.holderId !== actor.id) throw new ProblemError('not-allowed', `Only crew, or the member who has ${code}, records when it was frozen or thawed.`);
  const other = Object.keys(patch).find((field) => !HOLDERS.includes(field) || (field === 'packageKind' && !opens(before, next)));
  if (other) throw new ProblemError('not-allowed', 'You can record when it was frozen or thawed. Ask crew for anything else.');
  checkFrozen(before, next, today);
  checkOut(before, next);
  if (before.thawedDay === null || (next.thawedDay !== null && next.thawedDay <= before.thawedDay)) return;
  throw badField('thawedDay', next.thawedDay, `It thawed on ${formatDay(before.thawedDay)}, and a later day would make it keep longer.`, 'Ask crew if that day is wrong. Thawed fish is not frozen again.', 'not-allowed');
}

const opens = (before: PackDetailRow, next: PackFields) => next.packageKind === before.packageKind || (airless(before.packageKind) && !airless(next.packageKind) && next.thawedDay !== null);

/** Out of the freezer with no day of thawing its count never stopped: a day told later would give it days back. */
function checkOut(before: PackDetailRow, next: PackFields): void {
  if (before.frozenDay === null || before.thawedDay !== null || next.storage === 'frozen') return;
  if (next.thawedDay === null && before.storage === 'frozen') throw badField('thawedDay', null, 'The day it thawed is missing.', 'Enter the day it came out of the freezer.');
  if (next.thawedDay !== null && before.storage !== 'frozen') throw badField('thawedDay', next.thawedDay, 'It was out of the freezer already, and nobody recorded since when.', 'Ask crew to record the day.', 'not-allowed');
}

function checkFrozen(before: PackDetailRow, next: PackFields, today: Day): void {
  if (next.frozenDay === before.frozenDay) return;
  if (before.frozenDay !== null) throw badField('frozenDay', next.frozenDay, `It was frozen on ${formatDay(before.frozenDay)}.`, 'Ask crew if that day is wrong.', 'not-allowed');
  if (next.frozenDay !== today) throw badField('frozenDay', next.frozenDay, 'An earlier day would make it keep longer.', 'Record it on the day it goes into the freezer, or ask crew.', 'not-allowed');
  if (before.lastDay === null || before.lastDay < today) throw badField('frozenDay', next.frozenDay, 'It has no day left, and freezing never gives one back.', 'Do not eat it or pass it on.', 'not-allowed');
}
