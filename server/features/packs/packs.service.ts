import type { z } from 'zod';
import type { PackDetail, PackLine, packQuery, packsBody } from '../../contract/packs.ts';
import { parsePackNo } from '../../domain/lot-code.ts';
import { checkInstant } from '../../domain/plausible.ts';
import { unrecorded } from '../../domain/rules/unrecorded.ts';
import { localDay } from '../../domain/time.ts';
import { formatGrams } from '../../domain/units.ts';
import { need } from '../../platform/auth/access.ts';
import { clubSettings } from '../../platform/club-settings.ts';
import type { Actor, Context } from '../../platform/context.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { decodeCursor, pageOf } from '../../platform/http/cursor.ts';
import { newId } from '../../platform/new-id.ts';
import type { Unit } from '../../platform/unit.ts';
import { loadLineage } from '../batches/lineage.ts';
import { hold } from '../batches/locks.ts';
import { originsOfPack } from '../batches/origins.ts';
import { startPackStage } from '../batches/pack-stage.ts';
import { recomputeBatch } from '../batches/recompute.ts';
import { saltOfPackWithoutAir } from '../batches/verdict.ts';
import { maySee, toHandOver } from '../hand-overs/hand-overs.service.ts';
import { handOversOfPack } from '../hand-overs/hand-overs.store.ts';
import { packFacts } from './pack-facts.ts';
import { checkKeeping } from './pack-keeping.ts';
import { toPackLine } from './packs.lines.ts';
import * as store from './packs.store.ts';
import { publicUrl } from './public-url.ts';

const cursorParts = { number: ['integer'], day: ['day', 'uuid'], newest: ['instant', 'uuid'] } as const;

export async function listPacks(context: Context, caller: Actor | null, q: z.infer<typeof packQuery>): Promise<{ items: PackLine[]; nextCursor: string | null }> {
  const actor = need(caller, 'member');
  const { query } = context.database;
  const { timeZone } = await clubSettings(query);
  const filter = { ...q, today: localDay(context.clock(), timeZone), mineOf: q.mine ? actor.id : null, search: q.q ? searchOf(q.q) : null };
  const order = store.orderOf(filter);
  const rows = await store.listPacks(query, { ...filter, after: decodeCursor(q.cursor, cursorParts[order]) });
  const keyOf = (row: store.PackListRow) =>
    order === 'number' ? [String(row.packNo)] : order === 'day' ? [row.lastDay ?? store.noDay, row.id] : [row.createdAt.toISOString(), row.id];
  return pageOf(rows, q.limit, ({ createdAt: _at, ...row }) => toPackLine(row, actor), keyOf);
}

/** A pack's whole number, the beginning of a lot code, or part of a product's name. */
function searchOf(text: string): { lot: string; packNo: number | null; name: string } {
  try {
    return { ...parsePackNo(text), name: text };
  } catch {
    return { lot: text.replace(/[\s\-._]/g, '').toUpperCase(), packNo: null, name: text };
  }
}

export async function readPack(context: Context, caller: Actor | null, id: string): Promise<PackDetail> {
  const actor = need(caller, 'member');
  const { query } = context.database;
  const row = await store.findPack(query, id);
  if (!row) throw notFound('This pack');
  const facts = await packFacts(query, (await clubSettings(query)).timeZone)(row);
  const { productKind, smokeDay, packedAt, frozenDay, thawedDay, recallReason, publicCode, closed: _closed, onHandGrams: _onHand, ...line } = row;
  return {
    ...toPackLine(line, actor), productKind, species: facts.species, smokeDay, packedAt: packedAt.toISOString(), frozenDay, thawedDay,
    storageWords: facts.storageWords, labelWords: facts.labelWords, dateReasons: facts.dates?.reasons ?? [], dateWorking: facts.dates?.working ?? null,
    checks: facts.checks, notRecorded: row.verdict === 'clear' && !row.recalled ? unrecorded(facts.checks) : [], advice: facts.advice, holdReason: row.verdict !== 'clear' ? (facts.holdReason ?? 'On hold') : null, recallReason: row.recalled ? recallReason : null,
    origins: originsOfPack(facts.lineage, id).map(({ landingId, species, catcher, day, boat, landedGrams, estimated, fish }) => ({ landingId, species, catcher, day, boat, landedGrams, estimated, fish })),
    handOvers: (await handOversOfPack(query, id)).filter((h) => maySee(h, actor)).map((h) => toHandOver(h, actor)),
    publicUrl: publicUrl(context, publicCode),
  };
}

