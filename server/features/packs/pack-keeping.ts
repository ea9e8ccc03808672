import { formatDay } from '../../domain/time.ts';
import type { Day, PackageKind, ProductKind, Storage } from '../../domain/working.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import type { ProblemError } from '../../platform/errors/problem-error.ts';

export type Keeping = {
  productKind: ProductKind; packageKind: PackageKind; storage: Storage; frozenDay: Day | null; thawedDay: Day | null;
  packedDay: Day; today: Day;
  /** A laboratory measured enough salt to keep it without air unfrozen (salt.rop). */
  saltMeasured: boolean;
  /** It was recorded out of the freezer before. */
  wasOut: boolean;
};

const noAir: Record<PackageKind, string | null> = { tub: null, bag: null, vacuum: 'A vacuum pack', jar: 'A jar' };

/** How a pack may be kept at all, and whether its days can be right. Says which rule refuses. */
export function checkKeeping(k: Keeping): void {
  const closed = noAir[k.packageKind];
  if (closed && k.storage !== 'frozen' && !k.saltMeasured) {
    throw badField('storage', k.storage, `${closed} keeps out the air, and without a laboratory's figure for salt that is safe only frozen at once (rop.freeze: FC 3-502.12(C), 3-501.13(E)).`, 'Freeze it, or use a tub or bag that lets air in.');
  }
  if (closed && k.thawedDay !== null) {
    throw badField('thawedDay', k.thawedDay, `${closed} is opened before it thaws (rop.freeze: FC 3-501.13(E)).`, 'Change it to a tub or bag, kept refrigerated, with the day it thawed.');
  }
  if (closed && k.wasOut && !k.saltMeasured) {
    throw badField('packageKind', k.packageKind, `It was out of the freezer. ${closed} is frozen at once and opened before it thaws (rop.freeze: FC 3-502.12(C), 3-501.13(E)).`, 'Leave it in a tub or bag that lets air in.');
  }
  if (closed && k.frozenDay !== null && k.frozenDay > k.packedDay && k.frozenDay <= k.today && !k.saltMeasured) throw frozenLate(closed, k.frozenDay, k.packedDay);
  if (k.productKind === 'dip' && (k.storage === 'frozen' || k.frozenDay !== null)) {
    throw badField('storage', k.storage, 'A dip freezes badly, and no rule gives a frozen one a date (date.dip).', 'Keep it refrigerated.');
  }
  if (k.storage === 'frozen' && k.frozenDay === null) throw badField('frozenDay', null, 'A frozen pack needs the day it was frozen.', 'Enter the day.');
  if (k.storage === 'frozen' && k.thawedDay !== null) throw badField('storage', k.storage, 'A pack that has thawed is not kept frozen.', 'Choose refrigerated, or take the day of thawing out. Thawed fish is not frozen again.');
  for (const field of ['frozenDay', 'thawedDay'] as const) {
    const day = k[field];
    if (day !== null && day > k.today) throw badField(field, day, `${formatDay(day)} has not come yet.`, 'Enter the day it happened.');
    if (day !== null && day < k.packedDay) throw badField(field, day, `It was packed on ${formatDay(k.packedDay)}, after that day.`, 'Check the day.');
  }
  if (k.thawedDay !== null && k.frozenDay === null) throw badField('frozenDay', null, 'A thawed pack needs the day it was frozen.', 'Enter the day.');
  if (k.thawedDay !== null && k.frozenDay !== null && k.thawedDay < k.frozenDay) throw badField('thawedDay', k.thawedDay, 'Thawed before it was frozen.', 'Check both days.');
}

/**
 * A pack without air that was frozen later than was recorded had stood unfrozen without air (rop.freeze), whatever it is packed in
 * now, unless a laboratory measured enough salt for that.
 */
export function refuseLateFreezing(before: Pick<Keeping, 'packageKind' | 'frozenDay'>, next: Pick<Keeping, 'frozenDay'>, saltMeasured: boolean): void {
  const closed = noAir[before.packageKind];
  if (!closed || saltMeasured || before.frozenDay === null || next.frozenDay === null || next.frozenDay <= before.frozenDay) return;
  throw frozenLate(closed, next.frozenDay, before.frozenDay);
}

const frozenLate = (closed: string, frozenDay: Day, since: Day): ProblemError =>
  badField('frozenDay', frozenDay, `${closed} is frozen at once, and by this day it had stood unfrozen since ${formatDay(since)} (rop.freeze: FC 3-502.12(C), 3-501.13(E)).`, 'Discard the pack if that is so. If not, leave the day, or the tub or bag, as it was.');

/** A pack without air that stood too warm unfrozen (hold.cold) is none the better for being frozen or opened. */
export function refuseMendingWarm(before: Pick<Keeping, 'packageKind' | 'storage'>, next: Pick<Keeping, 'packageKind' | 'storage'>, stoodWarm: () => boolean): void {
  const closed = noAir[before.packageKind];
  if (!closed || before.storage === 'frozen' || (noAir[next.packageKind] && next.storage !== 'frozen') || !stoodWarm()) return;
  throw badField('storage', next.storage, `${closed} stood too warm without being frozen, and neither freezing nor opening it mends that (hold.cold).`, 'Discard the pack, or withdraw the readings if they are of something else.', 'not-allowed');
}
