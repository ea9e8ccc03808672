/** From what was asked to the plan, or to what is wrong with it, field by field. The reckoning itself is the domain's. */
import type { CurePiece } from '$domain/cure/pieces.ts';
import { planCure } from '$domain/cure/planner.ts';
import type { CureLimits } from '$domain/cure/warnings.ts';
import type { CurePlan, CurePlanInput } from '$domain/cure/planner.ts';
import { largestRemainder } from '$domain/share.ts';
import { DomainError } from '$domain/working.ts';
import type { ClubByFat } from '$domain/salt/diffusivity.ts';
import { plainQuantities } from '../api/plain-quantities.ts';
import { session } from '../session.svelte.ts';
import { showWeight } from '../show.ts';
import { TABLE_KEPT_PERCENT } from './kept.ts';
import { isKnown, type CureFish } from './fish.ts';
import { partOf, type ExtraGroup, type PlannerValues } from './values.ts';

export type Planned =
  | { plan: CurePlan; input: CurePlanInput; errors: Record<string, string>; wrong: '' }
  /** `wrong` is the one thing to put right first, in words. */
  | { plan: null; input: null; errors: Record<string, string>; wrong: string };

/** What a plan is reckoned with besides what was asked. */
export interface Known {
  /** The club's own diffusivity, by fat class. */
  clubByFat?: ClubByFat;
  /** The club's own limits of the brine's rules. */
  limits?: CureLimits;
  /** The most that finished fish is expected to keep of its weight after the cure. */
  keptPercent?: number;
}

/** The plan for what was asked. Nothing is left out silently: without an answer it says what is missing or out of range. */
export function planOf(values: PlannerValues, fish: CureFish, known: Known = {}): Planned {
  const missing = missingIn(values, fish);
  const first = Object.values(missing)[0];
  if (first !== undefined) return { plan: null, input: null, errors: missing, wrong: first };
  const made = piecesOf(values, fish);
  const input = inputOf(values, made.map(({ piece }) => piece), known);
  try {
    return { plan: planCure(input), input, errors: {}, wrong: '' };
  } catch (cause) {
    if (!(cause instanceof DomainError)) throw cause;
    // The grams of "sugar for 100 g of salt" are what its field asks for.
    const wrong = cause.field === 'sugarPer100Salt' ? cause.message : plainQuantities(cause.message, session.zone, session.system);
    return { plan: null, input: null, errors: { [fieldOf(cause.field, made.map(({ group }) => group))]: wrong }, wrong };
  }
}

const counted = (group: ExtraGroup): boolean => group.grams !== null;

/** Of less than a gram the smallest weight that is told in ounces would say nothing. */
const tooLight = (grams: number): string => `Weight ${showWeight(grams)} is no fish: enter the weight on the scale.`;

function missingIn(values: PlannerValues, fish: CureFish): Record<string, string> {
  const errors: Record<string, string> = {};
  if (values.grams === null) errors['grams'] = 'Enter the weight of the fish.';
  else if (values.grams < 1) errors['grams'] = tooLight(values.grams);
  if (values.thicknessMm === null) errors['thicknessMm'] = 'Enter the thickness.';
  if (values.fat === '' && !fish.kinds.every(isKnown)) errors['fat'] = 'Choose the species, or how fat the fish is.';
  values.groups.filter(counted).forEach((group) => {
    if (group.grams! < 1) errors[`groups.${values.groups.indexOf(group)}.grams`] = tooLight(group.grams!);
    if (group.thicknessMm === null) errors[`groups.${values.groups.indexOf(group)}.thicknessMm`] = 'Enter the thickness.';
  });
  if (values.grams !== null && rest(values) < 0) errors['groups'] = 'The groups weigh more than all the fish.';
  if (values.targetPercent === null) errors['targetPercent'] = 'Enter the salt to aim for.';
  if (values.aim === 'finished' && values.keptOwn && values.keptPercent === null) errors['keptPercent'] = 'Enter how much of its weight the finished fish keeps.';
  if (values.method === 'brine' && values.brinePercent === null) errors['brinePercent'] = 'Enter the strength of the brine.';
  if (values.placeC === null) errors['placeC'] = 'Enter how cold it is where it stands.';
  return errors;
}

