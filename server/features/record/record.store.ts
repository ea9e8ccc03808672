import type { RawQuery } from '../../platform/database/open.ts';
import { rowsFor } from '../../platform/database/rows.ts';

export type Values = Record<string, unknown>;
export type EntryRow = {
  id: string;
  at: Date;
  actorId: string | null;
  actorName: string | null;
  subjectKind: string;
  subjectId: string;
  action: 'created' | 'changed' | 'removed';
  before: Values | null;
  after: Values | null;
  reason: string | null;
};

const columns = `r.id, r.at, r.actor_id, r.subject_kind, r.subject_id, r.action, r.before, r.after, r.reason`;
const named = (entries: string) => `select r.id::text as id, r.at, r.actor_id as "actorId", m.name as "actorName", r.subject_kind as "subjectKind",
    r.subject_id as "subjectId", r.action, r.before, r.after, r.reason
  from (${entries}) r left join member m on m.id = r.actor_id order by r.id desc`;

/** Entries past this id are none, so one text serves the first page and those after it. */
const NEWEST = '9223372036854775807';

const allSql = (rows: number) => named(`select ${columns} from record_entry r where r.id < $1::bigint order by r.id desc limit ${rows}`);

// Each half reads its own index from the newest entry on and stops at the limit.
const ofSubjectSql = (rows: number) => named(`
  select * from (select ${columns} from record_entry r where r.subject_kind = $2 and r.subject_id = $3 and r.id < $1::bigint order by r.id desc limit ${rows}) own
  union all
  select * from (select ${columns} from record_entry r where r.parent_kind = $2 and r.parent_id = $3 and r.id < $1::bigint order by r.id desc limit ${rows}) parts
  order by id desc limit ${rows}`);

/** The entries of a subject and of what hangs on it, newest first. */
export const entriesOf = (query: RawQuery, subject: { kind: string; id: string }, before: string | null, limit: number) =>
  query<EntryRow>(`record-of-subject-${rowsFor(limit)}`, ofSubjectSql(rowsFor(limit)), [before ?? NEWEST, subject.kind, subject.id]);

export const allEntries = (query: RawQuery, before: string | null, limit: number) => query<EntryRow>(`record-all-${rowsFor(limit)}`, allSql(rowsFor(limit)), [before ?? NEWEST]);

const namesSql = `select 'member' as kind, id::text as id, name from member where id = any($1::uuid[])
  union all select 'boat', id::text, name from boat where id = any($2::uuid[])
  union all select 'station', id::text, name from station where id = any($3::uuid[])`;
export type NamedThing = { kind: 'member' | 'boat' | 'station'; id: string; name: string };

export const namesOf = (query: RawQuery, ids: Record<NamedThing['kind'], string[]>) =>
  query<NamedThing>('record-names', namesSql, [ids.member, ids.boat, ids.station]);
