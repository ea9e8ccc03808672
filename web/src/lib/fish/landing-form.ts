import type { Landing } from '$contract/catch.ts';
import { formatDay, formatLocal, localDay } from '$domain/time.ts';
import { formatGrams, parseCm } from '$domain/units.ts';
import { unlikelyTemperature, type TypedPlace } from '$domain/unlikely-temperature.ts';
import type { Form, Pooling } from '$domain/working.ts';

export type LandingValues = {
  catcherKind: 'member' | 'boat';
  memberId: string;
  guestName: string;
  speciesCode: string;
  fishCount: number | null;
  grams: number | null;
  form: Form;
  lengths: string;
  lengthKind: 'fork' | 'total';
  caughtAt: string | null;
  guttedAt: string | null;
  icedAt: string | null;
  landedAt: string | null;
  coreC: number | null;
  airC: number | null;
  waterC: number | null;
  note: string;
  pooling: Pooling;
};

export function emptyLanding(memberId: string): LandingValues {
  return {
    catcherKind: 'member', memberId, guestName: '', speciesCode: '', fishCount: null, grams: null, form: 'whole', lengths: '', lengthKind: 'fork',
    caughtAt: null, guttedAt: null, icedAt: null, landedAt: null, coreC: null, airC: null, waterC: null, note: '', pooling: 'apart',
  };
}

export function landingValues(l: Landing): LandingValues {
  return {
    catcherKind: l.catcher.kind === 'boat' ? 'boat' : 'member',
    memberId: l.catcher.memberId ?? '',
    guestName: l.catcher.kind === 'guest' ? l.catcher.name : '',
    speciesCode: l.species.code,
    fishCount: l.fishCount,
    grams: l.weightSource === 'estimated' ? null : l.grams,
    form: l.form,
    lengths: l.lengthsCm.join(' '),
    lengthKind: l.lengthKind ?? 'fork',
    caughtAt: l.caughtAt, guttedAt: l.guttedAt, icedAt: l.icedAt, landedAt: l.landedAt, coreC: l.coreC, airC: l.airC, waterC: l.waterC, note: l.note, pooling: l.pooling,
  };
}

/** Lengths are typed with spaces between; an unreadable one is left in, so that the contract names it. */
function readLengths(text: string): unknown[] {
  return text
    .split(/[\s;]+/)
    .map((part) => part.replace(/,$/, ''))
    .filter(Boolean)
    .map((part) => {
      try {
        return parseCm(part, 'cm');
      } catch {
        return part;
      }
    });
}

export function toLandingBody(v: LandingValues): unknown {
  const { catcherKind, memberId, guestName, lengths, ...rest } = v;
  const lengthsCm = readLengths(lengths);
  return {
    ...rest,
    guttedAt: v.form === 'whole' ? null : v.guttedAt,
    catcher: catcherKind === 'boat' ? { kind: 'boat' } : guestName ? { kind: 'guest', guestName } : { kind: 'member', memberId },
    lengthsCm,
    lengthKind: lengthsCm.length > 0 ? v.lengthKind : null,
  };
}

/** From here on an uncounted landing is asked about: two large boxes of fish, or pounds typed for kilograms. A rule of this service. */
const HEAVY_GRAMS = 100_000;

/** What to ask before a landing of an unusual weight is saved, in both units since either may be the slip; null when nothing is odd. */
export function weightQuestion(v: Pick<LandingValues, 'grams' | 'fishCount'>): string | null {
  if (v.grams === null || v.grams < HEAVY_GRAMS || v.fishCount !== null) return null;
  return `${formatGrams(v.grams, 'metric')} (${formatGrams(v.grams, 'us')}), really? Check the unit, or say how many fish.`;
}

/** Where each temperature of a landing is taken. */
export const TEMPERATURES = { coreC: 'landed-fish', airC: 'air', waterC: 'water' } as const satisfies Partial<Record<keyof LandingValues, TypedPlace>>;
const NAMES = { coreC: 'Fish, inside', airC: 'Air', waterC: 'Water' } as const;
type Temperatures = Pick<LandingValues, keyof typeof TEMPERATURES>;

/** What to ask of temperatures that are unlikely where they were taken; one that stands already was asked about when it came. Null when nothing is odd. */
export function temperatureQuestion(v: Temperatures, show: (celsius: number) => string, before?: Temperatures): string | null {
  const fields = Object.keys(TEMPERATURES) as (keyof typeof TEMPERATURES)[];
  const odd = fields.flatMap((field) => {
    const celsius = v[field];
    const found = celsius === null || celsius === before?.[field] ? null : unlikelyTemperature(celsius, TEMPERATURES[field]);
    return found ? [`${NAMES[field]}: ${show(celsius!)} ${found.says}. Is it right?`] : [];
  });
  return odd.length > 0 ? odd.join(' ') : null;
}

/** What to ask when the catch is before the day of its trip: a trip over night may be, a wrong date is likelier. */
export function dayQuestion(v: Pick<LandingValues, 'caughtAt'>, tripDay: string, zone: string): string | null {
  if (v.caughtAt === null || localDay(new Date(v.caughtAt), zone) >= tripDay) return null;
  return `Caught on ${formatLocal(new Date(v.caughtAt), zone, 'day')}, before the trip of ${formatDay(tripDay)}, really?`;
}
