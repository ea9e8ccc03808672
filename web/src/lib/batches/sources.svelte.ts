/** What a batch can draw from now, read once, with the lines of a form that choose among it. */
import { batchList, type Batch, type BatchDetail } from '$contract/batches.ts';
import { landingList } from '$contract/catch.ts';
import { packList, type PackLine } from '$contract/packs.ts';
import { seals, type ProductKind } from '$domain/working.ts';
import { get, withQuery } from '$lib/api/client.ts';
import { load } from '$lib/api/load.svelte.ts';
import { landingSigns } from '$lib/fish/landing-signs.ts';
import { session } from '$lib/session.svelte.ts';
import { showDay, showWeight } from '$lib/show.ts';
import { poolingWords } from '$lib/words.ts';

export type Source = { kind: 'landing' | 'batch' | 'pack'; id: string; title: string; hint: string; left: number; whole: boolean };
export type Lines = Record<string, { chosen: boolean; grams: number | null }>;
/** `into`: the batch that draws, when it is there already. */
type Wanted = { productKind: ProductKind; into?: string };

export interface Sources {
  readonly items: Source[];
  readonly failure: unknown;
  readonly ready: boolean;
  /** How many packs would do, were they not on hold; counted only where none is free. */
  readonly heldPacks: number;
  reload(): Promise<unknown>;
}

async function packsFor(signal: AbortSignal): Promise<{ items: PackLine[]; held: number }> {
  const { items } = await get(withQuery('/api/packs', { claimable: true, limit: 100 }), packList, { signal });
  if (items.length > 0) return { items, held: 0 };
  const there = await get(withQuery('/api/packs', { status: 'ready', limit: 100 }), packList, { signal });
  return { items, held: there.items.filter((p) => p.verdict === 'hold' && !p.recalled).length };
}

/** Call it while a component is being set up. */
export function drawSources(wanted: () => Wanted): Sources {
  const dip = $derived(wanted().productKind === 'dip');
  const none = { items: [], nextCursor: null };
  // Fish is assigned by captains; what is in a batch already may be moved on by crew.
  const landings = load((signal) => (session.isCaptain && !dip ? get(withQuery('/api/landings', { left: true, limit: 100 }), landingList, { signal }) : Promise.resolve(none)));
  const batches = load((signal) => get(withQuery('/api/batches', { open: true, limit: 100 }), batchList, { signal }));
  const packs = load((signal) => (dip ? packsFor(signal) : Promise.resolve({ items: [], held: 0 })));
  const free = (b: Batch): boolean => b.onHandGrams > 0 && b.running === null && !b.recalled && b.id !== wanted().into && (dip ? b.smokeDay !== null || b.productKind === 'dip' : b.productKind !== 'dip');
  const signs = $derived(landingSigns(landings.data?.items ?? []));
  const items = $derived<Source[]>([
    ...(dip ? (packs.data?.items ?? []) : []).map((p): Source => ({ kind: 'pack', id: p.id, title: `${p.product}, pack ${p.lot}-${p.packNo}`, hint: showWeight(p.grams), left: p.grams, whole: true })),
    ...(dip ? [] : (landings.data?.items ?? [])).filter((l) => l.species.sharing === 'ok').map((l): Source => ({
      kind: 'landing', id: l.id, title: `${l.species.name}, ${l.catcher.name}`, hint: `${showWeight(l.leftGrams)} left · ${poolingWords[l.pooling]} · ${l.trip.boatName}, ${showDay(l.trip.day)}, ${signs.get(l.id)}`, left: l.leftGrams, whole: false,
    })),
    ...(batches.data?.items ?? []).filter(free).map((b): Source => ({ kind: 'batch', id: b.id, title: `${b.name}, ${b.lot}`, hint: `${showWeight(b.onHandGrams)} on hand`, left: b.onHandGrams, whole: false })),
  ]);
  const all = [landings, batches, packs];
  return {
    get items() {
      return items;
    },
    get failure() {
      return all.find((l) => l.failure !== null)?.failure ?? null;
    },
    get ready() {
      return all.every((l) => l.data !== undefined);
    },
    get heldPacks() {
      return packs.data?.held ?? 0;
    },
    reload: () => Promise.all(all.map((l) => l.reload())),
  };
}

const chosen = (sources: readonly Source[], lines: Lines): Source[] => sources.filter((s) => lines[s.id]?.chosen);
/** The draws that the lines ask for, in the order of the sources: errors come back under that number. */
export const drawsOf = (sources: readonly Source[], lines: Lines) => chosen(sources, lines).map((s) => ({ source: { kind: s.kind, id: s.id }, grams: s.whole ? null : (lines[s.id]?.grams ?? null) }));
export const placeOf = (sources: readonly Source[], lines: Lines, id: string): number => chosen(sources, lines).findIndex((s) => s.id === id);
export const totalOf = (sources: readonly Source[], lines: Lines): number => chosen(sources, lines).reduce((sum, s) => sum + (lines[s.id]?.grams ?? s.left), 0);

type State = Pick<BatchDetail, 'closed' | 'recall' | 'running' | 'stages' | 'onHandGrams'>;
/** Whether more may join the batch: it is open, nothing runs, and it has not been through the heat. */
export const takesMore = (b: State): boolean => !b.closed && b.recall === null && b.running === null && !b.stages.some((s) => seals(s.kind));
/** Whether part of it can go into a batch of its own. */
export const canSplit = (b: State): boolean => !b.closed && b.recall === null && b.running === null && b.onHandGrams > 1;
