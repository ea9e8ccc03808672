/** What tells a landing from another of the same fish by the same person in one list: when it came ashore, else when it was caught or written down. */
import type { Draw } from '$contract/batches.ts';
import type { Landing } from '$contract/catch.ts';
import { clubDay, showDayTime, showTime } from '$lib/show.ts';

type Known = { id: string; /** The same for those that read alike without a sign. */ alike: string; day: string; landedAt: string | null; caughtAt: string | null; writtenAt: string; writtenBy?: string };
type Landed = Pick<Landing, 'id' | 'trip' | 'species' | 'catcher' | 'caughtAt' | 'landedAt' | 'createdAt' | 'createdBy'>;

/** The sign of each landing, by its id. */
export const landingSigns = (landings: readonly Landed[]): ReadonlyMap<string, string> =>
  signs(landings.map((l) => ({ id: l.id, alike: `${l.trip.id} ${l.species.code} ${l.catcher.name}`, day: l.trip.day, landedAt: l.landedAt, caughtAt: l.caughtAt, writtenAt: l.createdAt, writtenBy: l.createdBy.name })));

/** The same of what was drawn, by the id of the draw; nothing of other batches and packs, whose number is in their name. */
export const drawnSigns = (draws: readonly Pick<Draw, 'id' | 'source'>[]): ReadonlyMap<string, string> =>
  signs(draws.flatMap(({ id, source }) => (source.landing ? [{ id, alike: source.label, ...source.landing }] : [])));

/** Where two would still read alike, each also says when, and where it is known by whom, it was written down. */
function signs(all: readonly Known[]): ReadonlyMap<string, string> {
  const names = all.map((l) => `${l.alike} ${first(l)}`);
  return new Map(all.map((l, i) => [l.id, names.indexOf(names[i]!) === names.lastIndexOf(names[i]!) ? first(l) : [...new Set([first(l), written(l)])].join(', ')]));
}

/** The day stands beside it already, unless it is another. */
const at = (l: Known, instant: string): string => (clubDay(instant) === l.day ? showTime(instant) : showDayTime(instant));
const written = (l: Known): string => `written down ${at(l, l.writtenAt)}${l.writtenBy ? ` by ${l.writtenBy}` : ''}`;
const first = (l: Known): string => (l.landedAt ? `landed ${at(l, l.landedAt)}` : l.caughtAt ? `caught ${at(l, l.caughtAt)}` : written(l));
