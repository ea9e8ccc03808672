/** What tells a landing from another of the same fish by the same person in one list: when it came ashore, else when it was caught or written down. */
import type { Landing } from '$contract/catch.ts';
import { clubDay, showDayTime, showTime } from '$lib/show.ts';

type Known = Pick<Landing, 'id' | 'trip' | 'species' | 'catcher' | 'caughtAt' | 'landedAt' | 'createdAt' | 'createdBy'>;

/** The sign of each, by its id. Where two would still read alike, each also says when and by whom it was written down. */
export function landingSigns(landings: readonly Known[]): ReadonlyMap<string, string> {
  const name = (l: Known): string => [l.trip.id, l.species.code, l.catcher.name, first(l)].join(' ');
  const names = landings.map(name);
  return new Map(landings.map((l, i) => [l.id, names.indexOf(names[i]!) === names.lastIndexOf(names[i]!) ? first(l) : [...new Set([first(l), written(l)])].join(', ')]));
}

/** The day stands beside it already, unless it is another. */
const at = (l: Known, instant: string): string => (clubDay(instant) === l.trip.day ? showTime(instant) : showDayTime(instant));
const written = (l: Known): string => `written down ${at(l, l.createdAt)} by ${l.createdBy.name}`;
const first = (l: Known): string => (l.landedAt ? `landed ${at(l, l.landedAt)}` : l.caughtAt ? `caught ${at(l, l.caughtAt)}` : written(l));