/** Weighs out packs of a batch: all of the list or none; numbers go on from the batch's last. */
export async function makePacks(context: Context, unit: Unit, batchId: string, body: z.infer<typeof packsBody>): Promise<{ items: PackLine[]; onHandGrams: number }> {
  const actor = need(unit.actor, 'crew');
  const packedAt = checkInstant(new Date(body.packedAt), unit.now, 'packedAt');
  return unit.runRaw(async (query) => {
    await hold(query, { batchIds: [batchId] });
    const batch = await store.findBatch(query, batchId);
    if (!batch) throw notFound('This batch');
    checkBatch(batch, body);
    const { timeZone } = await clubSettings(query);
    const frozenDay = body.storage === 'frozen' ? localDay(packedAt, timeZone) : null;
    checkKeeping({ productKind: batch.productKind, packageKind: body.packageKind, storage: body.storage, frozenDay, thawedDay: null, packedDay: localDay(packedAt, timeZone), today: localDay(unit.now, timeZone), saltMeasured: saltOfPackWithoutAir(await loadLineage(query, batchId), timeZone), wasOut: false });
    await startPackStage(query, unit, batchId, packedAt);
    // In order, so that lists which go by time of making keep the numbers in order too.
    const ids = body.weightsG.map(() => newId(unit.now, context.random)).sort();
    await store.insertPacks(query, {
      ids, nos: ids.map((_id, i) => batch.lastPackNo + 1 + i), grams: body.weightsG, codes: ids.map(() => newPublicCode(context)), batchId, trayNo: body.trayNo,
      packageKind: body.packageKind, storage: body.storage, packedAt, frozenDay, by: actor.id, now: unit.now,
    });
    await recomputeBatch(query, batchId, timeZone);
    const items = (await store.findLines(query, ids)).map((row) => toPackLine(row, actor));
    return { items, onHandGrams: (await store.findBatch(query, batchId))!.onHandGrams };
  });
}

/** 144 random bits: nobody finds a pack's page by trying. */
const newPublicCode = (context: Context): string => Buffer.from(context.random(18)).toString('base64url');

function checkBatch(batch: store.PackingBatch, body: z.infer<typeof packsBody>): void {
  if (batch.recalled) throw new ProblemError('recalled', `Lot ${batch.lot} is recalled. Pack nothing from it.`);
  if (batch.closed) throw new ProblemError('conflict', `Lot ${batch.lot} is packed and closed. Open its packing stage again first.`);
  if (batch.onHandGrams === 0) throw badField('weightsG', undefined, `Lot ${batch.lot} holds nothing to pack.`, 'Draw fish into it first.', 'not-enough-left');
  const total = body.weightsG.reduce((sum, grams) => sum + grams, 0);
  if (total > batch.onHandGrams) {
    throw badField('weightsG', total, `These packs weigh ${formatGrams(total, 'metric')}; lot ${batch.lot} holds ${formatGrams(batch.onHandGrams, 'metric')}.`, 'Look at the weights and their unit again.', 'not-enough-left');
  }
  if (!batch.trays.includes(body.trayNo)) {
    throw badField('trayNo', body.trayNo, `Lot ${batch.lot} has no tray ${body.trayNo}.`, `Its trays: ${[...batch.trays].sort((a, b) => a - b).join(', ')}.`);
  }
}
