import type { Batch, BatchDetail, Draw, Stage } from '../../contract/batches.ts';
import type { Measurement, ReadingListRecord } from '../../contract/evidence.ts';
import type { PackLine } from '../../contract/packs.ts';
import type { Slot } from '../../contract/stations.ts';
import { formatPackNo } from '../../domain/lot-code.ts';
import type { Day } from '../../domain/working.ts';
import { isCrew } from '../../platform/auth/access.ts';
import type { Actor } from '../../platform/context.ts';
import { adviceOf } from './advice.ts';
import { contentsOf, printedOf } from './printed.ts';
import { inherited } from './inherited.ts';
import { batchOf, drawsInto, stagesOf, toLineage } from './lineage.ts';
import type { Lineage, LineageBatch, LineageDraw } from './lineage.ts';
import { otherFishInName } from './names.ts';
import { originsOfBatch } from './origins.ts';
import type { ListRow, PageRow } from './page.sql.ts';
import { isSourceClosed, mayUndo } from './shortfall.ts';
import { judge } from './verdict.ts';
import { withdrawalsOf } from './withdrawals.ts';
import { yieldsOf } from './yields.ts';

/** The database writes instants in UTC as 2026-06-10T12:00:00+00:00; the service answers them as 2026-06-10T12:00:00.000Z. */
const iso = (text: string): string => new Date(text).toISOString();
const isoOrNull = (text: string | null): string | null => (text === null ? null : iso(text));

export function toBatchDetail(id: string, row: PageRow, actor: Actor): BatchDetail {
  const lineage = toLineage(id, row);
  const head = row.head!;
  const judged = judge(lineage, head.timeZone);
  const yields = yieldsOf(lineage);
  const extras = new Map(row.stageExtras?.map((s) => [s.id, s]));
  const batch = batchOf(lineage);
  const contents = contentsOf(lineage);
  return {
    ...ofBatch(batch, lineage), packCount: head.packCount, createdAt: iso(head.createdAt), version: head.version,
    note: head.note, ingredients: head.ingredients, allergens: head.allergens, inherited: inherited(lineage), printed: printedOf(contents), mixedDay: batch.mixedDay,
    nameTyped: batch.nameTyped, nameSays: batch.nameTyped ? otherFishInName(batch.name, lineage.landings) : null,
    draws: toDraws(lineage, row),
    stages: stagesOf(lineage).map((s): Stage => ({
      id: s.id, seq: s.seq, kind: s.kind, startedAt: iso(s.startedAt), dueAt: isoOrNull(s.dueAt), finishedAt: isoOrNull(s.finishedAt), massInG: s.massInG, addedG: s.addedG,
      massOutG: s.massOutG, trimG: s.trimG, lossG: s.lossG, lossReason: s.lossReason, note: s.note, maxCoreC: s.maxCoreC, holdMinutes: s.holdMinutes, cooledTo21At: isoOrNull(s.cooledTo21At), cooledAt: isoOrNull(s.cooledAt), fromFrozen: s.fromFrozen, maxPlaceC: s.maxPlaceC, coreUnitConfirmed: s.coreUnitConfirmed, addedLastDay: s.addedLastDay,
      yield: yields.ofStage(s.id), cure: cureOf(lineage, s.id), createdBy: { id: extras.get(s.id)!.createdById, name: extras.get(s.id)!.createdByName }, version: s.version,
    })),
    overallYield: yields.overallYield,
    checks: judged.checks,
    ...adviceOf(lineage, contents),
    ...evidenceOf(row), withdrawals: isCrew(actor) ? withdrawalsOf(row, lineage) : [],
    saltForNoAir: judged.dateEvidence.saltRopMet,
    origins: originsOfBatch(lineage),
    slots: toSlots(row, batch),
    packs: toPackLines(lineage, row, actor),
    drawnBy: row.drawnBy ?? [],
    recall: head.recalledAt === null ? null : { at: iso(head.recalledAt), reason: head.recallReason!, by: { id: head.recalledById!, name: head.recalledByName! } },
    createdBy: { id: head.createdById, name: head.createdByName },
  };
}

function ofBatch(batch: LineageBatch, lineage: Lineage): Omit<Batch, 'packCount' | 'createdAt' | 'version'> {
  const stages = stagesOf(lineage);
  const running = stages.find((s) => s.finishedAt === null);
  return {
    id: batch.id, lot: batch.lot, name: batch.name, productKind: batch.productKind, verdict: batch.verdict, notMet: batch.notMet, recalled: batch.recalled, closed: batch.closed, onHandGrams: batch.onHandGrams,
    packedGrams: batch.packedGrams, species: [...new Set(lineage.landings.map((l) => l.species))].sort(),
    running: running ? { id: running.id, kind: running.kind, startedAt: iso(running.startedAt), dueAt: isoOrNull(running.dueAt) } : null,
    lastStage: stages.at(-1)?.kind ?? null, smokeDay: batch.smokeDay,
  };
}

