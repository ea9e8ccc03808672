import type { Withdrawal } from '../../contract/evidence.ts';
import { rulesMeasuring, rulesReading } from '../../domain/rules/fed.ts';
import type { ReadingPlace } from '../../domain/reading-flags.ts';
import { stagesOf } from './lineage.ts';
import type { Lineage } from './lineage.ts';

/** An entry of the record in which something was withdrawn or came back; newest first in its list. */
type Change = { id: number; at: string; byId: string | null; by: string | null; reason: string | null; wholly: boolean; nos: number[] | null; nosBefore: number[] | null };
type Told = { changes: Change[] | null };
export type WithdrawnRows = {
  withdrawnLists: (Told & { place: ReadingPlace; probe: string; stageId: string | null; readingCount: number; firstAt: string; lastAt: string; wholly: boolean; withdrawnNos: number[] })[] | null;
  withdrawnFigures: (Told & { kind: 'water-phase-salt' | 'nitrite' | 'water-activity'; value: number })[] | null;
  withdrawnReleases: (Told & { ruleId: string })[] | null;
};

/** Who withdrew a row, when and why stands in the record alone: its entries, newest first. */
const changesSql = (subject: string, id: string) => `(select json_agg(e order by e.id desc) from (select r.id, r.at, r.actor_id as "byId", m.name as by, r.reason, r.after->>'withdrawn_at' is not null as wholly,
    r.after->'withdrawn_nos' as nos, r.before->'withdrawn_nos' as "nosBefore"
  from record_entry r left join member m on m.id = r.actor_id
  where r.subject_kind = '${subject}' and r.subject_id = ${id}::text and r.action = 'changed' and (r.after ? 'withdrawn_at' or r.after ? 'withdrawn_nos')) e) as changes`;

/** Of a rule that is let go now, no release of before. */
export const withdrawnColumns = `
  (select json_agg(x order by x."firstAt", x.id) from (select l.id, l.place, l.probe, l.stage_id as "stageId", l.reading_count as "readingCount", l.first_at as "firstAt", l.last_at as "lastAt", l.withdrawn_at is not null as wholly,
      l.withdrawn_nos as "withdrawnNos", ${changesSql('reading-list', 'l.id')}
    from reading_list l where l.batch_id = $1 and (l.withdrawn_at is not null or cardinality(l.withdrawn_nos) > 0)) x) as "withdrawnLists",
  (select json_agg(x order by x.id) from (select s.id, s.kind, s.value, ${changesSql('measurement', 's.id')} from measurement s where s.batch_id = $1 and s.withdrawn_at is not null) x) as "withdrawnFigures",
  (select json_agg(x order by x.id) from (select w.id, w.rule_id as "ruleId", ${changesSql('release', 'w.id')} from release w
    where w.batch_id = $1 and w.withdrawn_at is not null and not exists (select from release o where o.batch_id = w.batch_id and o.rule_id = w.rule_id and o.withdrawn_at is null)) x) as "withdrawnReleases"`;

/** What of a batch's own evidence does not count any more, with the rules at whose checks it is told. */
export function withdrawalsOf(rows: WithdrawnRows, lineage: Lineage): Withdrawal[] {
  const none = { place: null, probe: '', readings: null, of: null, measured: null, value: null };
  return [
    ...(rows.withdrawnLists ?? []).flatMap((list) => ofList(list, lineage)),
    ...(rows.withdrawnFigures ?? []).flatMap(({ kind, value, changes }) => last(changes).map((change) => ({ ...none, ...told(change), kind: 'figure' as const, measured: kind, value, ruleIds: [...rulesMeasuring(kind)] }))),
    ...lastOfEach(rows.withdrawnReleases ?? []).map(({ ruleId, change }) => ({ ...none, ...told(change), kind: 'release' as const, ruleIds: [ruleId] })),
  ];
}

/** Of a rule that was let go several times, the release that ended last by the order of the record. */
function lastOfEach(releases: NonNullable<WithdrawnRows['withdrawnReleases']>): { ruleId: string; change: Change }[] {
  const ended = releases.flatMap(({ ruleId, changes }) => last(changes).map((change) => ({ ruleId, change })));
  return [...Map.groupBy(ended, ({ ruleId }) => ruleId).values()].map((ofRule) => ofRule.reduce((a, b) => (b.change.id > a.change.id ? b : a)));
}

const last = (changes: Change[] | null): Change[] => (changes ?? []).filter((change) => change.wholly).slice(0, 1);
const told = ({ at, byId, by, reason }: Change) => ({ at: new Date(at).toISOString(), by: byId === null ? null : { id: byId, name: by ?? 'unknown' }, reason: reason ?? '' });

/** A whole list once; single readings by who withdrew them for which reason. */
function ofList(list: NonNullable<WithdrawnRows['withdrawnLists']>[number], lineage: Lineage): Withdrawal[] {
  const stages = stagesOf(lineage);
  const smokes = stages.filter((s) => s.kind === 'smoke');
  const ends = smokes.map((s) => s.finishedAt);
  const smoke = smokes.length === 0 ? null : { startedAt: new Date(smokes[0]!.startedAt), finishedAt: ends.includes(null) ? null : new Date(ends.at(-1)!) };
  const ruleIds = rulesReading({ place: list.place, stageKind: stages.find((s) => s.id === list.stageId)?.kind ?? null, firstAt: new Date(list.firstAt), lastAt: new Date(list.lastAt), smoke });
  const shared = { kind: 'readings' as const, ruleIds, place: list.place, probe: list.probe, of: list.readingCount, measured: null, value: null };
  if (list.wholly) return last(list.changes).map((change) => ({ ...shared, ...told(change), readings: list.readingCount }));
  const open = new Set(list.withdrawnNos);
  const parts = (list.changes ?? []).flatMap((change) => {
    const taken = (change.nos ?? []).filter((no) => open.has(no) && !change.nosBefore?.includes(no));
    for (const no of taken) open.delete(no);
    return taken.length === 0 ? [] : [{ change, readings: taken.length }];
  });
  return [...Map.groupBy(parts, ({ change }) => `${change.byId} ${change.reason}`).values()].map((same) => ({ ...shared, ...told(same[0]!.change), readings: same.reduce((sum, { readings }) => sum + readings, 0) }));
}
