import { rounded, within } from '../bounds.ts';
import type { ClubByFat, ClubDiffusivity } from '../salt/diffusivity.ts';
import { saltBeforeDrying } from '../salt/drying.ts';
import { LONGEST_CURE_MINUTES } from '../salt/uptake.ts';
import type { Predicted } from '../salt/water-phase.ts';
import { weightAfterCure } from '../salt/weight-change.ts';
import type { Grams, Working } from '../working.ts';
import { cureAmounts } from './amounts.ts';
import type { CureAmounts, CureMethod } from './amounts.ts';
import type { CureIngredient } from './kitchen-measures.ts';
import { evenLayers, layerPortions } from './layers.ts';
import type { CureLayer } from './layers.ts';
import { knownPieces, totals } from './pieces.ts';
import type { CurePiece, KnownPiece } from './pieces.ts';
import { shoppingList } from './shopping.ts';
import type { IngredientGrams, PackageSize, Shopping } from './shopping.ts';
import { groupPieces } from './thickness-groups.ts';
import type { CureGroup } from './thickness-groups.ts';
import { vesselFit } from './vessel.ts';
import type { VesselFit } from './vessel.ts';
import { cureLimits, cureWarnings } from './warnings.ts';
import type { CureLimits, CureWarning } from './warnings.ts';

export type CurePlanInput = {
  pieces: readonly CurePiece[];
  method: CureMethod;
  /** Water-phase salt aimed at, after the cure; or in the finished fish when finishedKeptPercent is given. */
  targetPercent: number;
  /** The most of its weight after the cure that the finished fish may keep, in percent: the less it dries, the less its salt rises. */
  finishedKeptPercent?: number;
  saltKind: CureIngredient;
  sugarKind?: CureIngredient;
  sugarPer100Salt?: number;
  waterGrams?: Grams;
  brinePercent?: number;
  saltPercentOfFish?: number;
  /** Of the place where it cures; salt is reckoned at it. */
  placeTemperatureC: number;
  /** As the fish goes in; null when not measured. */
  brineTemperatureC?: number | null;
  /** The longest clock when left out. */
  plannedMinutes?: number;
  brineUsedBefore?: boolean | null;
  vessel?: { litres: number; headspacePercent?: number };
  /** Of fish, for a dry cure. */
  layers?: number;
  stock?: readonly IngredientGrams[];
  packages?: readonly PackageSize[];
  /** From refitDiffusivity, for this club and fish. */
  club?: ClubDiffusivity;
  /** The same by fat class, from learntSalt; goes before `club`. */
  clubByFat?: ClubByFat;
  /** The club's own limits of rules brine.cold and brine.start. */
  clubLimits?: CureLimits;
};

export type CurePlan = Predicted & {
  fishGrams: Grams;
  fishWaterGrams: number;
  /** Where the water in each piece's flesh was read, for the page. */
  water: { id: string; percent: number; source: string }[];
  amounts: CureAmounts;
  /** What the cure itself has to reach. */
  curedTargetPercent: number;
  /** How that follows from the finished fish; null when the aim is after the cure. */
  curedTargetWorking: Working | null;
  groups: CureGroup[];
  /** What the clocks run to, in percent water-phase salt. */
  clockPercent: number;
  /** Until the last group is done; null when one never is. */
  longestMinutes: number | null;
  /** The same at the slow end of the band, 14 days at most; null when one never is. */
  latestMinutes: number | null;
  vessel: VesselFit | null;
  layers: CureLayer[] | null;
  shopping: Shopping | null;
  warnings: CureWarning[];
  /** The limits that they went by. */
  limits: Required<CureLimits>;
  weightAfter: { lowGrams: Grams; likelyGrams: Grams; highGrams: Grams; working: Working };
  /** A prediction, said with the plan. */
  note: string;
  working: Working;
};

/**
 * The whole plan of a cure from the fish in it: amounts, groups with clocks, vessel,
 * layers, what is short, warnings and weight afterwards. Every part can be had alone from
 * its own function. Range: as those. Throws DomainError outside. Sources: as theirs.
 */