function evidenceOf(row: PageRow): Pick<BatchDetail, 'readingLists' | 'measurements' | 'releases'> {
  const made = <T extends { createdAt: string; createdById: string; createdByName: string }>({ createdAt, createdById, createdByName, ...rest }: T) => ({ ...rest, createdAt: iso(createdAt), createdBy: { id: createdById, name: createdByName } });
  return {
    readingLists: (row.readingLists ?? []).map((l) => ({
      ...made(l), place: l.place as ReadingListRecord['place'], source: l.source as ReadingListRecord['source'], firstAt: iso(l.firstAt), lastAt: iso(l.lastAt), withdrawn: false,
    })),
    measurements: (row.measured ?? []).map((m) => ({ ...made(m), kind: m.kind as Measurement['kind'], part: m.part as Measurement['part'] })),
    releases: (row.released ?? []).map(made),
  };
}

function cureOf(lineage: Lineage, stageId: string): Stage['cure'] {
  const found = lineage.cures.find((c) => c.stageId === stageId);
  if (!found) return null;
  const { stageId: _stage, batchId: _batch, createdById, createdByName, ...facts } = found;
  return { ...facts, createdBy: { id: createdById, name: createdByName } };
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const shortDay = (day: Day) => `${Number(day.slice(8))} ${MONTHS[Number(day.slice(5, 7)) - 1]}`;

function toDraws(lineage: Lineage, row: PageRow): Draw[] {
  const extras = new Map(row.drawExtras?.map((d) => [d.id, d]));
  return drawsInto(lineage).map((d): Draw => {
    const extra = extras.get(d.id)!;
    return { id: d.id, trayNo: d.trayNo, grams: d.grams, source: toSource(lineage, d, extra), undoable: mayUndo(lineage, d.id), sourceClosed: isSourceClosed(lineage, d), createdBy: { id: extra.createdById, name: extra.createdByName }, createdAt: iso(extra.createdAt), version: extra.version };
  });
}
function toSource(lineage: Lineage, d: LineageDraw, extra: { sourceLot: string | null; sourcePackNo: number | null }): Draw['source'] {
  if (d.sourceBatchId !== null) return { kind: 'batch', id: d.sourceBatchId, label: extra.sourceLot!, pooling: null, form: null, landing: null };
  if (d.sourcePackId !== null) return { kind: 'pack', id: d.sourcePackId, label: formatPackNo(extra.sourceLot!, extra.sourcePackNo!), pooling: null, form: null, landing: null };
  const l = lineage.landings.find((x) => x.id === d.landingId)!;
  const landing = { day: l.day, landedAt: isoOrNull(l.landedAt), caughtAt: isoOrNull(l.caughtAt), writtenAt: iso(l.createdAt) };
  return { kind: 'landing', id: l.id, label: `${l.species}, ${l.catcher}, ${shortDay(l.day)}`, pooling: l.pooling, form: l.form, landing };
}

function toSlots(row: PageRow, batch: LineageBatch): Slot[] {
  return (row.slots ?? []).map((s) => ({
    id: s.id,
    station: { id: s.stationId, name: s.stationName, kind: s.stationKind as Slot['station']['kind'], capacityUnit: s.capacityUnit as Slot['station']['capacityUnit'], capacity: s.capacity },
    batch: { id: batch.id, lot: batch.lot, name: batch.name }, stageKind: s.stageKind as Slot['stageKind'], startsAt: iso(s.startsAt), endsAt: iso(s.endsAt), amount: s.amount, note: s.note,
    createdBy: { id: s.createdById, name: s.createdByName }, version: s.version,
  }));
}

/** Who holds or asked for a pack is told to crew and captains; a member sees only what is theirs. */
function toPackLines(lineage: Lineage, row: PageRow, actor: Actor): PackLine[] {
  const all = isCrew(actor);
  const batch = batchOf(lineage);
  const extras = new Map(row.packExtras?.map((p) => [p.id, p]));
  return lineage.packs.filter((p) => p.batchId === batch.id).map((p): PackLine => {
    const x = extras.get(p.id)!;
    const held = x.holderId === actor.id;
    const claimed = x.claimMemberId === actor.id;
    const claim = x.claimId === null || !(all || claimed) ? null : { id: x.claimId, member: { id: x.claimMemberId!, name: x.claimMember! }, status: x.claimStatus as 'asked', version: x.claimVersion! };
    return {
      id: p.id, batchId: batch.id, lot: batch.lot, packNo: p.packNo, trayNo: p.trayNo, product: batch.name, grams: p.grams, packageKind: p.packageKind, storage: p.storage, lastDay: p.lastDay,
      dateKind: p.dateKind, status: p.status as PackLine['status'], verdict: batch.verdict, notMet: batch.notMet, recalled: batch.recalled, holder: all || held ? x.holder : null, claim,
      mine: held || (x.holderId === null && claimed), printCount: x.printCount, version: x.version,
    };
  });
}

export function toBatch(row: ListRow): Batch {
  const { running, createdAt, species, lastStage, ...rest } = row;
  return {
    ...rest, species: species ?? [], lastStage: lastStage as Batch['lastStage'], createdAt: createdAt.toISOString(),
    running: running ? { id: running.id, kind: running.kind as NonNullable<Batch['running']>['kind'], startedAt: iso(running.startedAt), dueAt: isoOrNull(running.dueAt) } : null,
  };
}
