import { createHash } from 'node:crypto';
import { SPECIES } from '../../domain/species/index.ts';
import type { Species } from '../../domain/species/index.ts';
import type { Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { beginUnit } from '../../platform/unit.ts';
import * as batches from './batches.store.ts';
import { settleVerdict } from './recompute.ts';
import * as store from './rules.store.ts';

/** Raise this with every change to what judge() or the date rules make of the same records. */
const JUDGING = 37;

/** Some 16 ms a batch on a small machine, and a club may have thousands of packs that keep in a freezer. */
export const JUDGING_MS = 10 * 60_000;

/** Tells the rules that verdicts are made by from others: what is judged, and the species of the tables it rests on. */
export function rulesVersion(species: readonly Pick<Species, 'code' | 'sharing' | 'fat'>[] = SPECIES, judging = JUDGING): string {
  const rows = species.map(({ code, sharing, fat }) => `${code} ${sharing} ${fat}`).sort();
  return `${judging}-${createHash('sha256').update(rows.join('\n')).digest('hex').slice(0, 16)}`;
}

/**
 * Judges anew every batch whose packs may still be eaten, if the rules are others than those that the stored verdicts were
 * made by. Called at every start, after the species were brought in step; whole or not at all, and once for each version.
 */
export async function applyRules(context: Context, version: string = rulesVersion()): Promise<{ judged: number }> {
  const unit = beginUnit(context, null, '', null);
  return unit.runRaw(
    async (query) => {
      await batches.holdClub(query);
      if ((await store.appliedVersion(query)) === version) return { judged: 0 };
      const { judged } = await judgeLiveBatches(query, unit.now);
      await store.keepVersion(query, version, unit.now);
      return { judged };
    },
    { reason: 'Judged anew: the rules changed with a new version', timeoutMs: JUDGING_MS },
  );
}

/**
 * Judges anew what has more days than seven by a log of its store, a day after the log ended: whoever went on with it keeps the days, and nothing else that is changed in between takes them.
 * The record tells it with nobody's name.
 */
export async function judgeLapsed(context: Context): Promise<{ judged: number }> {
  const unit = beginUnit(context, null, '', null);
  return unit.runRaw(
    async (query) => {
      const ids = await store.holdLapsed(query, unit.now);
      if (ids.length === 0) return { judged: 0 };
      const zone = await batches.zoneOf(query);
      for (const id of ids) await settleVerdict(query, id, zone);
      return { judged: ids.length };
    },
    { reason: 'Judged anew: the log of its store was not gone on with', timeoutMs: JUDGING_MS },
  );
}

/** Judges every batch whose packs may still be eaten, and tells of those that it is worse for; each after those that it was made from. Take the club's row first. */
export async function judgeLiveBatches(query: RawQuery, now: Date): Promise<{ judged: number; stopped: store.Stopped }> {
  const { ids, edges } = await store.holdLiveBatches(query, now);
  if (ids.length === 0) return { judged: 0, stopped: { onHold: 0, doNotShare: 0, packsOut: 0 } };
  const before = await store.verdictsOf(query, ids);
  const zone = await batches.zoneOf(query);
  for (const id of batches.inOrder(ids, edges)) await settleVerdict(query, id, zone);
  return { judged: ids.length, stopped: await store.stoppedSince(query, before) };
}
