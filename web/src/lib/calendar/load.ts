/** How full a station is, in words. */
import type { Slot, Station } from '$contract/stations.ts';
import { peakLoad } from '$domain/capacity.ts';
import { formatCapacity } from '$domain/stations.ts';
import { showWeight } from '../show.ts';
import { touches, type Span } from './span.ts';

type Unit = Station['capacityUnit'];

export function showAmount(amount: number, unit: Unit): string {
  return unit === 'grams' ? showWeight(amount) : formatCapacity(amount, unit);
}

/** '12 of 20 kg' in as few signs as a block has room for. */
export function shareOf(amount: number, capacity: number, unit: Unit): string {
  const part = formatCapacity(amount, unit);
  const whole = formatCapacity(capacity, unit);
  const word = whole.slice(whole.indexOf(' '));
  return part.endsWith(word) ? `${part.slice(0, -word.length)} of ${whole}` : `${part} of ${whole}`;
}

/** The highest load of a station within a span. */
export function peakWithin(slots: readonly Slot[], stationId: string, span: Span): { peak: number; count: number } {
  const here = slots.filter((s) => s.station.id === stationId && touches(span, Date.parse(s.startsAt), Date.parse(s.endsAt)));
  const cut = here.map((s) => ({
    startsAt: new Date(Math.max(Date.parse(s.startsAt), span.startMs)),
    endsAt: new Date(Math.min(Date.parse(s.endsAt), span.endMs)),
    amount: s.amount,
  }));
  return { peak: peakLoad(cut).peak, count: here.length };
}

export function loadAt(slots: readonly Slot[], stationId: string, atMs: number): number {
  return slots
    .filter((s) => s.station.id === stationId && Date.parse(s.startsAt) <= atMs && atMs < Date.parse(s.endsAt))
    .reduce((sum, s) => sum + s.amount, 0);
}

/** Today: what is taken now, else what is still to come; another day: its highest. */
export function loadWords(station: Station, slots: readonly Slot[], span: Span, nowMs: number): string {
  const { peak } = peakWithin(slots, station.id, span);
  const say = (amount: number) => (amount >= station.capacity ? 'full' : shareOf(amount, station.capacity, station.capacityUnit));
  if (nowMs < span.startMs || nowMs >= span.endMs) return peak === 0 ? 'free' : `up to ${say(peak)}`.replace('up to full', 'full at times');
  const now = loadAt(slots, station.id, nowMs);
  if (now > 0) return `now ${say(now)}`;
  return peak === 0 ? 'free' : 'free now';
}
