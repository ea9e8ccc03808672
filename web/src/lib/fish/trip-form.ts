import type { Trip } from '$contract/catch.ts';
import type { FieldWords } from '../stale.ts';

/** `key` tells the rows apart while some are taken out; it is not sent. */
export type TripPerson = { key: number; memberId: string; guestName: string; shareWeight: number | null };
export type TripValues = { boatId: string; day: string; area: string; note: string; people: TripPerson[] };

let keys = 0;
export const newPerson = (memberId = ''): TripPerson => ({ key: ++keys, memberId, guestName: '', shareWeight: 1 });

export const emptyTrip = (day: string, memberId: string): TripValues => ({ boatId: '', day, area: '', note: '', people: [newPerson(memberId)] });

/** A draft from before, perhaps from before a reload: its rows get keys that no row to come will have. */
export const restoredTrip = (draft: TripValues): TripValues => ({ ...draft, people: draft.people.map((p) => ({ ...p, key: newPerson().key })) });

export function tripValues(trip: Trip): TripValues {
  const people = trip.people.map((p) => ({ ...newPerson(p.memberId ?? ''), guestName: p.guestName ?? '', shareWeight: p.shareWeight }));
  return { boatId: trip.boat.id, day: trip.day, area: trip.area, note: trip.note, people };
}

const named = (p: TripPerson): boolean => p.memberId !== '' || p.guestName !== '';

/** A row left empty names nobody and is not sent. */
export function toTripBody({ people, ...rest }: TripValues): Record<string, unknown> {
  return { ...rest, people: people.filter(named).map((p) => ({ ...(p.memberId ? { memberId: p.memberId } : { guestName: p.guestName }), shareWeight: p.shareWeight ?? 1 })) };
}

/** Where a row stands among those sent, since a refusal counts those. */
export const sentPlace = (people: readonly TripPerson[], row: number): number => people.slice(0, row).filter(named).length;

type SentPerson = { memberId?: string; guestName?: string; shareWeight: number };

/** What the fields are called, for an edit that was stale. */
export function tripWords(names: { boat: (id: string) => string; member: (id: string) => string; day: (day: string) => string }): FieldWords {
  const person = (p: SentPerson): string => `${p.guestName ?? names.member(p.memberId ?? '')} (${p.shareWeight})`;
  return {
    boatId: { label: 'Boat', show: (id) => names.boat(String(id)) },
    day: { label: 'Day', show: (day) => names.day(String(day)) },
    area: { label: 'Where' },
    note: { label: 'Note' },
    people: { label: 'Aboard', show: (people) => (people as SentPerson[]).map(person).sort().join(', ') },
  };
}
