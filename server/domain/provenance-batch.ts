import type { BatchMass, Draw, Pack } from './provenance.ts';
import { mergeOrigins, splitWithRest } from './provenance-split.ts';
import type { Origin } from './provenance-split.ts';
import { largestRemainder } from './share.ts';
import { DomainError } from './working.ts';
import type { Grams } from './working.ts';

/** What lies on a tray: its fish, and its part of the batch's mass (by the weight drawn onto it). */
type Tray = { origins: Origin[]; grams: Grams };

/** Everything that came into a batch, landing by landing, not yet added up. */
export function ofBatchIn(incoming: readonly Draw[], originsOf: (draw: Draw) => Origin[]): Origin[] {
  return incoming.flatMap(originsOf);
}

/**
 * The fish of everything that leaves a batch: each draw takes the proportion of the mass
 * then there, then the packs share what is left. `place` is a draw's place in the order
 * of creation: a draw that was weighed off earlier holds none of what came in after it.
 */
export function splitBatch(
  batch: BatchMass,
  incoming: readonly Incoming[],
  outgoing: readonly Draw[],
  packs: readonly Pack[],
  place: (draw: Draw) => number,
): { draws: Map<string, Origin[]>; packs: Map<string, Origin[]> } {
  const trays = layTrays(batch, incoming);
  const draws = new Map<string, Origin[]>();
  let waiting = [...incoming];
  for (const draw of outgoing.filter(({ ofGrams }) => ofGrams !== undefined)) {
    lay(trays, waiting.filter((came) => place(came.draw) < place(draw)));
    waiting = waiting.filter((came) => place(came.draw) > place(draw));
    draws.set(draw.id, takeDraw(trays, draw, packs));
  }
  lay(trays, waiting);
  for (const draw of outgoing.filter(({ ofGrams }) => ofGrams === undefined)) draws.set(draw.id, takeDraw(trays, draw, packs));
  const shares = new Map<string, Origin[]>(packs.map((pack) => [pack.id, []]));
  for (const [trayNo, parts] of packParts(trays, packs)) {
    const tray = trays.get(trayNo)!;
    const weights = parts.map((part) => part.grams);
    const unpacked = batch.closed && weights.length > 0 ? 0 : Math.max(0, tray.grams - weights.reduce((a, b) => a + b, 0));
    const split = splitWithRest(tray.origins, weights, unpacked);
    parts.forEach((part, i) => shares.get(part.packId)!.push(...split.parts[i]!));
  }
  return { draws, packs: new Map([...shares].map(([id, origins]) => [id, mergeOrigins(origins)])) };
}

type Incoming = { draw: Draw; origins: Origin[] };

/** The trays with their part of the batch's mass, no fish on them yet. */
function layTrays(batch: BatchMass, incoming: readonly Incoming[]): Map<number, Tray> {
  const byTray = [...Map.groupBy(incoming, ({ draw }) => draw.trayNo)];
  const drawn = byTray.map(([, list]) => list.reduce((total, { draw }) => total + draw.grams, 0));
  const parts = drawn.some((grams) => grams > 0) ? largestRemainder(batch.productGrams, drawn) : drawn;
  return new Map(byTray.map(([trayNo], i) => [trayNo, { origins: [], grams: parts[i]! }]));
}

function lay(trays: ReadonlyMap<number, Tray>, incoming: readonly Incoming[]): void {
  for (const [trayNo, list] of Map.groupBy(incoming, ({ draw }) => draw.trayNo)) {
    const tray = trays.get(trayNo)!;
    tray.origins = mergeOrigins([...tray.origins, ...list.flatMap(({ origins }) => origins)]);
  }
}

/** Takes a draw off its tray, or off every tray in proportion, and returns its fish. */
function takeDraw(trays: Map<number, Tray>, draw: Draw, packs: readonly Pack[]): Origin[] {
  const trayNo = draw.source.kind === 'batch' ? draw.source.trayNo : null;
  const chosen = trayNo === null ? [...trays.values()] : [trayAt(trays, trayNo)];
  const there = draw.ofGrams === undefined ? chosen.reduce((total, tray) => total + tray.grams, 0) : draw.ofGrams + packedBefore(draw, trayNo, packs);
  const staying = Math.max(0, there - draw.grams);
  // Weighed off earlier, it is not in the mass there is now, and takes none of it.
  const taken = draw.ofGrams === undefined ? fromEach(chosen, draw.grams) : chosen.map(() => 0);
  const origins = chosen.flatMap((tray, i) => {
    const split = splitWithRest(tray.origins, [draw.grams], staying);
    tray.origins = split.rest;
    tray.grams = Math.max(0, tray.grams - taken[i]!);
    return split.parts[0]!;
  });
  return mergeOrigins(origins);
}

/** Packs share the fish after the draws do, so those weighed out before a draw still count as lying there. */
function packedBefore(draw: Draw, trayNo: number | null, packs: readonly Pack[]): Grams {
  const before = packs.filter((pack) => draw.at !== undefined && pack.at !== undefined && pack.at < draw.at && (trayNo === null || pack.trayNo === trayNo));
  return before.reduce((total, pack) => total + pack.grams, 0);
}

/** How much of a weight comes off each tray: in proportion to what lies there. */
function fromEach(trays: readonly Tray[], grams: Grams): Grams[] {
  const lying = trays.map((tray) => tray.grams);
  const landed = trays.map((tray) => tray.origins.reduce((total, origin) => total + origin.landedGrams, 0));
  const weights = [lying, landed].find((list) => list.some((g) => g > 0));
  return weights ? largestRemainder(grams, weights) : lying;
}

type PackPart = { packId: string; grams: Grams };

/** The weight of each pack on each tray. A pack of no tray in particular is spread over all of them. */
function packParts(trays: ReadonlyMap<number, Tray>, packs: readonly Pack[]): Map<number, PackPart[]> {
  const parts = new Map<number, PackPart[]>([...trays.keys()].map((trayNo) => [trayNo, []]));
  for (const pack of packs) {
    if (pack.trayNo !== null) {
      trayAt(trays, pack.trayNo);
      parts.get(pack.trayNo)!.push({ packId: pack.id, grams: pack.grams });
      continue;
    }
    const spread = fromEach([...trays.values()], pack.grams);
    [...trays.keys()].forEach((trayNo, i) => {
      parts.get(trayNo)!.push({ packId: pack.id, grams: spread[i]! });
    });
  }
  return parts;
}

function trayAt(trays: ReadonlyMap<number, Tray>, trayNo: number): Tray {
  const tray = trays.get(trayNo);
  if (tray) return tray;
  throw new DomainError({ code: 'trace.tray', field: 'trayNo', label: 'tray', value: trayNo, problem: 'holds no fish in this batch', remedy: 'choose a tray that fish was drawn onto' });
}
