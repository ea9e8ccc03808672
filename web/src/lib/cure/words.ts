/** What a plan says, in words. Amounts and times are written by the caller's own units. */
import type { CurePlan } from '$domain/cure/planner.ts';
import type { CureGroup } from '$domain/cure/thickness-groups.ts';
import { hoursInWords } from '$domain/cure/warnings.ts';
import type { CureWarning } from '$domain/cure/warnings.ts';
import { CUP_WEIGHTS } from '$domain/cure/kitchen-weights.ts';
import { showRuleText, showSpan, showTemperature, showThickness, showWeight } from '../show.ts';
import type { CureFish, FishKind } from './fish.ts';
import { exampleParts, methodWords, type PlannerValues } from './values.ts';

export const showMinutes = (minutes: number): string => showSpan(minutes * 60_000);
export const showSalt = (percent: number): string => `${percent.toFixed(1)} %`;

/** A group's name, with its fish where there is more than one kind. */
export function groupName(group: CureGroup, kinds: readonly FishKind[]): string {
  const called = showRuleText(group.name);
  if (kinds.length < 2) return called;
  const names = new Set(group.ids.map((id) => kinds[Number(id.split('/')[1])]?.name ?? ''));
  return `${called}: ${[...names].join(', ')}`;
}

/** When the first group comes out; null when none is ever done. */
export function firstMinutes(plan: CurePlan): number | null {
  const times = plan.groups.flatMap((group) => group.takeOutMinutes ?? []);
  return times.length === 0 ? null : Math.min(...times);
}

/** A clock is a prediction: it counts as long where the long end of its band does. */
export const staysLong = (plan: CurePlan): boolean => plan.latestMinutes === null || plan.latestMinutes > plan.limits.coldAfterMinutes;
/** For how long it has to be cold, to go before how cold. */
export function coldFor({ longestMinutes, limits: { coldAfterMinutes } }: CurePlan): string {
  if (coldAfterMinutes === 0) return 'However long it stays:';
  return `${longestMinutes === null || longestMinutes > coldAfterMinutes ? 'It stays' : 'It may stay'} more than ${hoursInWords(coldAfterMinutes)}:`;
}

const AGAINST: Record<CureWarning['ruleId'], string> = { 'brine.cold': 'too warm', 'brine.start': 'too warm', 'brine.reuse': 'used before', 'brine.no-mix': 'keep apart' };
/** What a warning is about, in two words. */
export const warningWord = ({ level, ruleId }: CureWarning): string => (level === 'must' ? AGAINST[ruleId] : 'check');

/** One line that keeps in sight while the fields are changed. */
export function summary(plan: CurePlan): string {
  // A clock has a wide band: one figure alone would seem surer than it is.
  const earliest = plan.groups.flatMap((group) => group.last.time.earliestMinutes ?? []);
  const from = earliest.length === 0 ? null : showMinutes(Math.min(...earliest));
  const time = from === null ? 'no end time' : plan.latestMinutes === null ? `from ${from}` : `${from} to ${showMinutes(plan.latestMinutes)}`;
  return [`${showWeight(plan.amounts.saltGrams)} salt`, plan.amounts.strength ? `${showSalt(plan.amounts.strength.percentByWeight)} brine` : '', time].filter(Boolean).join(' · ');
}

/** What to do before fish that is not cut yet can go into the cure; empty where it is cut. */
export function prepareFirst(plan: CurePlan, values: PlannerValues, fish: CureFish): string {
  return fish.uncut(values.cut) ? `Prepare it first: the plan is for about ${showWeight(plan.fishGrams)} of ${values.cut === 'gutted' ? 'gutted fish' : 'fillet'}.` : '';
}

/** What of a plan nobody entered, "20 mm thick, 3 °C where it stands, brown sugar"; empty where all is somebody's own. */
export function exampleWords(values: PlannerValues): string {
  const words = { thickness: () => `${showThickness(values.thicknessMm!)} thick`, place: () => `${showTemperature(values.placeC!)} where it stands`, sugar: () => (values.sugarKind === '' ? 'sugar' : CUP_WEIGHTS[values.sugarKind].name.toLowerCase()) };
  return exampleParts(values).map((part) => words[part]()).join(', ');
}

/** A weight within a tenth of the planned one is the same fish. A choice of this service. */
const SAME_WEIGHT = 0.1;
/** What to ask when other fish goes into the cure than it was planned for; empty otherwise. */
export function otherWeight(plannedGrams: number, massInGrams: number): string {
  if (Math.abs(massInGrams - plannedGrams) <= SAME_WEIGHT * plannedGrams) return '';
  return `The plan is for ${showWeight(plannedGrams)} of fish, and ${showWeight(massInGrams)} goes in. Is it prepared, and weighed? The salt was reckoned for the plan’s weight.`;
}

/** The plan as the cure stage's note. */
export function noteOf(plan: CurePlan, values: PlannerValues, kinds: readonly FishKind[]): string {
  const { amounts } = plan;
  const cure = [
    `${showWeight(amounts.saltGrams)} ${values.saltKind === '' ? 'salt' : CUP_WEIGHTS[values.saltKind].name.toLowerCase()}`,
    amounts.sugarGrams > 0 && values.sugarKind !== '' ? `${showWeight(amounts.sugarGrams)} ${CUP_WEIGHTS[values.sugarKind].name.toLowerCase()}` : '',
    amounts.waterGrams > 0 ? `${showWeight(amounts.waterGrams)} water` : '',
    amounts.strength ? `${showSalt(amounts.strength.percentByWeight)}, ${Math.round(amounts.strength.degreesSaturated)} degrees salometer${amounts.sugarGrams > 0 ? ' before the sugar goes in' : ''}` : '',
  ].filter(Boolean).join(', ');
  const clocks = plan.groups.map((group) => `${groupName(group, kinds)}: ${group.takeOutMinutes === null ? 'no end time' : showMinutes(group.takeOutMinutes)}.`);
  return [
    `Plan: ${methodWords[values.method].toLowerCase()} for ${showWeight(plan.fishGrams)} of fish: ${cure}.`, ...clocks,
    `At ${showTemperature(values.placeC ?? 0)}, aiming at ${showSalt(values.targetPercent ?? 0)} water-phase salt${values.aim === 'finished' ? ` in the finished fish, ${showSalt(plan.curedTargetPercent)} after the cure` : ''}. A prediction, not measured.`,
  ].join(' ').slice(0, 2000);
}
