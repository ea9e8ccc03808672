import type { z } from 'zod';
import type { ReadingColumnsBody, ReadingColumnsMade, ReadingListPatch, ReadingListRecord, ReadingsBody, ReadingsMade, readingListChanged, readingsOfBatch, readingsQuery } from '../../contract/evidence.ts';
import { FLAG_WORDS, flagReadings } from '../../domain/reading-flags.ts';
import type { FlaggedReading } from '../../domain/reading-flags.ts';
import { lineExample, LONGEST_TEXT, parseReadingList } from '../../domain/reading-list.ts';
import type { LeftOut } from '../../domain/reading-list.ts';
import { columnLog, readingTable } from '../../domain/reading-table.ts';
import type { ColumnLog } from '../../domain/reading-table.ts';
import type { ReadingPlace } from '../../domain/reading-flags.ts';
import { checkInstant } from '../../domain/readings.ts';
import { addDays, localDay } from '../../domain/time.ts';
import { need } from '../../platform/auth/access.ts';
import type { Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import { newId } from '../../platform/new-id.ts';
import type { Unit } from '../../platform/unit.ts';
import * as batches from '../batches/batches.store.ts';
import { hold } from '../batches/locks.ts';
import { detailInside } from '../batches/page.service.ts';
import { recomputeBatch } from '../batches/recompute.ts';
import * as store from './readings.store.ts';
import { needReason } from './withdrawal.ts';

const toList = ({ firstAt, lastAt, createdAt, withdrawnAt, createdById, createdByName, ...row }: store.ListRow): ReadingListRecord => ({
  ...row, firstAt: firstAt.toISOString(), lastAt: lastAt.toISOString(), createdAt: createdAt.toISOString(), withdrawn: withdrawnAt !== null, createdBy: { id: createdById, name: createdByName },
});

export async function listReadings(context: Context, batchId: string, q: z.infer<typeof readingsQuery>): Promise<z.infer<typeof readingsOfBatch>> {
  const { query } = context.database;
  if (!(await batches.findBatch(query, batchId))) throw notFound('This batch');
  const lists = await store.listsOf(query, batchId, q.listId ?? null, q.withdrawn ?? false);
  const readings = Map.groupBy(await store.readingsOf(query, lists.map((l) => l.id)), (r) => r.listId);
  return {
    items: lists.map((list) => {
      const gone = new Set(list.withdrawnNos);
      return { ...toList(list), readings: (readings.get(list.id) ?? []).map(({ listId: _list, at, ...r }) => ({ ...r, at: at.toISOString(), withdrawn: gone.has(r.no) })) };
    }),
  };
}

/** Records the readings of one write: all that can be read, whatever they say, or none. */
export async function addReadings(context: Context, unit: Unit, batchId: string, body: ReadingsBody): Promise<ReadingsMade> {
  const actor = need(unit.actor, 'crew');
  return unit.runRaw(async (query) => {
    await hold(query, { batchIds: [batchId] });
    if (!(await batches.findBatch(query, batchId))) throw notFound('This batch');
    const zone = await batches.zoneOf(query);
    const made = await insert(query, { context, unit, batchId, zone, by: actor.id }, body);
    await recomputeBatch(query, batchId, zone);
    const { verdict, checks } = await detailInside(query, actor, batchId);
    return { ...made, verdict, checks };
  });
}

/** Records the columns of a table as a list each, all of them or none. */
export async function addReadingColumns(context: Context, unit: Unit, batchId: string, body: ReadingColumnsBody): Promise<ReadingColumnsMade> {
  const actor = need(unit.actor, 'crew');
  return unit.runRaw(async (query) => {
    await hold(query, { batchIds: [batchId] });
    if (!(await batches.findBatch(query, batchId))) throw notFound('This batch');
    const zone = await batches.zoneOf(query);
    const logs = columnLogs(body);
    const items: ReadingColumnsMade['items'] = [];
    for (const [i, { no, humidityNo: _humidityNo, ...column }] of body.columns.entries()) {
      const { text, refused, dry } = logs[i]!;
      const asked = { ...column, text, unit: body.unit, day: body.day, source: 'pasted' as const };
      const made = await insert(query, { context, unit, batchId, zone, by: actor.id }, asked, `columns.${i}.`, refused);
      items.push({ no, ...made, leftOut: [...made.leftOut, ...dry].sort((a, b) => a.lineNo - b.lineNo) });
    }
    await recomputeBatch(query, batchId, zone);
    const { verdict, checks } = await detailInside(query, actor, batchId);
    return { items, verdict, checks };
  });
}

/** Where readings are of air. */
const AIR: readonly ReadingPlace[] = ['chamber', 'storage'];

/** As the rules tell probes apart (domain/rules/logs.ts). */
const sameProbe = (a: string, b: string) => a.trim().toLowerCase() === b.trim().toLowerCase();

function columnLogs({ text, columns }: ReadingColumnsBody): ColumnLog[] {
  if (text.length > LONGEST_TEXT) throw badField('text', text.length, 'The text is too long.', 'Send it in parts.');
  const table = readingTable(text);
  if (!table) throw badField('text', undefined, 'This text is no table with several columns of temperatures.', 'Part the columns by tabs, semicolons, commas or two spaces, or send one probe at a time.');
  columns.forEach(({ no, place, probe, humidityNo }, i) => {
    if (!table.columns.some((c) => c.no === no && c.names !== 'humidity')) throw badField(`columns.${i}.no`, no, `Column ${no} holds no temperatures.`, `Choose among ${table.columns.filter((c) => c.names !== 'humidity').map((c) => c.no).join(', ')}.`);
    const before = columns.slice(0, i);
    if (before.some((c) => c.no === no)) throw badField(`columns.${i}.no`, no, `Column ${no} is named twice.`, 'Name it once.');
    // Two probes under one name would be read as one, and the colder hidden between the readings of the other.
    if (before.some((c) => c.place === place && sameProbe(c.probe, probe))) throw badField(`columns.${i}.probe`, probe, 'Two columns are the same probe.', 'Give each its own name, or leave one out.');
    if (humidityNo === null) return;
    const field = `columns.${i}.humidityNo`;
    if (!AIR.includes(place)) throw badField(field, humidityNo, 'Humidity is that of air.', `Name it with a column of ${AIR.join(' or ')}.`);
    if (!table.columns.some((c) => c.no === humidityNo)) throw badField(field, humidityNo, `Column ${humidityNo} holds no numbers.`, `Choose among ${table.columns.map((c) => c.no).join(', ')}.`);
    if (columns.some((c) => c.no === humidityNo)) throw badField(field, humidityNo, `Column ${humidityNo} is sent as temperatures.`, 'Send it as the one or the other.');
  });
  return columns.map(({ no, humidityNo }) => columnLog(text, table, no, humidityNo));
}

type Writing = { context: Context; unit: Unit; batchId: string; zone: string; by: string };

/** Writes one list. The batch must be held; its verdict is judged by the caller. */
async function insert(query: RawQuery, { context, unit, batchId, zone, by }: Writing, body: ReadingsBody, at = '', refused?: ReadonlyMap<number, string>): Promise<Omit<ReadingsMade, 'verdict' | 'checks'>> {
  const stage = body.stageId === null ? null : await store.stageOf(query, body.stageId);
  if (body.stageId !== null && stage?.batchId !== batchId) throw badField(`${at}stageId`, body.stageId, 'That stage is not of this batch, or was undone.', 'Choose one of its stages, or none.');
  const { readings, leftOut } = taken(body, zone, stage?.startedAt ?? null, unit.now, refused);
  const id = newId(unit.now, context.random);
  const source = body.text === undefined ? body.source : 'pasted';
  await store.insertList(query, { id, batchId, stageId: body.stageId, place: body.place, probe: body.probe, source, unitConfirmed: body.unitConfirmed, readings, by, at: unit.now });
  const flagged = readings.flatMap((r, i) => (r.flag === null ? [] : [{ no: i + 1, at: r.at.toISOString(), celsius: r.celsius, flag: r.flag, text: FLAG_WORDS[r.flag] }]));
  return { list: toList((await store.findList(query, id))!), flagged, leftOut };
}

const HOUR_MS = 3_600_000;

function taken(body: ReadingsBody, zone: string, stageBegan: Date | null, now: Date, refused?: ReadonlyMap<number, string>): { readings: FlaggedReading[]; leftOut: LeftOut[] } {
  if (body.readings !== undefined) {
    const rows = body.readings.map((r, i) => ({ at: checkInstant(new Date(r.at), now, `readings.${i}.at`), celsius: r.celsius, humidityPct: r.humidityPct }));
    return { readings: flagReadings(rows, body.place), leftOut: [] };
  }
  const read = (day: string) => parseReadingList({ text: body.text!, place: body.place, unit: body.unit, day, zone, now, ...(refused && { refused }) });
  const day = body.day ?? localDay(stageBegan ?? now, zone);
  let list = read(day);
  // What was read in a stage was not read long before it: a smoke that began in the evening cools after midnight.
  if (body.day === null && stageBegan !== null && list.readings.every((r) => r.at.getTime() < stageBegan.getTime() - HOUR_MS)) {
    const after = read(addDays(day, 1));
    if (after.readings.length === list.readings.length) list = after;
  }
  if (list.readings.length > 0) return list;
  const lines = list.leftOut.slice(0, 5).map(({ lineNo, text, why }) => ({ field: 'text', value: `line ${lineNo}: ${text}`, message: `Line ${lineNo}: ${why}.`, remedy: `Write lines such as ${lineExample(body.unit)}` }));
  throw new ProblemError('invalid-value', `No reading was found in this text. ${lines[0]?.message ?? ''} Write lines such as ${lineExample(body.unit)}.`, { errors: lines });
}

export async function changeList(unit: Unit, id: string, patch: ReadingListPatch): Promise<z.infer<typeof readingListChanged>> {
  const actor = need(unit.actor, 'crew');
  return unit.runRaw(
    async (query) => {
      const { batchId } = await present(query, id);
      await hold(query, { batchIds: [batchId] });
      const list = await present(query, id);
      if (patch.version !== list.version) throw refuseStale('list of readings', patch, { ...toList(list) });
      const beyond = patch.withdrawnNos?.find((no) => no > list.readingCount);
      if (beyond !== undefined) throw badField('withdrawnNos', beyond, `The list has ${list.readingCount} readings.`, 'Choose among those.');
      const withdraws = (patch.withdrawn === true && list.withdrawnAt === null) || (patch.withdrawnNos?.some((no) => !list.withdrawnNos.includes(no)) ?? false);
      if (withdraws) needReason(patch.reason, 'Readings are withdrawn with a reason.', 'Say why they do not count: whose they are, or where the probe was.');
      await store.updateList(query, id, {
        withdrawnAt: patch.withdrawn === undefined ? list.withdrawnAt : patch.withdrawn ? (list.withdrawnAt ?? unit.now) : null,
        withdrawnNos: patch.withdrawnNos === undefined ? list.withdrawnNos : [...new Set(patch.withdrawnNos)].sort((a, b) => a - b),
        unitConfirmed: patch.unitConfirmed ?? list.unitConfirmed,
      });
      await recomputeBatch(query, batchId, await batches.zoneOf(query));
      const { verdict, checks } = await detailInside(query, actor, batchId);
      return { list: toList((await store.findList(query, id))!), verdict, checks };
    },
    { reason: patch.reason },
  );
}

async function present(query: RawQuery, id: string): Promise<store.ListRow> {
  const list = await store.findList(query, id);
  if (!list) throw notFound('This list of readings');
  return list;
}
