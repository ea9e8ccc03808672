import { exposureAbove, hoursAllowed } from '../boat/exposure.ts';
import type { ExposureTemperatures } from '../boat/exposure.ts';
import { hoursAndMinutes } from '../heat/crossing.ts';
import { cleanSeries } from '../heat/series.ts';
import type { ReadingPlace } from '../reading-flags.ts';
import type { BatchEvidence, EvidenceBefore, EvidenceReadings, EvidenceStage } from './evidence.ts';
import { limitOf } from './limits.ts';
import { between, oneProbe, rawBefore } from './logs.ts';
import type { ClubLimits, Finding } from './rule.ts';

const OF_FISH: readonly ReadingPlace[] = ['core', 'surface'];
const WHERE_IT_STOOD: readonly ReadingPlace[] = [...OF_FISH, 'storage', 'brine'];
/** Cold stores and freezers log seldom: as for rule parasite. Common practice, no source. */
const MOST_GAP_MINUTES = 60;
/** No deck and no tub is this hot: such a core was in the smoker. Common practice, no source. */
const SMOKED_C = 45;

/** `warm`: never more than `cool`. */
type Hours = { cool: number; warm: number; frozen: boolean } & ExposureTemperatures;
type Told = Pick<Finding, 'state' | 'found' | 'whatToDo' | 'working' | 'effect'>;

/**
 * chill.exposure, from every reading of the batch and of those before it up to the start of smoking. Each probe counts alone
 * and all count together, those of each lot apart as well: one that shows too long settles it. It is met only by readings of the fish itself that leave no
 * room for more from landing to the smoker; what is not logged counts as warm there. A log that decides nothing is not
 * recorded, and holds the batch where a warm cure alone may have been too long. Nothing of fish that forms no histamine.
 */
export function exposure(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  if (evidence.landings.every((landing) => landing.scombrotoxin === false)) return [];
  const frozen = evidence.frozenBefore === 'all';
  const { tightened, ...hours } = exposureHours(club, frozen);
  const limit = `above ${hours.coldC} C for ${hours.cool} hours at most, ${hours.warm} when any of it was above ${hours.warmC} C`;
  const log = told(evidence, hours);
  const found = log.state === 'not-recorded' && !log.effect ? (warmCure(evidence, hours) ?? log) : log;
  return [{ ruleId: 'chill.exposure', part: 'warm', limit, tightened, ...found }];
}

/**
 * The hours and temperatures of chill.exposure as the club has them. What was warmer has no more hours than what was cooler, and fish that never was frozen
 * none more than fish that was: a club's fewer hours of the one hold for the other too.
 */
export function exposureHours(club: ClubLimits, frozen: boolean): Hours & { tightened: boolean } {
  const of = (name: string) => limitOf(club, `chill.exposure.${name}`);
  const fewest = (names: readonly string[]) => names.map(of).reduce((a, b) => (b.value < a.value ? b : a));
  const [cools, warms] = [[...(frozen ? [] : ['hours']), 'frozen-hours'], [...(frozen ? [] : ['warm-hours']), 'frozen-warm-hours']];
  const [cool, warm, cold, hot] = [fewest(cools), fewest([...warms, ...cools]), of('cold.celsius'), of('warm.celsius')];
  return { cool: cool.value, warm: warm.value, frozen, coldC: cold.value, warmC: hot.value, tightened: [cool, warm, cold, hot].some((one) => one.tightened) };
}

