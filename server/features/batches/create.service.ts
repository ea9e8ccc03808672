import type { z } from 'zod';
import type { BatchBody, BatchDetail, DrawBody, batchPatch } from '../../contract/batches.ts';
import { newLotCode } from '../../domain/lot-code.ts';
import { localDay } from '../../domain/time.ts';
import { need } from '../../platform/auth/access.ts';
import type { Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
import { recomputeBatch } from './recompute.ts';
import * as store from './batches.store.ts';
import { fishOfBatch, fishOfLanding } from './contents.ts';
import type { Fish } from './contents.ts';
import { drawInto, holdForDraws, judgeAround, mayDraw, packSources } from './draws.service.ts';
import { loadLineage } from './lineage.ts';
import { hold } from './locks.ts';
import { defaultName } from './names.ts';
import { detailInside } from './page.service.ts';

/** Codes of one day coincide once in 4,913: this many tries fail for no club. */
const LOT_TRIES = 50;

/** A new batch with its lot code, and what it draws: from landings, from a batch (a split), from several (a merge), or packs (a dip). */
export async function createBatch(context: Context, unit: Unit, body: BatchBody): Promise<BatchDetail> {
  const actor = mayDraw(unit, body.draws);
  return unit.runRaw(async (query) => {
    const zone = await store.zoneOf(query);
    await holdForDraws(query, body.draws, []);
    const allergens = [...new Set(body.allergens)];
    const name = body.name || defaultName(body.productKind, await fishOf(query, body.draws));
    const id = await insertWithLot(context, query, unit, zone, { ...body, allergens, name, nameTyped: Boolean(body.name) });
    await drawInto(query, unit, id, body.draws);
    await judgeAround(query, id, await packSources(query, body.draws), zone);
    return detailInside(query, actor, id);
  });
}

async function insertWithLot(context: Context, query: RawQuery, unit: Unit, zone: string, batch: Omit<store.NewBatch, 'lot'>): Promise<string> {
  const day = localDay(unit.now, zone);
  for (let tries = 0; tries < LOT_TRIES; tries += 1) {
    const id = await store.insertBatch(query, { ...batch, lot: newLotCode(day, context.random) }, unit);
    if (id) return id;
  }
  throw new ProblemError('conflict', 'No free lot code was found for today. Try again.');
}

/** The fish of what will be drawn. */
async function fishOf(query: RawQuery, draws: readonly DrawBody[]): Promise<Fish[]> {
  const all: Fish[] = [];
  for (const { source } of draws) {
    const batchId = source.kind === 'batch' ? source.id : source.kind === 'pack' ? (await store.findPack(query, source.id))?.batchId : undefined;
    const landing = source.kind === 'landing' ? await store.findLanding(query, source.id) : null;
    const known = batchId !== undefined && (await store.findBatch(query, batchId));
    all.push(...(landing ? [fishOfLanding(landing)] : known ? fishOfBatch(await loadLineage(query, known.id)) : []));
  }
  return all;
}

export async function changeBatch(unit: Unit, id: string, patch: z.infer<typeof batchPatch>): Promise<BatchDetail> {
  const actor = need(unit.actor, 'crew');
  return unit.runRaw(async (query) => {
    await store.holdClub(query);
    await hold(query, { batchIds: [id] });
    const present = await store.findBatch(query, id);
    if (!present) throw notFound('This batch');
    const { name, nameTyped, note, ingredients, allergens, version } = present;
    if (patch.version !== version) throw refuseStale('batch', patch, { name, note, ingredients, allergens, version });
    await store.updateBatch(query, id, version, {
      name: patch.name ?? name, nameTyped: nameTyped || (patch.name !== undefined && patch.name !== name), note: patch.note ?? note, ingredients: patch.ingredients ?? ingredients, allergens: [...new Set(patch.allergens ?? allergens)],
    });
    if (patch.ingredients !== undefined || patch.allergens !== undefined) await store.pagesBelowChanged(query, id);
    // Words that tell of other ingredients ask for their date (date.mixed).
    if (present.productKind === 'dip') await recomputeBatch(query, id, await store.zoneOf(query));
    return detailInside(query, actor, id);
  });
}
