import { largestRemainder } from './share.ts';
import type { Grams } from './working.ts';

/** A part of a landing: its weight as landed and its fish in thousandths; fishMilli is null where the fish were not counted. */
export type Origin = { landingId: string; landedGrams: Grams; fishMilli: number | null };

/**
 * Splits origins among parts by weight, `rest` staying behind. Each landing is split by
 * itself, so nothing of it is made or lost. A part keeps its landings even where its
 * portion rounds to nothing: a recall must still find it.
 */
export function splitOrigins(origins: readonly Origin[], weights: readonly number[], rest: number): Origin[][] {
  return splitWithRest(origins, weights, rest).parts;
}

export function splitWithRest(origins: readonly Origin[], weights: readonly number[], rest: number): { parts: Origin[][]; rest: Origin[] } {
  const all = [...weights, rest];
  const lists: Origin[][] = all.map(() => []);
  const nothing = all.every((weight) => weight === 0);
  for (const origin of origins) {
    // Nothing has any weight: everything stays behind.
    const split = (total: number) => (nothing ? all.map((_, i) => (i === weights.length ? total : 0)) : largestRemainder(total, all));
    const grams = split(origin.landedGrams);
    const fish = origin.fishMilli === null ? null : split(origin.fishMilli);
    all.forEach((_, i) => {
      lists[i]!.push({ landingId: origin.landingId, landedGrams: grams[i]!, fishMilli: fish === null ? null : fish[i]! });
    });
  }
  return { parts: lists.slice(0, -1), rest: lists[weights.length]! };
}

/** One origin a landing, added up. */
export function mergeOrigins(origins: readonly Origin[]): Origin[] {
  const merged = new Map<string, Origin>();
  for (const origin of origins) {
    const before = merged.get(origin.landingId);
    if (before === undefined) merged.set(origin.landingId, { ...origin });
    else merged.set(origin.landingId, {
      landingId: origin.landingId,
      landedGrams: before.landedGrams + origin.landedGrams,
      fishMilli: before.fishMilli === null || origin.fishMilli === null ? null : before.fishMilli + origin.fishMilli,
    });
  }
  return [...merged.values()];
}
