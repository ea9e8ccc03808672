import type { Origin } from '../../contract/batches.ts';
import { traceOrigins } from '../../domain/provenance.ts';
import type { Trace } from '../../domain/provenance.ts';
import { drawsInto } from './lineage.ts';
import type { Lineage } from './lineage.ts';

/** Which landings stand behind every draw, batch and pack of a lineage. */
export function traceOf(lineage: Lineage): Trace {
  // Origins come in the order in which the landings were drawn, whatever order the database gave them in.
  const drawn = [...lineage.draws].sort((a, b) => Date.parse(a.createdAt) - Date.parse(b.createdAt) || a.eventNo - b.eventNo);
  const place = new Map(drawn.flatMap((d) => (d.landingId === null ? [] : [d.landingId])).reverse().map((id, i) => [id, -i]));
  const trays = new Set(lineage.draws.map((d) => `${d.batchId} ${d.trayNo}`));
  return traceOrigins({
    landings: [...lineage.landings].sort((a, b) => (place.get(a.id) ?? 1) - (place.get(b.id) ?? 1)),
    draws: lineage.draws.map((d) => ({
      id: d.id, batchId: d.batchId, grams: d.grams, trayNo: d.trayNo, ofGrams: d.ofGrams,
      source: d.landingId !== null ? { kind: 'landing', id: d.landingId } : d.sourceBatchId !== null ? { kind: 'batch', id: d.sourceBatchId, trayNo: null } : { kind: 'pack', id: d.sourcePackId! },
    })),
    batches: lineage.batches.map((b) => ({ id: b.id, productGrams: b.onHandGrams + b.packedGrams, closed: b.closed })),
    packs: lineage.packs.map((p) => ({ ...p, trayNo: trays.has(`${p.batchId} ${p.trayNo}`) ? p.trayNo : null })),
  });
}

/** The fish that a batch was made from: all that was ever drawn into it. */
export const originsOfBatch = (lineage: Lineage): Origin[] => (drawsInto(lineage).length === 0 ? [] : named(lineage, traceOf(lineage).ofBatch(lineage.id)));

/** The fish that one pack of the lineage stands for. */
export const originsOfPack = (lineage: Lineage, packId: string): Origin[] => named(lineage, traceOf(lineage).ofPack(packId));

function named(lineage: Lineage, origins: ReturnType<Trace['ofBatch']>): Origin[] {
  const landings = new Map(lineage.landings.map((l) => [l.id, l]));
  return origins.map(({ landingId, landedGrams, fishMilli }) => {
    const l = landings.get(landingId)!;
    return { landingId, species: l.species, speciesCode: l.speciesCode, form: l.form, catcher: l.catcher, tripId: l.tripId, day: l.day, boat: l.boat, area: l.area, landedGrams, estimated: l.estimated, fish: fishMilli === null ? null : fishMilli / 1000 };
  });
}
