import { badField } from '../errors/problem-error.ts';

/** What one part of a list's sort key may look like. */
export type CursorPart = 'uuid' | 'day' | 'instant' | 'integer';

const shapes: Record<CursorPart, RegExp> = {
  uuid: /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/,
  day: /^\d{4}-\d{2}-\d{2}$/,
  instant: /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/,
  integer: /^\d{1,18}$/,
};

/**
 * The sort key of a page's last row, opaque to whoever asks. Since the next page starts after that key and not after
 * a count of rows, rows that come or go meanwhile make no other row appear twice or be left out.
 */
export function encodeCursor(key: readonly string[]): string {
  return Buffer.from(JSON.stringify(key)).toString('base64url');
}

/** The sort key in a cursor, null when there is none. A cursor that this list did not give is refused. */
export function decodeCursor<const Parts extends readonly CursorPart[]>(cursor: string | undefined, parts: Parts): { [I in keyof Parts]: string } | null {
  if (cursor === undefined) return null;
  const key = parse(cursor);
  const sound = Array.isArray(key) && key.length === parts.length && parts.every((part, i) => typeof key[i] === 'string' && isSound(part, key[i]));
  if (!sound) throw badField('cursor', cursor.slice(0, 100), 'This cursor is not one that the list gave.', 'Read the list from its start.', 'invalid-input');
  return key as { [I in keyof Parts]: string };
}

function parse(cursor: string): unknown {
  try {
    return JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'));
  } catch {
    return null;
  }
}

function isSound(part: CursorPart, text: string): boolean {
  if (!shapes[part].test(text)) return false;
  // The database would fail on a day or an instant that does not exist.
  return (part !== 'day' && part !== 'instant') || new Date(text).toJSON()?.startsWith(text.slice(0, 10)) === true;
}

/** One page of rows that were read with one row more than the limit: the row too many tells that there is a next page. */
export function pageOf<Row, Item>(rows: readonly Row[], limit: number, toItem: (row: Row) => Item, keyOf: (row: Row) => readonly string[]): { items: Item[]; nextCursor: string | null } {
  const shown = rows.slice(0, limit);
  const last = shown.at(-1);
  return { items: shown.map(toItem), nextCursor: rows.length > limit && last !== undefined ? encodeCursor(keyOf(last)) : null };
}
