/** What the planner asks, and what stands there at first. */
import type { CureMethod } from '$domain/cure/amounts.ts';
import type { CureIngredient } from '$domain/cure/kitchen-weights.ts';
import type { PiecePart } from '$domain/cure/pieces.ts';
import type { FatClass } from '$domain/species/index.ts';
import type { CureFish, Cut } from './fish.ts';

export type GroupKind = 'thick' | 'thin' | 'belly' | 'tail';
export const groupWords: Record<GroupKind, string> = { thick: 'Thick pieces', thin: 'Thin pieces', belly: 'Bellies', tail: 'Tails' };
export const partOf: Record<GroupKind, PiecePart> = { thick: 'loin', thin: 'loin', belly: 'belly', tail: 'tail' };

export interface ExtraGroup {
  key: number;
  kind: GroupKind;
  grams: number | null;
  thicknessMm: number | null;
}

export interface PlannerValues {
  grams: number | null;
  cut: Cut;
  thicknessMm: number | null;
  /** Apart from the rest of the fish. */
  groups: ExtraGroup[];
  /** Of fish that the tables do not have. */
  fat: FatClass | '';
  onceFrozen: boolean;
  method: CureMethod;
  /** Salt aimed at, after the cure or in the finished fish. */
  targetPercent: number | null;
  aim: 'cured' | 'finished';
  /** Of the finished fish, in percent of its weight after the cure; counts once somebody entered it, until then it is what is expected. */
  keptPercent: number | null;
  keptOwn: boolean;
  brinePercent: number | null;
  /** null: as much as the fish. */
  waterGrams: number | null;
  /** Of a dry cure; null: just enough for the target. */
  saltPercentOfFish: number | null;
  saltKind: CureIngredient | '';
  sugarKind: CureIngredient | '';
  sugarPer100Salt: number | null;
  placeC: number | null;
  /** null: not measured. */
  brineC: number | null;
  brine: 'unknown' | 'fresh' | 'used';
  /** Of the club's formula: what is neither salt nor sugar nor water. */
  others: { name: string; grams: number }[];
  /** The formula's id; empty: none. */
  formula: string;
  /** The weight that was offered at first, so that one kept on the device follows the batch. */
  offeredGrams: number | null;
}

export const methodWords: Record<CureMethod, string> = { dry: 'Dry cure', brine: 'Brine', 'equilibrium-brine': 'Even brine' };
export const methodHints: Record<CureMethod, string> = {
  dry: 'Salt and sugar on the fish, for hours',
  brine: 'Strong salt water, taken out in time',
  'equilibrium-brine': 'Weak salt water that cannot get too salty, for days',
};

const EXAMPLE_SUGAR = { sugarKind: 'brown-sugar-packed', sugarPer100Salt: 75 } as const;
/** The sugar is the planner's own: nobody chose it, or somebody chose just that, and no formula of the club says so. */
export const isExampleSugar = ({ sugarKind, sugarPer100Salt, formula }: PlannerValues): boolean => formula === '' && sugarKind === EXAMPLE_SUGAR.sugarKind && sugarPer100Salt === EXAMPLE_SUGAR.sugarPer100Salt;

const EXAMPLE_PLACE_C = 3;
export type ExamplePart = 'thickness' | 'place' | 'sugar';
/**
 * What of a plan is still as the planner began, which nobody entered, or entered just so. A thickness that no fish has,
 * because all of it lies in groups of its own, is left out.
 */
export function exampleParts(values: PlannerValues): ExamplePart[] {
  const inGroups = values.groups.reduce((sum, group) => sum + (group.grams ?? 0), 0);
  return [
    ...(values.thicknessMm === usualThicknessMm(values.cut) && (values.grams === null || inGroups < values.grams) ? ['thickness' as const] : []),
    ...(values.placeC === EXAMPLE_PLACE_C ? ['place' as const] : []), ...(isExampleSugar(values) ? ['sugar' as const] : []),
  ];
}

/**
 * Usual starts. Brine of 15 % is rule brine.strong; 75 g of sugar for 100 g of salt is rule cure.parts, equal cups of
 * table salt and brown sugar; the rest is common practice.
 */
export function startValues(fish: CureFish, saltKind: CureIngredient | ''): PlannerValues {
  return {
    grams: fish.weightOf(fish.cut).grams, cut: fish.cut, thicknessMm: usualThicknessMm(fish.cut), groups: [], fat: '', onceFrozen: false, method: 'dry', targetPercent: 3.5, aim: 'cured', keptPercent: null, keptOwn: false, brinePercent: 15,
    waterGrams: null, saltPercentOfFish: 20, saltKind, ...EXAMPLE_SUGAR, placeC: EXAMPLE_PLACE_C, brineC: null, brine: 'unknown', others: [], formula: '', offeredGrams: fish.weightOf(fish.cut).grams,
  };
}

export const usualThicknessMm = (cut: Cut): number => (cut === 'gutted' ? 30 : 20);

/** A plan that was kept on the device, for the fish as it is now: a weight that nobody changed follows it. */
export function followFish(kept: PlannerValues, fish: CureFish): void {
  const now = fish.weightOf(fish.cut).grams;
  if (kept.offeredGrams === now) return;
  if (kept.grams === kept.offeredGrams) kept.grams = now;
  kept.offeredGrams = now;
}

const SALT_KIND = 'tidelarder.salt';

/** The salt that this device last asked for: the one in the cupboard. */
export function rememberedSalt(allowed: readonly string[]): CureIngredient | '' {
  try {
    const kept = localStorage.getItem(SALT_KIND) ?? '';
    return allowed.includes(kept) ? (kept as CureIngredient) : '';
  } catch {
    return '';
  }
}

export function rememberSalt(kind: string): void {
  try {
    localStorage.setItem(SALT_KIND, kind);
  } catch {
    // Then it is asked again next time.
  }
}
