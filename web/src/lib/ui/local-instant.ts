/** Between an instant and what a date-and-time control shows in the club's zone. */
import { formatLocal, localDay, occurrences, zonedToInstant } from '$domain/time.ts';
import { DomainError } from '$domain/working.ts';

/** '2025-06-03T14:20' in the zone, or '' for none. */
export function toControl(instant: string | null, zone: string): string {
  if (instant === null || instant === '') return '';
  const at = new Date(instant);
  return `${localDay(at, zone)}T${formatLocal(at, zone, 'time')}`;
}

export type ControlReading = { instant: string | null; twice: boolean } | { error: string };

/** Reads the control. `later` picks the second of a time that comes twice when clocks go back. */
export function fromControl(text: string, zone: string, later: boolean): ControlReading {
  const match = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2})/.exec(text);
  if (match === null) return { instant: null, twice: false };
  const local = { day: match[1] as string, time: match[2] as string };
  try {
    const twice = occurrences(local, zone) === 2;
    const at = zonedToInstant(local, zone, later ? 'later' : 'earlier');
    return { instant: at.toISOString(), twice };
  } catch (cause) {
    if (cause instanceof DomainError) return { error: cause.message };
    throw cause;
  }
}