function told(evidence: BatchEvidence, hours: Hours): Told {
  const [own, before] = beforeSmoking(evidence);
  const lists = [...before, ...own];
  // With no smoke recorded, the smoke itself would be added up.
  const inSmoker = evidence.smoke === null && evidence.product === 'hot-smoked' && lists.some((list) => list.place === 'core' && list.celsius.some((celsius) => celsius >= SMOKED_C && celsius <= 100));
  if (inSmoker) return { state: 'not-recorded', found: 'the core is that of a smoke, and no smoke stage is recorded', whatToDo: 'Record the smoke stage: what was read before it is then added up.', working: null, effect: 'hold' };
  const ofFish = lists.filter((list) => OF_FISH.includes(list.place));
  const probe = (list: EvidenceReadings) => `${list.place} ${list.probe.trim().toLowerCase()}`;
  // A cold log of one lot, between the readings of another, would take from its hours.
  const inLots = [...Map.groupBy(before, (list) => `${list.lot} ${probe(list)}`).values(), ...Map.groupBy(own, probe).values()];
  const alone = [...Map.groupBy(lists, probe).values()];
  const each = [...alone, ...(before.length > 0 ? inLots : []), ofFish, lists].filter((of) => of.length > 0).map((of) => ({ of, log: reckoned(of, hours) }));
  const settles = each.find(({ log }) => !log.inDoubt && log.hoursAboveCold > log.limitHours + 1e-9);
  if (settles) return { state: 'not-met', found: settles.log.found, whatToDo: 'Do not share it. It was warm for too long, and nothing later mends that.', working: settles.log.working };
  const doubtful = each.find(({ log }) => log.inDoubt);
  if (doubtful) return { state: 'not-recorded', found: 'The unit of the log is in doubt.', whatToDo: 'Put the unit of the log right.', working: null, effect: 'hold' };
  const fish = each.find(({ of }) => of === ofFish)?.log;
  if (!fish) return { state: 'not-recorded', found: lists.length > 0 ? 'only where it stood was logged, not the fish' : 'not recorded', whatToDo: 'Log the fish from landing to the smoker.', working: null };
  const unlogged = unloggedHours(evidence, ofFish);
  const within = each.filter(({ of }) => OF_FISH.includes(of[0]!.place)).every(({ log }) => passes(log, log.gapHours, hours));
  if (within && fish.state !== 'not-recorded' && passes(fish, fish.gapHours + unlogged, hours)) return { state: 'met', found: fish.found, whatToDo: '', working: fish.working };
  const rest = Number.isFinite(unlogged) ? (unlogged > 0 ? `; ${hoursAndMinutes(unlogged * 60)} between landing and the smoker not logged` : '') : '; when it landed or was iced is not recorded';
  return { state: 'not-recorded', found: `${fish.found}${rest}`, whatToDo: 'Log the fish without gaps from landing to the smoker.', working: fish.working };
}

type Log = ReturnType<typeof exposureAbove> & { inDoubt: boolean };
function reckoned(lists: readonly EvidenceReadings[], hours: Hours): Log {
  const of = exposureAbove({ readings: oneProbe(lists).readings, previouslyFrozen: hours.frozen, maxGapMinutes: MOST_GAP_MINUTES }, hours, hours);
  return { ...of, inDoubt: of.flags.some((flag) => flag.kind === 'fahrenheit') };
}

/** Hours that nobody logged may have been hot ones. */
const passes = (log: Log, unknown: number, hours: Hours) => log.hoursAboveCold + unknown <= (unknown > 0 ? hours.warm : log.limitHours) + 1e-9;

