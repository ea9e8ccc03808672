import { addDays, localDay, zonedToInstant } from './time.ts';
import { DomainError } from './working.ts';
import type { Day, StageKind } from './working.ts';

export type StationKind = 'brine-tub' | 'refrigerator' | 'drying-rack' | 'smoker' | 'bench' | 'freezer';
export type CapacityUnit = 'grams' | 'racks' | 'millilitres';

/**
 * What each kind of station is good for (common practice, no source). Curing takes place in the cold (rule brine.cold), so
 * a refrigerator cures, and dries by its moving air; a smoker dries before its fire is lit; a freezer cools, and takes
 * packs that must be frozen at once (rule rop.freeze).
 */
export const STATION_SERVES: Record<StationKind, readonly StageKind[]> = {
  'brine-tub': ['cure', 'rinse'],
  refrigerator: ['cure', 'dry', 'cool'],
  'drying-rack': ['dry'],
  smoker: ['dry', 'smoke'],
  bench: ['prepare', 'rinse', 'mix', 'pack'],
  freezer: ['cool', 'pack'],
};

/** Whether a station of this kind serves a stage. */
export const servesStage = (kind: StationKind, stage: StageKind): boolean => STATION_SERVES[kind].includes(stage);

export type Hours = { opensAt: string | null; closesAt: string | null };
export type OpenTime = { opens: Date; closes: Date };

/**
 * Whether a time lies inside a station's hours, as the clock on the wall shows them in the club's zone. Hours that close
 * earlier in the day than they open run past midnight; equal ones, and none at all, mean always open. A closing or
 * opening time that clocks skip moves to the first time there is; one that comes twice opens at the first and closes at
 * the second. When it does not fit, the answer holds the open time nearest before or around the start. Times are instants;
 * `startsAt` is before `endsAt`. Throws DomainError for an unreadable time or zone.
 */
export function insideHours(slot: { startsAt: Date; endsAt: Date }, hours: Hours, zone: string): { ok: true } | { ok: false; nearest: OpenTime } {
  if (hours.opensAt === null || hours.closesAt === null || hours.opensAt === hours.closesAt) return { ok: true };
  const day = localDay(slot.startsAt, zone);
  const open = [-1, 0, 1].map((shift) => openTime(addDays(day, shift), hours.opensAt as string, hours.closesAt as string, zone));
  if (open.some((o) => o.opens <= slot.startsAt && slot.endsAt <= o.closes)) return { ok: true };
  const around = open.find((o) => o.opens <= slot.startsAt && slot.startsAt < o.closes);
  return { ok: false, nearest: around ?? (open.find((o) => o.opens > slot.startsAt) as OpenTime) };
}

function openTime(day: Day, opensAt: string, closesAt: string, zone: string): OpenTime {
  return {
    opens: wallClock(day, opensAt, zone, 'earlier'),
    closes: wallClock(closesAt <= opensAt ? addDays(day, 1) : day, closesAt, zone, 'later'),
  };
}

/** The instant of a wall-clock time; one in the hour that clocks skip becomes the first minute after it. */
function wallClock(day: Day, time: string, zone: string, which: 'earlier' | 'later'): Date {
  let [hour, minute] = time.split(':').map(Number) as [number, number];
  for (;;) {
    try {
      const text = `${String(hour).padStart(2, '0')}:${String(minute).padStart(2, '0')}`;
      return zonedToInstant({ day, time: text }, zone, which);
    } catch (error) {
      if (!(error instanceof DomainError && error.code === 'time.skipped')) throw error;
      minute += 1;
      if (minute === 60) [hour, minute] = [hour + 1, 0];
      if (hour === 24) return wallClock(addDays(day, 1), '00:00', zone, which);
    }
  }
}

/** An amount of a station's capacity for a person: '12.5 kg', '3 racks', '20 litres'. `amount` is a whole number of the unit. */
export function formatCapacity(amount: number, unit: CapacityUnit): string {
  const trimmed = (n: number) => String(Number(n.toFixed(3)));
  if (unit === 'grams') return amount < 1000 ? `${amount} g` : `${trimmed(amount / 1000)} kg`;
  if (unit === 'millilitres') return amount < 1000 ? `${amount} ml` : `${trimmed(amount / 1000)} litres`;
  return amount === 1 ? '1 rack' : `${amount} racks`;
}
