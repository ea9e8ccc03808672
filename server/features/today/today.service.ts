import type { z } from 'zod';
import type { Today, todayQuery } from '../../contract/today.ts';
import { addDays, localDay } from '../../domain/time.ts';
import { isCaptain, isCrew, need } from '../../platform/auth/access.ts';
import { clubSettings } from '../../platform/club-settings.ts';
import type { ClubSettings } from '../../platform/club-settings.ts';
import type { Actor, Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { toPackLine } from '../packs/packs.lines.ts';
import * as packs from './today-packs.store.ts';
import * as store from './today.store.ts';
import * as waiting from './today.waiting.ts';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
/** How far ahead the first screen looks. */
const AHEAD_MS = 36 * HOUR_MS;
/** A station that is free again later than this is no news yet. */
const FREE_AHEAD_MS = 4 * HOUR_MS;
/** Older than this, nothing waits on the first screen any more; the lists still show it. */
const WAITING_DAYS = 120;
const OPEN_TRIP_DAYS = 30;
const PAST_DATE_DAYS = 30;
const CLAIM_NEWS_DAYS = 7;

type Moment = { query: RawQuery; now: Date; day: string; units: ClubSettings['units'] };

/** The first screen: what runs, what is next, what waits for the one who asks, and what they may have. */
export async function readToday(context: Context, asker: Actor | null, asked: z.infer<typeof todayQuery>): Promise<Today> {
  const actor = need(asker, 'member');
  const { query } = context.database;
  const now = context.clock();
  const club = await clubSettings(query);
  const day = localDay(now, club.timeZone);
  const moment: Moment = { query, now, day, units: asked.units ?? club.units };
  const [running, next, fish, trips, free, freeCount, mine, start] = await Promise.all([
    store.running(query, now),
    store.next(query, now, new Date(now.getTime() + AHEAD_MS), actor.id, new Date(now.getTime() + FREE_AHEAD_MS)),
    store.fishNotAssigned(query, ago(now, WAITING_DAYS)),
    store.openTrips(query, addDays(day, -OPEN_TRIP_DAYS)),
    packs.claimable(query, day),
    packs.claimableCount(query, day),
    packs.mine(query, actor.id, addDays(day, -PAST_DATE_DAYS)),
    isCaptain(actor) ? store.startOf(query) : null,
  ]);
  const pressing = await waitingForMe(moment, actor);
  const work = isCrew(actor) ? await waitingForCrew(moment, actor, fish) : [];
  return {
    now: now.toISOString(),
    day,
    running: running.map((row) => ({ ...row, startedAt: row.startedAt.toISOString(), dueAt: row.dueAt?.toISOString() ?? null })),
    next: next.map((row) => ({ ...row, at: row.at.toISOString() })),
    waiting: [...pressing.first, ...work, ...pressing.then],
    claimable: free.map((row) => toPackLine(row, actor)),
    claimableCount: freeCount,
    mine: mine.map((row) => toPackLine(row, actor)),
    unassignedGrams: fish[0]?.allGrams ?? 0,
    start: start === null ? [] : startList(start),
    openTrips: trips,
  };
}

/** In the order in which one needs them; nothing once all is there. */
function startList(row: store.StartRow): Today['start'] {
  const list = (['boat', 'station', 'people', 'contact', 'trip'] as const).map((what) => ({ what, done: row[what] }));
  if (list.every((item) => item.done)) return [];
  // A club that has all else is asked for the one thing alone.
  const begun = list.every((item) => item.done || item.what === 'contact');
  return list.filter((item) => (item.what === 'contact' ? !item.done : !begun));
}

const ago = (now: Date, days: number) => new Date(now.getTime() - days * DAY_MS);

/** What concerns a person as a member, whatever their role: recalls before everything, news after the work. */
async function waitingForMe({ query, now, day }: Moment, actor: Actor): Promise<{ first: Today['waiting']; then: Today['waiting'] }> {
  const [recalled, notClear, tell, tellHeld, past, news] = await Promise.all([
    packs.recalledHeld(query, actor.id),
    packs.notClearHeld(query, actor.id),
    packs.toTell(query, actor.id),
    packs.toTellHeld(query, actor.id),
    packs.pastDate(query, actor.id, day, addDays(day, -PAST_DATE_DAYS)),
    packs.claimNews(query, actor.id, ago(now, WAITING_DAYS), ago(now, CLAIM_NEWS_DAYS)),
  ]);
  const first = [...recalled.map(waiting.recalled), ...notClear.map(waiting.notClear), ...tell.map(waiting.tell), ...tellHeld.map(waiting.tellHeld)];
  return { first, then: [...news.map((row) => waiting.claimNews(row, day)), ...past.map(waiting.pastDate)] };
}

async function waitingForCrew({ query, now, day, units }: Moment, actor: Actor, fish: readonly store.FishRow[]): Promise<Today['waiting']> {
  const since = ago(now, WAITING_DAYS);
  const [recalls, claims, handOvers, evidence, notStarted] = await Promise.all([
    isCaptain(actor) ? packs.openRecalls(query) : [],
    isCaptain(actor) ? packs.claimsToDecide(query, day) : [],
    packs.toHandOver(query, day),
    store.evidenceMissing(query, since),
    store.batchesNotStarted(query, since),
  ]);
  return [
    ...recalls.map(waiting.openRecall),
    ...evidence.map(waiting.evidence),
    ...claims.map((row) => waiting.claimToDecide(row, units, day)),
    ...handOvers.map((row) => waiting.handOver(row, units)),
    ...fish.map((row) => waiting.fish(row, units)),
    ...notStarted.map((row) => waiting.notStarted(row, units)),
  ];
}