/** What is in no group of its own. */
export const rest = (values: Pick<PlannerValues, 'grams' | 'groups'>): number => values.groups.reduce((left, group) => left - (group.grams ?? 0), values.grams ?? 0);

type Made = { piece: CurePiece; /** The place of its group; -1 for the rest of the fish. */ group: number };

function piecesOf(values: PlannerValues, fish: CureFish): Made[] {
  const left = rest(values);
  const groups = [
    // With nothing left, everything lies in a group; with no fish at all the domain says so.
    ...(left > 0 || !values.groups.some(counted) ? [{ group: -1, grams: left, thicknessMm: values.thicknessMm!, part: 'loin' as const }] : []),
    ...values.groups.map((one, group) => ({ group, grams: one.grams, thicknessMm: one.thicknessMm!, part: partOf[one.kind] })).filter((one) => one.grams !== null),
  ];
  return groups.flatMap((one) => {
    const shares = one.grams! > 0 ? largestRemainder(Math.round(one.grams!), fish.kinds.map((kind) => kind.share)) : fish.kinds.map(() => one.grams!);
    return fish.kinds.map((kind, index): Made => ({
      group: one.group,
      piece: {
        id: `${one.group}/${index}`, grams: shares[index]!, thicknessMm: one.thicknessMm, part: one.part, skin: values.cut !== 'fillet', form: values.cut === 'gutted' ? fish.guttedForm : 'fillet', onceFrozen: values.onceFrozen,
        ...(kind.species !== null && { species: kind.species }), ...(!isKnown(kind) && values.fat !== '' && { fat: values.fat }),
      },
    })).filter(({ piece }) => piece.grams > 0 || one.grams! <= 0);
  });
}

function inputOf(values: PlannerValues, pieces: readonly CurePiece[], { clubByFat, limits, keptPercent = TABLE_KEPT_PERCENT }: Known): CurePlanInput {
  const sugar = values.sugarKind !== '' && values.sugarPer100Salt !== null ? { sugarKind: values.sugarKind, sugarPer100Salt: values.sugarPer100Salt } : {};
  return {
    pieces, method: values.method, targetPercent: values.targetPercent!, placeTemperatureC: values.placeC!, brineTemperatureC: values.brineC, brineUsedBefore: values.brine === 'unknown' ? null : values.brine === 'used',
    // Weight does not depend on the kind; cups are shown only once it is chosen.
    saltKind: values.saltKind || 'table-salt', ...sugar,
    ...(clubByFat && { clubByFat }), ...(limits && { clubLimits: limits }), ...(values.aim === 'finished' && { finishedKeptPercent: values.keptOwn ? values.keptPercent! : keptPercent }),
    ...(values.method === 'brine' && { brinePercent: values.brinePercent! }),
    ...(values.method !== 'dry' && values.waterGrams !== null && { waterGrams: values.waterGrams }),
    ...(values.method === 'dry' && values.saltPercentOfFish !== null && { saltPercentOfFish: values.saltPercentOfFish }),
  };
}

const FIELDS: Readonly<Record<string, string>> = { fishGrams: 'grams', placeTemperatureC: 'placeC', temperatureC: 'placeC', brineTemperatureC: 'brineC', finishedPercent: 'targetPercent', form: 'cut', species: 'fat' };

/** The planner's field for the one that the domain refused. */
function fieldOf(field: string, groups: readonly number[]): string {
  const piece = /^pieces\.(\d+)\.(\w+)$/.exec(field);
  if (!piece) return FIELDS[field] ?? field;
  const group = groups[Number(piece[1])] ?? -1;
  const name = FIELDS[piece[2]!] ?? piece[2]!;
  return group < 0 || name === 'cut' || name === 'fat' ? name : `groups.${group}.${name}`;
}
