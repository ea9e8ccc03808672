import { checkStageOrder } from '../../domain/stage-order.ts';
import { formatCapacity, insideHours, servesStage, STATION_SERVES } from '../../domain/stations.ts';
import { formatLocal } from '../../domain/time.ts';
import type { StageKind } from '../../domain/working.ts';
import { badField, ProblemError } from '../../platform/errors/problem-error.ts';
import type { StageTime, StationFacts } from './slots.store.ts';

export type Wanted = { stageKind: StageKind; startsAt: Date; endsAt: Date; amount: number };

const longestDays = 14;

/** What the station itself refuses: retired, another stage, closed then, more than it ever holds. */
export function checkStation(station: StationFacts, wanted: Wanted, timeZone: string): void {
  if (station.retired) throw badField('stationId', station.id, `${station.name} is retired.`, 'Choose another station.', 'conflict');
  if (!servesStage(station.kind, wanted.stageKind)) {
    throw badField('stageKind', wanted.stageKind, `${station.name} does not serve the stage ${wanted.stageKind}.`, `It serves ${STATION_SERVES[station.kind].join(', ')}.`, 'conflict');
  }
  if (wanted.amount > station.capacity) {
    throw badField('amount', wanted.amount, `${station.name} holds ${formatCapacity(station.capacity, station.capacityUnit)} in all; this asks for ${formatCapacity(wanted.amount, station.capacityUnit)}.`, 'Take less, or another station.', 'over-booked');
  }
  const hours = insideHours(wanted, station, timeZone);
  if (hours.ok) return;
  const { opens, closes } = hours.nearest;
  throw badField('startsAt', wanted.startsAt.toISOString(), `${station.name} is open from ${formatLocal(opens, timeZone, 'day-time')} to ${formatLocal(closes, timeZone, 'day-time')}.`, 'Choose a time inside its hours.', 'conflict');
}

/** Times that no slot may have. */
export function checkTimes(wanted: Wanted): void {
  if (wanted.endsAt <= wanted.startsAt) throw badField('endsAt', wanted.endsAt.toISOString(), 'The slot ends before it starts.', 'Check both times.');
  if (wanted.endsAt.getTime() - wanted.startsAt.getTime() > longestDays * 86_400_000) {
    throw badField('endsAt', wanted.endsAt.toISOString(), `A slot lasts at most ${longestDays} days.`, 'Choose an earlier end.');
  }
}

/** A time that is over is recorded only for a stage that ran then, within the hours that it took. */
export function checkAfterwards(wanted: Wanted, stages: readonly { startedAt: Date; finishedAt: Date | null }[], timeZone: string): void {
  if (stages.length === 0) {
    throw badField('endsAt', wanted.endsAt.toISOString(), 'The slot is over already.', `Choose a time that has not passed, or record the stage ${wanted.stageKind} first.`);
  }
  if (stages.some((s) => wanted.startsAt >= s.startedAt && (s.finishedAt === null || wanted.endsAt <= s.finishedAt))) return;
  const { startedAt, finishedAt } = stages[0]!;
  const ran = `${capital(wanted.stageKind)} ran from ${formatLocal(startedAt, timeZone, 'day-time')}${finishedAt ? ` to ${formatLocal(finishedAt, timeZone, 'day-time')}` : ''}.`;
  throw badField(wanted.startsAt < startedAt ? 'startsAt' : 'endsAt', (wanted.startsAt < startedAt ? wanted.startsAt : wanted.endsAt).toISOString(), ran, 'Choose a time within it.');
}

/**
 * Keeps the batch's stages in their order. Each other time is held against the wanted one alone, so that the refusal
 * names the one that breaks, and disorder among the others stops nobody.
 */
export function checkOrder(wanted: Wanted, others: StageTime[], timeZone: string): void {
  for (const other of others) {
    const answer = checkStageOrder([
      // A stage may have been recorded as starting and finishing in the same minute.
      { kind: other.kind, startsAt: other.startsAt, endsAt: new Date(Math.max(other.endsAt.getTime(), other.startsAt.getTime() + 1)) },
      { kind: wanted.stageKind, startsAt: wanted.startsAt, endsAt: wanted.endsAt },
    ]);
    if (answer.ok) continue;
    const was = other.what === 'stage' ? 'was recorded' : 'is booked';
    const from = formatLocal(other.startsAt, timeZone, 'day-time');
    const to = formatLocal(other.endsAt, timeZone, 'day-time');
    const breaks = `${answer.breaks[0]!.text} ${capital(other.kind)} ${was} from ${from} to ${to}.`;
    const remedy = other.what === 'stage' ? 'Choose another time.' : `Choose another time, or move ${other.kind} first.`;
    throw new ProblemError('stage-order', `This breaks the order of the stages. ${breaks} ${remedy}`, {
      errors: [{ field: 'startsAt', value: wanted.startsAt.toISOString(), message: breaks, remedy }],
    });
  }
}

/** What the database found when it refused a slot for room. */
export type Overload = { capacity: number; load: number; at: string; over: number };

export function overBooked(overload: Overload, station: StationFacts, amount: number, timeZone: string): ProblemError {
  const free = Math.max(0, amount - overload.over);
  const size = (n: number) => formatCapacity(n, station.capacityUnit);
  const when = formatLocal(new Date(overload.at), timeZone, 'day-time');
  const left = free === 0 ? `${station.name} is full` : `${station.name} has ${size(free)} of ${size(overload.capacity)} free`;
  return badField('amount', amount, `${left} at ${when}; this asks for ${size(amount)}.`, 'Take less, another time or another station.', 'over-booked');
}

const capital = (word: string) => word.charAt(0).toUpperCase() + word.slice(1);
