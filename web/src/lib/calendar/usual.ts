/** First guesses for a booking. The person changes what differs. */
import type { Batch } from '$contract/batches.ts';
import type { Slot, Station } from '$contract/stations.ts';
import { insideHours } from '$domain/stations.ts';
import { STAGE_ORDER, STAGES_OF, type StageKind } from '$domain/working.ts';
import { HOUR_MS, STEP_MS } from './span.ts';

/** What a booking has to know of its batch; a batch's own page knows its other slots too. */
export type BookedBatch = Pick<Batch, 'id' | 'productKind' | 'onHandGrams' | 'running' | 'lastStage'> & { slots?: readonly Pick<Slot, 'stageKind' | 'endsAt'>[] };
type Place = Pick<Station, 'serves' | 'capacity' | 'capacityUnit' | 'opensAt' | 'closesAt'>;

/** Common practice, no source: a place to start from. */
const USUAL_HOURS: Record<StageKind, number> = { prepare: 1, cure: 6, rinse: 1, dry: 1, smoke: 4, cool: 4, mix: 1, pack: 1 };
/** Booked far more often than the rest, which a bench takes without asking. */
const MOSTLY_BOOKED: readonly StageKind[] = ['cure', 'dry', 'smoke'];
/** What a station is there for, whatever else it serves. */
const CHIEF_STAGE: Record<Station['kind'], StageKind> = { 'brine-tub': 'cure', refrigerator: 'cure', 'drying-rack': 'dry', smoker: 'smoke', bench: 'prepare', freezer: 'cool' };

/** The stations that serve a stage, those that are there for it first: a rack dries before a smoker does. */
export function stationsFor<S extends Pick<Station, 'kind' | 'serves'>>(kind: StageKind, stations: readonly S[]): S[] {
  const serving = stations.filter((s) => s.serves.includes(kind));
  return [...serving.filter((s) => CHIEF_STAGE[s.kind] === kind), ...serving.filter((s) => CHIEF_STAGE[s.kind] !== kind)];
}

/** The stages that a station among these serves and that the batch's product goes through at all. */
export function stagesOnOffer(stations: readonly Pick<Station, 'serves'>[], batch: Pick<Batch, 'productKind'> | null): StageKind[] {
  return (batch ? STAGES_OF[batch.productKind] : STAGE_ORDER).filter((kind) => stations.some((s) => s.serves.includes(kind)));
}

/** The next stage of the batch among those on offer that is neither behind it nor booked yet; where a station is given, what it is there for. */
export function usualStage(offered: readonly StageKind[], batch: BookedBatch | null, at?: Pick<Station, 'kind'>): StageKind | '' {
  const booked = new Set(batch?.slots?.map((s) => s.stageKind));
  const past = batch?.lastStage ? STAGE_ORDER.indexOf(batch.lastStage) : -1;
  const ahead = offered.filter((kind) => STAGE_ORDER.indexOf(kind) > past && !booked.has(kind));
  const first = at ? [CHIEF_STAGE[at.kind], ...MOSTLY_BOOKED] : MOSTLY_BOOKED;
  const among = (kinds: readonly StageKind[]) => first.find((kind) => kinds.includes(kind));
  return among(ahead) ?? ahead[0] ?? among(offered) ?? offered[0] ?? '';
}

/** The next quarter hour at which what runs is due, the earlier stages that are booked are over, and the station is open. */
export function usualStart(kind: StageKind, batch: BookedBatch | null, station: Place | undefined, nowMs: number, zone: string): number {
  const earlier = (batch?.slots ?? []).filter((s) => STAGE_ORDER.indexOf(s.stageKind) <= STAGE_ORDER.indexOf(kind)).map((s) => Date.parse(s.endsAt));
  const running = batch?.running;
  const dueMs = running?.dueAt && running.kind !== kind ? Date.parse(running.dueAt) : nowMs;
  const startMs = Math.ceil(Math.max(nowMs, dueMs, ...earlier) / STEP_MS) * STEP_MS;
  if (station === undefined) return startMs;
  const hours = insideHours({ startsAt: new Date(startMs), endsAt: new Date(startMs + STEP_MS) }, station, zone);
  return hours.ok || hours.nearest.opens.getTime() <= startMs ? startMs : hours.nearest.opens.getTime();
}

/** As long as the stage usually takes, cut off where the station closes. */
export function usualEnd(kind: StageKind, station: Place | undefined, startMs: number, zone: string): number {
  const endMs = startMs + USUAL_HOURS[kind] * HOUR_MS;
  if (station === undefined) return endMs;
  const hours = insideHours({ startsAt: new Date(startMs), endsAt: new Date(endMs) }, station, zone);
  return hours.ok || hours.nearest.opens.getTime() > startMs ? endMs : Math.min(endMs, hours.nearest.closes.getTime());
}

/** As much as the batch holds where a station counts by weight, else one rack; nobody guesses litres. */
export function usualAmount(station: Place | undefined, batch: BookedBatch | null): number | null {
  if (station === undefined) return null;
  if (station.capacityUnit === 'grams') return batch !== null && batch.onHandGrams > 0 ? Math.min(batch.onHandGrams, station.capacity) : null;
  return station.capacityUnit === 'racks' ? 1 : null;
}
