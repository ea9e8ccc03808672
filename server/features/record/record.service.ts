import type { z } from 'zod';
import type { RecordEntry, recordQuery } from '../../contract/today.ts';
import { need } from '../../platform/auth/access.ts';
import type { Actor, Context } from '../../platform/context.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import { decodeCursor, pageOf } from '../../platform/http/cursor.ts';
import { fieldsOf, namedKind } from './record.fields.ts';
import * as store from './record.store.ts';

/** Who changed what, newest first: of one subject with all that hangs on it, or of the whole club. */
export async function readRecord(context: Context, actor: Actor | null, asked: z.infer<typeof recordQuery>): Promise<{ items: RecordEntry[]; nextCursor: string | null }> {
  need(actor, 'crew');
  const { cursor, limit, subjectKind, subjectId } = asked;
  if ((subjectKind === undefined) !== (subjectId === undefined)) {
    const missing = subjectKind === undefined ? 'subjectKind' : 'subjectId';
    throw badField(missing, undefined, `The query has no ${missing}.`, 'Give both the kind and the id of the subject, or neither.', 'invalid-input');
  }
  const before = decodeCursor(cursor, ['integer'])?.[0] ?? null;
  const { query } = context.database;
  const rows = subjectKind !== undefined && subjectId !== undefined
    ? await store.entriesOf(query, { kind: subjectKind, id: subjectId }, before, limit)
    : await store.allEntries(query, before, limit);
  const name = await nameFinder(context, rows);
  return pageOf(rows, limit, (row) => toEntry(row, name), (row) => [row.id]);
}

type Name = Parameters<typeof fieldsOf>[1];

const toEntry = (row: store.EntryRow, name: Name): RecordEntry => ({
  id: row.id,
  at: row.at.toISOString(),
  by: row.actorId === null ? null : { id: row.actorId, name: row.actorName ?? 'unknown' },
  subjectKind: row.subjectKind,
  subjectId: row.subjectId,
  action: row.action,
  fields: fieldsOf(row, name),
  reason: row.reason,
});

/** Reads the names of all that the entries mention, in one query. */
async function nameFinder(context: Context, rows: readonly store.EntryRow[]): Promise<Name> {
  const ids = { member: [] as string[], boat: [] as string[], station: [] as string[] };
  for (const values of rows.flatMap((row) => [row.before, row.after])) {
    for (const [column, value] of Object.entries(values ?? {})) {
      const kind = namedKind(column);
      if (kind && typeof value === 'string') ids[kind].push(value);
    }
  }
  const names = new Map<string, string>();
  if (Object.values(ids).some((list) => list.length > 0)) {
    for (const thing of await store.namesOf(context.database.query, ids)) names.set(`${thing.kind} ${thing.id}`, thing.name);
  }
  return (kind, id) => names.get(`${kind} ${id}`);
}
