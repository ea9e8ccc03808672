import type { z } from 'zod';
import type { tripPersonBody } from '../../contract/catch.ts';
import { localDay } from '../../domain/time.ts';
import type { ClubSettings } from '../../platform/club-settings.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import * as store from './trips.store.ts';

type PersonBody = z.infer<typeof tripPersonBody>;

const FIRST_DAY = '2000-01-01';

export function checkTripDay(day: string, now: Date, club: ClubSettings): void {
  const today = localDay(now, club.timeZone);
  if (day > today) throw badField('day', day, `The day ${day} is in the future.`, `Enter the day you were out, ${today} at the latest.`);
  if (day < FIRST_DAY) throw badField('day', day, `The day ${day} is before the year 2000.`, 'Check the year.');
}

export async function checkBoat(query: RawQuery, boatId: string): Promise<void> {
  const boat = await store.findBoat(query, boatId);
  if (!boat) throw badField('boatId', boatId, 'There is no such boat.', 'Choose a boat from the list.');
  if (boat.retired) throw badField('boatId', boatId, `${boat.name} is retired.`, 'Choose another boat, or have a captain put it back in use.');
}

/** A member who left may be named for a day on which they still belonged to the club. */
export function checkMember(field: string, id: string, member: store.MemberRow | undefined, day: string, club: ClubSettings): void {
  if (!member) throw badField(field, id, 'There is no such member.', 'Choose a member from the list, or name a guest.');
  if (member.leftAt === null) return;
  const left = localDay(member.leftAt, club.timeZone);
  if (day > left) throw badField(field, id, `${member.name} left the club on ${left}, before this trip.`, 'Name them as a guest, or check the day of the trip.');
}

/** Refuses people listed twice, unknown or gone, and shares with more than two decimals. */
export async function checkPeople(query: RawQuery, people: readonly PersonBody[], day: string, club: ClubSettings): Promise<void> {
  const ids = people.flatMap((p) => (p.memberId === undefined ? [] : [p.memberId]));
  const members = new Map((await store.findMembers(query, ids)).map((m) => [m.id, m]));
  const seen = new Set<string>();
  people.forEach((person, i) => {
    const field = `people.${i}`;
    if (person.memberId !== undefined) checkMember(`${field}.memberId`, person.memberId, members.get(person.memberId), day, club);
    const key = person.memberId ?? `guest ${person.guestName!.toLowerCase()}`;
    if (seen.has(key)) throw badField(field, person.memberId ?? person.guestName, 'The same person is listed twice.', 'List each person once.');
    seen.add(key);
    if (shareHundredths(person.shareWeight) / 100 !== person.shareWeight) {
      throw badField(`${field}.shareWeight`, person.shareWeight, `A share weight of ${person.shareWeight} has more than two decimals.`, 'Round it, for example to 0.33.');
    }
  });
}

export const shareHundredths = (shareWeight: number) => Math.round(shareWeight * 100);
