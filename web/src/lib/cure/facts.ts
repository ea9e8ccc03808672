/** How fish is cured, as the record keeps it: from a plan, and in words. */
import type { CureFactsBody, CureFactsView } from '$contract/cures.ts';
import { CUP_WEIGHTS, type CureIngredient } from '$domain/cure/kitchen-weights.ts';
import { knownPieces } from '$domain/cure/pieces.ts';
import type { CurePlan, CurePlanInput } from '$domain/cure/planner.ts';
import { showNumber, showTemperature, showThickness, showWeight } from '../show.ts';
import { rest } from './plan.ts';
import { methodWords, type PlannerValues } from './values.ts';

export const cureFatWords: Record<CureFactsBody['fat'], string> = { lean: 'Lean', medium: 'Medium', fatty: 'Fatty', mixed: 'Mixed' };

/** The facts of a plan, as it goes into the record with its stage. */
export function factsOf(plan: CurePlan, input: CurePlanInput, values: PlannerValues): CureFactsBody {
  const { amounts } = plan;
  const fats = [...new Set(knownPieces(input.pieces).map((piece) => piece.fat))];
  return {
    method: values.method, saltKind: values.saltKind || null, saltGrams: amounts.saltGrams, sugarKind: amounts.sugarGrams > 0 ? values.sugarKind || null : null, sugarGrams: amounts.sugarGrams,
    waterGrams: values.method === 'dry' ? null : amounts.waterGrams, brinePercent: null, others: values.others.map(({ name, grams }) => ({ name, grams: Math.round(grams) })), thicknessMm: mainThickness(values),
    skin: values.cut !== 'fillet', temperatureC: values.placeC!, onceFrozen: values.onceFrozen, fat: fats.length === 1 ? fats[0]! : 'mixed',
  };
}

/** Of most of the fish: that is what a laboratory's sample is of. */
function mainThickness(values: PlannerValues): number {
  const groups = [{ grams: rest(values), thicknessMm: values.thicknessMm! }, ...values.groups.flatMap((group) => (group.grams === null || group.kind === 'belly' || group.kind === 'tail' ? [] : [{ grams: group.grams, thicknessMm: group.thicknessMm! }]))];
  return groups.reduce((most, one) => (one.grams > most.grams ? one : most)).thicknessMm;
}

const kindName = (kind: string | null, other: string): string => (kind !== null && Object.hasOwn(CUP_WEIGHTS, kind) ? CUP_WEIGHTS[kind as CureIngredient].name.toLowerCase() : other);

/** "Brine 15 %, 20 mm, skin on, at 3 °C, fatty fish: 529 g table salt, 3 kg water" */
export function factsWords(cure: CureFactsBody | CureFactsView): string {
  const strength = cure.method === 'dry' ? '' : cure.brinePercent ?? (cure.saltGrams !== null && cure.waterGrams !== null ? (100 * cure.saltGrams) / (cure.saltGrams + cure.waterGrams) : null);
  const how = [
    `${methodWords[cure.method]}${typeof strength === 'number' ? ` ${showNumber(strength, 1)} %` : ''}`, showThickness(cure.thicknessMm), cure.skin ? 'skin on' : 'no skin', `at ${showTemperature(cure.temperatureC)}`,
    `${cureFatWords[cure.fat].toLowerCase()} fish`, cure.onceFrozen ? 'frozen before' : '',
  ].filter(Boolean).join(', ');
  const amounts = [
    cure.saltGrams !== null ? `${showWeight(cure.saltGrams)} ${kindName(cure.saltKind, 'salt')}` : '', cure.sugarGrams > 0 ? `${showWeight(cure.sugarGrams)} ${kindName(cure.sugarKind, 'sugar')}` : '',
    cure.waterGrams !== null ? `${showWeight(cure.waterGrams)} water` : '', ...cure.others.map(({ name, grams }) => `${showWeight(grams)} ${name}`),
  ].filter(Boolean).join(', ');
  return amounts === '' ? how : `${how}: ${amounts}`;
}
