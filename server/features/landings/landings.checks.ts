import type { LandingBody } from '../../contract/catch.ts';
import { estimateGrams } from '../../domain/length-weight.ts';
import { checkInstant, checkLanding, checkTemperatureC } from '../../domain/plausible.ts';
import { findSpecies } from '../../domain/species/index.ts';
import { addDays, formatDay, formatLocal, localDay } from '../../domain/time.ts';
import { MAX_GRAMS } from '../../domain/working.ts';
import { formatGrams } from '../../domain/units.ts';
import type { ClubSettings } from '../../platform/club-settings.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import { findSpeciesRow } from '../species/species.store.ts';
import { checkMember } from '../trips/trips.checks.ts';
import { findMembers } from '../trips/trips.store.ts';
import { toCm } from './landings.mapper.ts';
import * as store from './landings.store.ts';
import type { LandingFields, LandingTrip } from './landings.store.ts';

type Surroundings = { query: RawQuery; now: Date; club: ClubSettings; trip: LandingTrip; /** null for a new landing. */ landingId: string | null };

/** Everything that a landing must be, whether new or corrected; what comes back is ready to be written. */
export async function checkedFields(body: LandingBody, around: Surroundings): Promise<LandingFields> {
  const { query } = around;
  const lengthsMm = body.lengthsCm.map((cm) => Math.round(cm * 10));
  if (lengthsMm.some((mm) => mm < 1)) throw badField('lengthsCm', Math.min(...body.lengthsCm), 'A length is below 1 mm.', 'Enter lengths in centimetres.');
  const times = checkedTimes(body, around);
  if (body.coreC !== null) checkTemperatureC(body.coreC, 'fish', 'coreC');
  if (body.airC !== null) checkTemperatureC(body.airC, 'air', 'airC');
  if (body.waterC !== null) checkTemperatureC(body.waterC, 'water', 'waterC');
  const weight = await checkedWeight(query, body, lengthsMm);
  await checkTripTotal(around, weight.grams);
  return {
    ...weight,
    catcherKind: body.catcher.kind,
    catcherMemberId: body.catcher.kind === 'member' ? body.catcher.memberId : null,
    catcherGuest: body.catcher.kind === 'guest' ? body.catcher.guestName : null,
    speciesCode: body.speciesCode,
    form: body.form,
    lengthsMm,
    lengthKind: lengthsMm.length > 0 ? body.lengthKind : null,
    ...times,
    coreC: body.coreC,
    airC: body.airC,
    waterC: body.waterC,
    note: body.note,
    pooling: body.pooling,
  };
}

type Times = Pick<LandingFields, 'caughtAt' | 'guttedAt' | 'icedAt' | 'landedAt'>;
const LATER = { guttedAt: 'Gutted', icedAt: 'Iced', landedAt: 'Landed' } as const;

function checkedTimes(body: LandingBody, { now, club, trip }: Surroundings): Times {
  const read = (field: keyof Times) => (body[field] === null ? null : checkInstant(new Date(body[field]), now, field));
  const times: Times = { caughtAt: read('caughtAt'), guttedAt: read('guttedAt'), icedAt: read('icedAt'), landedAt: read('landedAt') };
  const { caughtAt } = times;
  // A trip over night may carry the day on which it came back.
  if (caughtAt && localDay(caughtAt, club.timeZone) < addDays(trip.day, -1)) {
    throw badField('caughtAt', body.caughtAt, `Caught on ${formatLocal(caughtAt, club.timeZone, 'day')}, more than a day before the trip of ${formatDay(trip.day)}.`, 'Check the time, or the day of the trip.');
  }
  for (const field of Object.keys(LATER) as (keyof typeof LATER)[]) {
    const at = times[field];
    if (caughtAt && at && at < caughtAt) throw badField(field, body[field], `${LATER[field]} at ${at.toISOString()}, before it was caught at ${caughtAt.toISOString()}.`, 'Check both times.');
  }
  if (times.guttedAt && body.form === 'whole') throw badField('guttedAt', body.guttedAt, 'A whole fish is not gutted.', 'Choose the form that it was landed in, or leave the time out.');
  return times;
}

/** The weight as weighed, or as reckoned from the lengths; with the count that goes with it. */
async function checkedWeight(query: RawQuery, body: LandingBody, lengthsMm: number[]): Promise<Pick<LandingFields, 'grams' | 'weightSource' | 'fishCount'>> {
  const { speciesCode, form, fishCount } = body;
  const row = await findSpeciesRow(query, speciesCode);
  if (!row) throw badField('speciesCode', speciesCode, 'There is no species with this code.', 'Choose a species from the list, or add your own.');
  if (fishCount !== null && lengthsMm.length > 0 && lengthsMm.length !== fishCount) {
    throw badField('lengthsCm', lengthsMm.length, `There are ${lengthsMm.length} lengths for ${fishCount} fish.`, 'Enter one length for each fish, or correct the number of fish.');
  }
  const speciesOrMaxFishGrams = findSpecies(speciesCode) ? speciesCode : row.maxFishGrams;
  if (body.grams !== null) {
    checkLanding({ speciesOrMaxFishGrams, count: fishCount, grams: body.grams, form });
    return { grams: body.grams, weightSource: 'weighed', fishCount };
  }
  const grams = estimated(body, lengthsMm);
  checkLanding({ speciesOrMaxFishGrams, count: lengthsMm.length, grams, form });
  return { grams, weightSource: 'estimated', fishCount: lengthsMm.length };
}

function estimated(body: LandingBody, lengthsMm: number[]): number {
  if (lengthsMm.length === 0) throw badField('grams', null, 'There is no weight.', 'Enter the weight, or the length of each fish to estimate it.');
  if (body.form !== 'whole') throw badField('grams', null, 'A weight is estimated from lengths for whole fish only.', 'Weigh it.');
  if (body.lengthKind === null) throw badField('lengthKind', null, 'It is not said how the lengths were measured.', 'Choose fork length or total length.');
  return estimateGrams(body.speciesCode, toCm(lengthsMm), body.lengthKind).grams;
}

async function checkTripTotal({ query, trip, landingId }: Surroundings, grams: number): Promise<void> {
  const others = await store.othersGrams(query, trip.id, landingId);
  if (others + grams > MAX_GRAMS) {
    throw badField('grams', grams, `With ${grams} g the trip would land ${others + grams} g, more than ${MAX_GRAMS} g.`, 'Check the unit of the weight.');
  }
}

export async function checkCatcher(catcher: LandingBody['catcher'], { query, trip, club }: Surroundings): Promise<void> {
  if (catcher.kind !== 'member') return;
  const [member] = await findMembers(query, [catcher.memberId]);
  checkMember('catcher.memberId', catcher.memberId, member, trip.day, club);
}

/** What is in batches already cannot be corrected away. */
export function checkDrawn(row: store.LandingRow, wanted: { grams: number; withdrawn: boolean }, club: ClubSettings): void {
  const drawn = formatGrams(row.drawnGrams, club.units);
  if (wanted.grams < row.drawnGrams) {
    throw badField('grams', wanted.grams, `${drawn} of this landing is in batches, more than the ${formatGrams(wanted.grams, club.units)} entered.`, `Enter ${drawn} or more, or take fish out of a batch first.`, 'not-enough-left');
  }
  if (wanted.withdrawn && row.drawnGrams > 0) {
    throw badField('withdrawn', true, `${drawn} of this landing is in batches.`, 'Take it out of the batches first.', 'conflict');
  }
}