/** What a cure in a warm place may have cost in hours, where that alone is too much; null where it is not. What the place's readings leave open counts as warm. */
function warmCure(evidence: BatchEvidence, hours: Hours): Told | null {
  const own = evidence.stages.filter((stage) => stage.kind === 'cure').map((stage) => ({ lot: null, ...warmIn(stage, evidence.readings.filter((list) => list.stageId === stage.id), hours) }));
  const before = evidence.curesBefore.map(({ lot, stage, readings }) => ({ lot, ...warmIn(stage, readings, hours) }));
  const sum = (cures: readonly { hours: number }[]) => cures.reduce((all, cure) => all + cure.hours, 0);
  const lots = [...Map.groupBy(before, (cure) => cure.lot).values()];
  // Each lot's fish was cured side by side with the others'. A short cure in the heat may be too long where a longer one in the cool is not.
  const ways = (lots.length === 0 ? [[]] : lots).map((lot) => [...lot, ...own]).map((cures) => ({ hours: sum(cures), most: Math.max(-Infinity, ...cures.map((cure) => cure.warmest)) }));
  const tooLong = ways.filter((way) => way.hours > hoursAllowed(way.most > hours.warmC, hours) + 1e-9);
  if (tooLong.length === 0) return null;
  const worst = tooLong.reduce((a, b) => (b.hours > a.hours ? b : a));
  return {
    state: 'not-recorded', found: `cured at up to ${worst.most} C, for ${hoursAndMinutes(worst.hours * 60)} that may have been warm`, working: null, effect: 'hold',
    whatToDo: 'Enter the readings of its place if they show less. Do not share it otherwise: nothing later mends hours in the warm.',
  };
}

/** Hours of a cure that may have been above the temperature from which on they count, and the warmest that its place was known to be. */
function warmIn({ startedAt, finishedAt, maxPlaceC }: EvidenceStage, readings: readonly EvidenceReadings[], hours: Hours): { hours: number; warmest: number } {
  const lasted = finishedAt === null ? 0 : (finishedAt.getTime() - startedAt.getTime()) / 3_600_000;
  const place = readings.filter((list) => list.place === 'storage').flatMap((list) => between(list, startedAt.getTime(), (finishedAt?.getTime() ?? -Infinity) + 1) ?? []);
  const series = place.map((list) => cleanSeries(oneProbe([list]).readings, { place: 'air', strict: 'higher', unitConfirmed: list.unitConfirmed }));
  const warmest = Math.max(maxPlaceC ?? -Infinity, ...series.map(({ celsius }) => celsius.reduce((a, b) => Math.max(a, b), -Infinity)));
  if (warmest <= hours.coldC || lasted === 0) return { hours: 0, warmest: -Infinity };
  if (place.length === 0) return { hours: lasted, warmest };
  const log = reckoned(place, hours);
  const read = (-least(place.map((list) => ({ ...list, atMs: list.atMs.map((at) => -at) }))) - least(place)) / 3_600_000;
  return { hours: Math.min(lasted, log.hoursAboveCold + log.gapHours + lasted - read), warmest };
}

/** Hours without a reading before the first and after the last; Infinity when nobody knows from when to count. */
function unloggedHours({ landings, smoke }: BatchEvidence, lists: readonly EvidenceReadings[]): number {
  const from = landings.filter((l) => l.scombrotoxin !== false).map((l) => l.landedAt ?? l.icedAt ?? l.caughtAt);
  if (from.some((at) => at === null)) return Infinity;
  const [first, last] = [least(lists), -least(lists.map((list) => ({ ...list, atMs: list.atMs.map((at) => -at) })))];
  const lengths = [first - Math.min(...from.map((at) => at!.getTime())), (smoke?.startedAt.getTime() ?? last) - last].map((ms) => ms / 60_000);
  return lengths.reduce((sum, minutes) => sum + (minutes > MOST_GAP_MINUTES ? minutes : 0), 0) / 60;
}
const least = (lists: readonly Pick<EvidenceReadings, 'atMs'>[]) => lists.reduce((min, { atMs }) => atMs.reduce((a, b) => Math.min(a, b), min), Infinity);

/** Whatever was read of the fish, or of where it stood, before it went into the smoker: here, and in the lots that it was taken from. */
function beforeSmoking(evidence: BatchEvidence): [own: EvidenceReadings[], before: EvidenceBefore[]] {
  const until = evidence.smoke?.startedAt.getTime() ?? Infinity;
  const raw = <T extends EvidenceReadings>(lists: readonly T[]): T[] => lists.filter((list) => WHERE_IT_STOOD.includes(list.place)).flatMap((list) => between(list, -Infinity, until) ?? []);
  return [raw(evidence.readings), raw(rawBefore(evidence))];
}
