import type { RecordEntry } from '../../contract/today.ts';
import type { EntryRow, NamedThing, Values } from './record.store.ts';

type Name = (kind: NamedThing['kind'], id: string) => string | undefined;
/** How a column is told: its name in the API, and its value as the API writes it. */
type Telling = { field: string; value?: (value: unknown) => unknown };

const isSet = (value: unknown) => value !== null;
const generic: Record<string, Telling> = {
  retired_at: { field: 'retired', value: isSet },
  withdrawn_at: { field: 'withdrawn', value: isSet },
  cancelled_at: { field: 'cancelled', value: isSet },
  lengths_mm: { field: 'lengthsCm', value: (mm) => (Array.isArray(mm) ? mm.map((length: number) => length / 10) : mm) },
  share_hundredths: { field: 'shareWeight', value: (hundredths) => (typeof hundredths === 'number' ? hundredths / 100 : hundredths) },
  from_member_id: { field: 'from' },
  to_member_id: { field: 'to' },
  to_name: { field: 'to' },
};
const ofSubject: Record<string, Record<string, Telling>> = {
  trip: { closed_at: { field: 'open', value: (closedAt) => closedAt === null } },
  'hand-over': { cancelled_at: { field: 'undone', value: isSet } },
};

/** Which columns name a member, a boat or a station by its id. */
export function namedKind(column: string): NamedThing['kind'] | null {
  if (column === 'boat_id') return 'boat';
  if (column === 'station_id') return 'station';
  return /^(member|holder|created_by|decided_by|recalled_by|invited_by|used_by|made_by|from_member|to_member|for_member|catcher_member)_id$/.test(column) ? 'member' : null;
}

/** Told by the entry itself, or of no use to a reader. */
const left = new Set(['id', 'created_at', 'created_by_id', 'version', 'name_typed']);
const catcherColumns = ['catcher_kind', 'catcher_member_id', 'catcher_guest'];

const camel = (column: string) => column.replace(/_([a-z0-9])/g, (_all, letter: string) => letter.toUpperCase());

/** An entry's values before and after, field by field, with names as in the API and people, boats and stations by name. */
export function fieldsOf(entry: EntryRow, name: Name): RecordEntry['fields'] {
  const before = told(entry, entry.before, name);
  const after = told(entry, entry.after, name);
  return [...new Set([...before.keys(), ...after.keys()])].map((field) => ({
    field,
    ...(before.has(field) ? { before: before.get(field) } : {}),
    ...(after.has(field) ? { after: after.get(field) } : {}),
  }));
}

function told(entry: EntryRow, values: Values | null, name: Name): Map<string, unknown> {
  const fields = new Map<string, unknown>();
  if (values === null) return fields;
  const whole = entry.action !== 'changed';
  const catcher = catcherName(values, name);
  if (catcher !== undefined) fields.set('catcher', catcher);
  for (const [column, value] of Object.entries(values)) {
    if (left.has(column) || catcherColumns.includes(column)) continue;
    // A whole row lists what was filled in; a change also tells what was emptied.
    if (whole && (value === null || value === '' || (Array.isArray(value) && value.length === 0))) continue;
    const telling = ofSubject[entry.subjectKind]?.[column] ?? generic[column];
    const kind = namedKind(column);
    const field = telling?.field ?? camel(kind ? column.replace(/_id$/, '') : column);
    const plain = kind ? named(kind, value, name) : telling?.value ? telling.value(value) : asText(column, value);
    // Two columns may tell one field, such as a hand-over's two kinds of receiver: the filled one counts.
    if (fields.get(field) === undefined || fields.get(field) === null) fields.set(field, plain);
  }
  return fields;
}

function named(kind: NamedThing['kind'], id: unknown, name: Name): unknown {
  return typeof id === 'string' ? { id, name: name(kind, id) ?? 'unknown' } : null;
}

function asText(column: string, value: unknown): unknown {
  return column.endsWith('_at') && typeof value === 'string' ? new Date(value).toISOString() : value;
}

/** A landing's catcher stands in three columns; of a change only those that differ are written down. */
function catcherName(values: Values, name: Name): string | null | undefined {
  if (!catcherColumns.some((column) => column in values)) return undefined;
  const { catcher_kind: kind, catcher_member_id: memberId, catcher_guest: guest } = values;
  if (typeof memberId === 'string') return name('member', memberId) ?? 'unknown';
  if (typeof guest === 'string') return guest;
  return kind === 'boat' ? 'the boat' : null;
}
