import type { z } from 'zod';
import type { Club, clubPatch } from '../../contract/people.ts';
import { isTimeZone } from '../../domain/time.ts';
import { need } from '../../platform/auth/access.ts';
import type { Actor, Context } from '../../platform/context.ts';
import { badField, notFound } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
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
    const changed = await store.updateClub(query, patch.version, patch);
    if (changed) return changed;
    const present = await store.findClub(query);
    if (!present) throw notFound('The club');
    throw refuseStale('club', patch, present);
  });
}

export function checkTimeZone(field: string, zone: string): void {
  if (!isTimeZone(zone)) throw badField(field, zone, 'This time zone is not known.', 'Choose one from the list, such as Europe/Oslo.');
}
