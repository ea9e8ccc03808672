import { catcherKey, checkDraw } from '../../domain/pooling.ts';
import { DomainError } from '../../domain/working.ts';
import type { Pooling, ProductKind } from '../../domain/working.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import { drawsInto, packOf } from './lineage.ts';
import type { Lineage, LineageLanding } from './lineage.ts';

/** Fish of one catcher as the pooling rules see it. */
export type Fish = { catcherKey: string; pooling: Pooling; speciesCode: string; species: string };
export type Placed = Fish & { trayNo: number };

const strictness: Record<Pooling, number> = { pooled: 0, tray: 1, apart: 2 };

/** A guest is the same however the name was typed. */
const sameKey = (key: string) => (key.startsWith('guest:') ? catcherKey({ guestName: key.slice('guest:'.length) }) : key);

export const fishOfLanding = (l: Pick<LineageLanding, 'catcherKey' | 'pooling' | 'speciesCode' | 'species'>): Fish => ({ catcherKey: sameKey(l.catcherKey), pooling: l.pooling, speciesCode: l.speciesCode, species: l.species });

/** Whose fish a batch holds, of whatever was drawn into it at any remove; all under the strictest wish among them. */
export const fishOfBatch = (lineage: Lineage, id = lineage.id): Fish[] => fishOn(lineage, id, null);

/** Whose fish is in a pack: of its own tray alone, for the other trays were never in it. */
export const fishOfPack = (lineage: Lineage, packId: string): Fish[] => {
  const { batchId, trayNo } = packOf(lineage, packId);
  return fishOn(lineage, batchId, trayNo);
};

/** `tray` null: of every tray. Where no draw is recorded onto the tray, all of them count: the stricter. */
function fishOn(lineage: Lineage, id: string, tray: number | null): Fish[] {
  const fish = new Map<string, Fish>();
  const seen = new Set<string>();
  const visit = (batchId: string, trayNo: number | null) => {
    if (seen.has(`${batchId} ${trayNo}`)) return;
    seen.add(`${batchId} ${trayNo}`);
    const all = drawsInto(lineage, batchId);
    const onTray = all.filter((d) => d.trayNo === trayNo);
    for (const draw of onTray.length > 0 ? onTray : all) {
      const landing = draw.landingId === null ? null : lineage.landings.find((l) => l.id === draw.landingId);
      if (landing) fish.set(`${sameKey(landing.catcherKey)} ${landing.speciesCode} ${landing.pooling}`, fishOfLanding(landing));
      if (draw.sourcePackId !== null) visit(packOf(lineage, draw.sourcePackId).batchId, packOf(lineage, draw.sourcePackId).trayNo);
      else if (draw.sourceBatchId !== null) visit(draw.sourceBatchId, null);
    }
  };
  visit(id, tray);
  return underStrictest([...fish.values()]);
}

function underStrictest(fish: Fish[]): Fish[] {
  const strictest = fish.reduce<Pooling>((s, f) => (strictness[f.pooling] > strictness[s] ? f.pooling : s), 'pooled');
  return fish.map((f) => ({ ...f, pooling: strictest }));
}

/** What lies on each tray of a batch now. */
export function placedIn(lineage: Lineage): Placed[] {
  return drawsInto(lineage).flatMap((draw) => {
    const landing = draw.landingId === null ? null : lineage.landings.find((l) => l.id === draw.landingId);
    const fish = landing ? [fishOfLanding(landing)] : draw.sourcePackId !== null ? fishOfPack(lineage, draw.sourcePackId) : fishOfBatch(lineage, draw.sourceBatchId!);
    return fish.map((f) => ({ ...f, trayNo: draw.trayNo }));
  });
}

/** The tray that takes this fish by its catchers' wishes, or a refusal with the reason. */
export function trayFor(existing: readonly Placed[], next: readonly Fish[], asked: number | null, field: string, remedy = ''): number {
  let trayNo = asked;
  const there: Placed[] = [...existing];
  for (const fish of next) {
    try {
      trayNo = checkDraw(there, { ...fish, ...(trayNo === null ? {} : { trayNo }) }).trayNo;
    } catch (error) {
      if (error instanceof DomainError) throw badField(field, asked ?? undefined, error.message, remedy, 'would-mix');
      throw error;
    }
    there.push({ ...fish, trayNo });
  }
  return trayNo ?? 1;
}

/** Rule brine.no-mix: one species in a vessel, so one in a batch; a dip is mixed by its nature. */
export function refuseTwoSpecies(productKind: ProductKind, existing: readonly Fish[], next: readonly Fish[], field: string): void {
  if (productKind === 'dip') return;
  const first = existing[0] ?? next[0];
  const other = first && [...existing, ...next].find((f) => f.speciesCode !== first.speciesCode);
  if (!first || !other) return;
  throw badField(field, other.species, `This batch holds ${first.species}; ${other.species} would be a second species in it, and a brine takes one (NY262.5).`, 'Make a batch of its own for it.', 'would-mix');
}
