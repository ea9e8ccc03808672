import { ofBatchIn, splitBatch } from './provenance-batch.ts';
import { mergeOrigins, splitOrigins } from './provenance-split.ts';
import type { Origin } from './provenance-split.ts';
import { largestRemainder } from './share.ts';
import { DomainError } from './working.ts';
import type { Grams } from './working.ts';

export type { Origin } from './provenance-split.ts';

export type Landing = { id: string; catcherKey: string; grams: Grams; /** null: not counted. */ fishCount: number | null };
export type DrawSource = { kind: 'landing'; id: string } | { kind: 'batch'; id: string; trayNo: number | null } | { kind: 'pack'; id: string };
export type Draw = {
  id: string;
  batchId: string;
  grams: Grams;
  trayNo: number;
  source: DrawSource;
  /**
   * Of a draw from a batch: what the source held just before, in grams. When given, the
   * batch's productGrams do not include the draw; when left out, they do.
   */
  ofGrams?: Grams;
  /** When, as any number that grows with time. Only used with ofGrams, to tell which packs were weighed out before. */
  at?: number;
};
export type BatchMass = {
  id: string;
  /** Mass at the last stage, before any pack (or draw without ofGrams) is taken from it. */
  productGrams: Grams;
  /** Packing is done: the packs stand for all the fish that is left. */
  closed: boolean;
};
export type Pack = { id: string; batchId: string; /** null: from all trays. */ trayNo: number | null; grams: Grams; /** As in Draw. */ at?: number };

export type Trace = {
  ofDraw: (id: string) => Origin[];
  ofBatch: (id: string) => Origin[];
  ofPack: (id: string) => Origin[];
};

/**
 * Which landings, and how many thousandths of a fish of each, stand behind every draw,
 * batch and pack, since possession limits count fish.
 *
 * A draw from a landing takes fish in proportion to its weight; one from a batch or a
 * pack takes the proportion of the mass then there. Packs of a tray share the fish left
 * on it by weight: over packed and unpacked mass while packing goes on, over the packs
 * alone once closed. Every split is by largest remainder, so the parts of a source sum
 * to no more than it, and to exactly it when all of it is taken. `fishMilli` is null
 * where a landing was not counted: not zero fish. Weights beyond their source are for
 * the mass checks to refuse; here they share the whole source. Throws DomainError on a
 * batch that comes round to itself and on an id that does not exist.
 */
export function traceOrigins(records: { landings: readonly Landing[]; draws: readonly Draw[]; batches: readonly BatchMass[]; packs: readonly Pack[] }): Trace {
  const book = indexRecords(records);
  const places = new Map(records.draws.map((draw, i) => [draw.id, i]));
  const place = (draw: Draw): number => places.get(draw.id)!;
  const landingOrder = new Map(records.landings.map((landing, i) => [landing.id, i]));
  const drawOrigins = new Map<string, Origin[]>();
  const packOrigins = new Map<string, Origin[]>();
  const splitDone = new Set<string>();
  const inProgress = new Set<string>();

  function keep(into: Map<string, Origin[]>, ids: readonly string[], parts: readonly Origin[][]): void {
    ids.forEach((id, i) => into.set(id, parts[i]!));
  }

  function drawOrigin(draw: Draw): Origin[] {
    if (!drawOrigins.has(draw.id)) traceSource(draw.source);
    return found(drawOrigins, draw.id, 'draw');
  }

  function traceSource(source: DrawSource): void {
    if (source.kind === 'batch') return traceBatch(source.id);
    const outgoing = book.drawsFrom(source.kind, source.id);
    const ids = outgoing.map((draw) => draw.id);
    const weights = outgoing.map((draw) => draw.grams);
    if (source.kind === 'landing') return keep(drawOrigins, ids, splitLanding(found(book.landings, source.id, 'landing'), weights));
    const pack = found(book.packs, source.id, 'pack');
    traceBatch(pack.batchId);
    keep(drawOrigins, ids, splitOrigins(found(packOrigins, pack.id, 'pack'), weights, Math.max(0, pack.grams - sum(weights))));
  }

  function traceBatch(id: string): void {
    if (splitDone.has(id)) return;
    if (inProgress.has(id)) throw goesRound(id);
    inProgress.add(id);
    const incoming = book.drawsInto(id).map((draw) => ({ draw, origins: drawOrigin(draw) }));
    const result = splitBatch(found(book.batches, id, 'batch'), incoming, book.drawsFrom('batch', id), book.packsOf(id), place);
    for (const [drawId, origins] of result.draws) drawOrigins.set(drawId, origins);
    for (const [packId, origins] of result.packs) packOrigins.set(packId, origins);
    inProgress.delete(id);
    splitDone.add(id);
  }

  const sorted = (origins: Origin[]) => [...origins].sort((a, b) => landingOrder.get(a.landingId)! - landingOrder.get(b.landingId)!);
  return {
    ofDraw: (id) => sorted(drawOrigin(found(book.draws, id, 'draw'))),
    ofBatch: (id) => {
      traceBatch(id);
      return sorted(mergeOrigins(ofBatchIn(book.drawsInto(id), drawOrigin)));
    },
    ofPack: (id) => {
      const pack = found(book.packs, id, 'pack');
      traceBatch(pack.batchId);
      return sorted(found(packOrigins, id, 'pack'));
    },
  };
}

function splitLanding(landing: Landing, weights: readonly Grams[]): Origin[][] {
  const rest = Math.max(0, landing.grams - sum(weights));
  const fish = landing.fishCount === null ? null : largestRemainder(landing.fishCount * 1000, [...weights, rest]);
  return weights.map((grams, i) => [{ landingId: landing.id, landedGrams: grams, fishMilli: fish === null ? null : fish[i]! }]);
}

function indexRecords(records: { landings: readonly Landing[]; draws: readonly Draw[]; batches: readonly BatchMass[]; packs: readonly Pack[] }) {
  const bySource = Map.groupBy(records.draws, (draw) => `${draw.source.kind}:${draw.source.id}`);
  const byBatch = Map.groupBy(records.draws, (draw) => draw.batchId);
  const packsByBatch = Map.groupBy(records.packs, (pack) => pack.batchId);
  return {
    landings: byId(records.landings),
    draws: byId(records.draws),
    batches: byId(records.batches),
    packs: byId(records.packs),
    drawsFrom: (kind: DrawSource['kind'], id: string): Draw[] => bySource.get(`${kind}:${id}`) ?? [],
    drawsInto: (batchId: string): Draw[] => byBatch.get(batchId) ?? [],
    packsOf: (batchId: string): Pack[] => packsByBatch.get(batchId) ?? [],
  };
}

function byId<T extends { id: string }>(list: readonly T[]): Map<string, T> {
  return new Map(list.map((item) => [item.id, item]));
}

function found<T>(map: ReadonlyMap<string, T>, id: string, what: string): T {
  const item = map.get(id);
  if (item !== undefined) return item;
  throw new DomainError({ code: 'trace.unknown', field: `${what}Id`, label: what, value: id, problem: 'is not among the records', remedy: 'load it with the others' });
}

function goesRound(id: string): DomainError {
  return new DomainError({ code: 'trace.cycle', field: 'batchId', label: 'batch', value: id, problem: 'would be made from itself', remedy: 'draw from another batch' });
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((a, b) => a + b, 0);
}
