import type { z } from 'zod';
import type { Club, clubPatch } from '../../contract/people.ts';
import { addDays, isTimeZone, localDay } from '../../domain/time.ts';
import { need } from '../../platform/auth/access.ts';
import type { Actor, Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField, notFound } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
import { recomputeBatch } from '../batches/recompute.ts';
import { JUDGING_MS, judgeLiveBatches } from '../batches/rules.service.ts';
import * as store from './club.store.ts';

export async function showClub(context: Context, actor: Actor | null): Promise<Club> {
  need(actor, 'member');
  const club = await store.findClub(context.database.query);
  if (!club) throw notFound('The club');
  return club;
}

export async function changeClub(unit: Unit, patch: z.infer<typeof clubPatch>): Promise<Club> {
  need(unit.actor, 'captain');
  if (patch.timeZone !== undefined) checkTimeZone('timeZone', patch.timeZone);
  return unit.runRaw(async (query) => {
    const present = await store.findClub(query);
    const changed = await store.updateClub(query, patch.version, patch);
    if (changed && changed.timeZone !== present?.timeZone) await moveDays(query, unit.now, changed.timeZone);
    // Rule chill.gutted rests on it: what may still be eaten is judged anew in the same change.
    if (changed && changed.guttedSource !== present?.guttedSource) await judgeLiveBatches(query, unit.now);
    if (changed) return changed;
    if (!present) throw notFound('The club');
    throw refuseStale('club', patch, (await store.findClub(query)) ?? present);
  }, patch.guttedSource === undefined ? {} : { timeoutMs: JUDGING_MS });
}

/** Packs smoked longer ago are past every date: frozen they are best within two months of the freezing. */
const DAYS_BACK = 120;

/** Smoke days, and the last days that count from them, are local: they follow the club to its new time zone. */
async function moveDays(query: RawQuery, now: Date, timeZone: string): Promise<void> {
  for (const id of await store.holdBatchesSince(query, addDays(localDay(now, timeZone), -DAYS_BACK))) await recomputeBatch(query, id, timeZone);
}

export function checkTimeZone(field: string, zone: string): void {
  if (!isTimeZone(zone)) throw badField(field, zone, 'This time zone is not known.', 'Choose one from the list, such as Europe/Oslo.');
}