export function planCure(input: CurePlanInput): CurePlan {
  within(input.placeTemperatureC, { field: 'placeTemperatureC', label: 'temperature of the place', min: -2, max: 25, unit: 'C', remedy: 'enter degrees Celsius; fish is cured cold' });
  const pieces = knownPieces(input.pieces);
  const { fishGrams, fishWaterGrams } = totals(pieces);
  const { targetPercent, working: curedTargetWorking } = curedTarget(input, fishGrams, fishWaterGrams);
  const amounts = cureAmounts({ ...input, targetPercent, fishGrams, fishWaterGrams });
  const { groups, clockPercent } = groupPieces({ ...input, ...amounts, targetPercent, temperatureC: input.placeTemperatureC });
  const takeOut = groups.map((group) => group.takeOutMinutes);
  const longestMinutes = takeOut.includes(null) ? null : Math.max(...takeOut.map(Number));
  const latestMinutes = longestMinutes === null ? null : Math.min(LONGEST_CURE_MINUTES, Math.max(...groups.map((group) => group.last.time.latestMinutes!)));
  return {
    measured: false, fishGrams, fishWaterGrams, water: pieces.map(({ id, waterPercent, waterSource }) => ({ id, percent: waterPercent, source: waterSource })), amounts, curedTargetPercent: targetPercent, curedTargetWorking, groups, clockPercent, longestMinutes, latestMinutes,
    vessel: input.vessel ? vesselFit({ fishGrams, cureLitres: amounts.cureLitres, vesselLitres: input.vessel.litres, ...(input.vessel.headspacePercent !== undefined && { headspacePercent: input.vessel.headspacePercent }) }) : null,
    layers: input.method === 'dry' && input.layers !== undefined ? layerPortions({ cureGrams: amounts.cureGrams, layersFishGrams: evenLayers(fishGrams, input.layers) }).layers : null,
    shopping: input.stock ? shoppingList({ needs: needsOf(amounts), stock: input.stock, packages: input.packages ?? [] }) : null,
    warnings: warningsOf(input, pieces, { longestMinutes, latestMinutes }), limits: cureLimits(input.clubLimits), weightAfter: weightOf(input, fishGrams, amounts),
    note: 'A prediction. It never stands in for a laboratory figure: a vacuum pack or tight jar needs one.', working: amounts.working,
  };
}

/** The water after the cure is taken as the fish's own: what a cure changes is little against it. */
function curedTarget(input: CurePlanInput, fishGrams: Grams, fishWaterGrams: number): { targetPercent: number; working: Working | null } {
  if (input.finishedKeptPercent === undefined) return { targetPercent: input.targetPercent, working: null };
  const before = saltBeforeDrying({ finishedPercent: input.targetPercent, keptPercent: input.finishedKeptPercent, curedWaterPercent: rounded((100 * fishWaterGrams) / fishGrams, 2) });
  return { targetPercent: before.waterPhaseSaltPercent, working: before.working };
}

function needsOf(amounts: CureAmounts): IngredientGrams[] {
  return amounts.ingredients.map((line) => ({ ingredient: line.ingredient, grams: line.grams }));
}

function warningsOf(input: CurePlanInput, pieces: readonly KnownPiece[], { longestMinutes, latestMinutes }: Pick<CurePlan, 'longestMinutes' | 'latestMinutes'>): CureWarning[] {
  return cureWarnings({
    plannedMinutes: input.plannedMinutes ?? longestMinutes, ...(input.plannedMinutes === undefined && { latestMinutes }), placeTemperatureC: input.placeTemperatureC, brineTemperatureC: input.brineTemperatureC ?? null,
    isBrine: input.method !== 'dry', brineUsedBefore: input.brineUsedBefore ?? null, species: pieces.flatMap((piece) => piece.species ?? []), ...(input.clubLimits && { club: input.clubLimits }),
  });
}

function weightOf(input: CurePlanInput, grams: Grams, amounts: CureAmounts): CurePlan['weightAfter'] {
  const cure = input.method === 'dry' ? ({ kind: 'dry' } as const) : ({ kind: 'wet', brinePct: amounts.strength!.percentByWeight } as const);
  const { lowGrams, likelyGrams, highGrams, working } = weightAfterCure({ grams, cure });
  return { lowGrams, likelyGrams, highGrams, working };
}
