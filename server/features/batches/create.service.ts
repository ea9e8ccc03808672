import type { z } from 'zod';
import type { BatchBody, BatchDetail, DrawBody, batchPatch } from '../../contract/batches.ts';
import { newLotCode } from '../../domain/lot-code.ts';
import { findSpecies } from '../../domain/species/index.ts';
import { localDay } from '../../domain/time.ts';
import type { ProductKind } from '../../domain/working.ts';
import { need } from '../../platform/auth/access.ts';
import type { Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
import * as store from './batches.store.ts';
import { fishOfBatch } from './contents.ts';
import { drawInto, holdForDraws, mayDraw } from './draws.service.ts';
import { loadLineage } from './lineage.ts';
import { hold } from './locks.ts';
import { detailInside } from './page.service.ts';
import { recomputeBatch } from './recompute.ts';

/** Codes of one day coincide once in 4,913: this many tries fail for no club. */
const LOT_TRIES = 50;

/** A new batch with its lot code, and what it draws: from landings, from a batch (a split), from several (a merge), or packs (a dip). */
export async function createBatch(context: Context, unit: Unit, body: BatchBody): Promise<BatchDetail> {
  const actor = mayDraw(unit, body.draws);
  return unit.runRaw(async (query) => {
    const zone = await store.zoneOf(query);
    await holdForDraws(query, body.draws, []);
    const allergens = [...new Set(body.allergens)];
    const name = body.name || defaultName(body.productKind, await speciesOf(query, body.draws));
    const id = await insertWithLot(context, query, unit, zone, { ...body, allergens, name });
    await drawInto(query, unit, id, body.draws);
    await recomputeBatch(query, id, zone);
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

/** The species of what will be drawn, once each, as they stand inside a name. */
async function speciesOf(query: RawQuery, draws: readonly DrawBody[]): Promise<string[]> {
  const names = new Map<string, string>();
  for (const { source } of draws) {
    const batchId = source.kind === 'batch' ? source.id : source.kind === 'pack' ? (await store.findPack(query, source.id))?.batchId : undefined;
    const landing = source.kind === 'landing' ? await store.findLanding(query, source.id) : null;
    const known = batchId !== undefined && (await store.findBatch(query, batchId));
    for (const fish of landing ? [landing] : known ? fishOfBatch(await loadLineage(query, known.id)) : []) names.set(fish.speciesCode, inSentence(fish.speciesCode, fish.species));
  }
  return [...names.values()];
}

/** "Sea trout" becomes "sea trout" inside a name; "Atlantic mackerel" keeps its capital, and so does a club's own name. */
function inSentence(code: string, name: string): string {
  if (!findSpecies(code) || /^(Atlantic|Pacific|Spanish|Chinook|Arctic|Alaska|Greenland|American)\b/.test(name)) return name;
  return name.charAt(0).toLowerCase() + name.slice(1);
}

function defaultName(productKind: ProductKind, species: readonly string[]): string {
  const fish = species.length === 0 ? 'fish' : species.join(' and ');
  const name = productKind === 'hot-smoked' ? `Hot-smoked ${fish}` : productKind === 'raw' ? `Raw ${fish}` : `${fish.charAt(0).toUpperCase()}${fish.slice(1)} dip`;
  return [...name].slice(0, 80).join('').trim();
}

export async function changeBatch(unit: Unit, id: string, patch: z.infer<typeof batchPatch>): Promise<BatchDetail> {
  const actor = need(unit.actor, 'crew');
  return unit.runRaw(async (query) => {
    await store.holdClub(query);
    await hold(query, { batchIds: [id] });
    const present = await store.findBatch(query, id);
    if (!present) throw notFound('This batch');
    const { name, note, ingredients, allergens, version } = present;
    if (patch.version !== version) throw refuseStale('batch', patch, { name, note, ingredients, allergens, version });
    await store.updateBatch(query, id, version, {
      name: patch.name ?? name, note: patch.note ?? note, ingredients: patch.ingredients ?? ingredients, allergens: [...new Set(patch.allergens ?? allergens)],
    });
    return detailInside(query, actor, id);
  });
}
