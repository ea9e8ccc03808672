/** The limits of the rules as the club has them, and their words. */
import type { LimitChanged, RuleLimitRecord, RuleRecord } from '$contract/rules.ts';
import type { CureLimits } from '$domain/cure/warnings.ts';
import type { CoolingEnds } from '$domain/heat/cooling-checks.ts';
import { coolingEnds } from '$domain/rules/cooling.ts';
import { limitOf } from '$domain/rules/limits.ts';
import type { ClubLimits } from '$domain/rules/rule.ts';
import { CORE_LIMIT_C, HOLD_LIMIT_MINUTES } from '$domain/evidence.ts';
import { showCount, showDegrees, showNumber, showTemperature } from '../show.ts';

export const unitWords: Record<RuleLimitRecord['unit'], string> = { C: '°C', degrees: '°C', minutes: 'min', hours: 'h', percent: '%', ppm: 'ppm', days: 'days', months: 'months' };

export function limitWords(limit: Pick<RuleLimitRecord, 'unit' | 'direction'>, value: number): string {
  const amount = limit.unit === 'C' ? showTemperature(value) : limit.unit === 'degrees' ? showDegrees(value) : `${showNumber(value)} ${value === 1 ? unitWords[limit.unit].replace(/s$/, '') : unitWords[limit.unit]}`;
  return `${{ 'at-least': 'at least', above: 'above', 'at-most': 'at most' }[limit.direction]} ${amount}`;
}

/** What a change of a limit did: "2 lots are now on hold; 1 pack of them is out." Empty where it stopped nothing. */
export function sayStopped({ onHold, doNotShare, packsOut }: LimitChanged['stopped']): string {
  const lots = [
    ...(onHold > 0 ? [`${showCount(onHold, 'lot is', 'lots are')} now on hold`] : []),
    ...(doNotShare > 0 ? [`${showCount(doNotShare, 'lot must', 'lots must')} not be shared now`] : []),
  ];
  if (lots.length === 0) return '';
  const of = onHold + doNotShare === 1 ? 'it' : 'them';
  return `${lots.join(', ')}; ${packsOut === 0 ? `no pack of ${of} is out` : showCount(packsOut, `pack of ${of} is out`, `packs of ${of} are out`)}.`;
}

/** What the club tightened, as the domain takes it. */
export const clubLimitsOf = (rules: readonly RuleRecord[]): ClubLimits => Object.fromEntries(rules.flatMap((rule) => rule.limits).flatMap(({ id, club }) => (club ? [[id, club.value]] : [])));

/** The value that counts: the club's own, else the rule's. `fallback` until the rules are read. */
export function limitIn(rules: readonly RuleRecord[] | undefined, id: string, fallback: number): number {
  const limit = rules?.flatMap((rule) => rule.limits).find((l) => l.id === id);
  return limit ? (limit.club?.value ?? limit.value) : fallback;
}

/** The club's own, else the rule's, whether the rules are read or not. Throws RangeError for a name that no limit has. */
export const limitOr = (rules: readonly RuleRecord[] | undefined, id: string): number => limitIn(rules, id, limitOf({}, id).value);

/** What a cure plan goes by. */
export const cureLimitsIn = (rules: readonly RuleRecord[] | undefined): Required<CureLimits> => ({ coldAfterMinutes: 60 * limitOr(rules, 'brine.cold.hours'), coldC: limitOr(rules, 'brine.cold.celsius'), startC: limitOr(rules, 'brine.start.celsius') });

export interface HeatLimits {
  hold: { limitC: number; neededMinutes: number };
  /** Minutes of each step of the cooling, and how cold each has to end. */
  cooling: { to21: number; to5: number; hgTo21: number; to4: number; endsC: Required<Pick<CoolingEnds, 'cool.fc to-21' | 'cool.fc to-end'>> & CoolingEnds };
}
export const heatLimits = (rules: readonly RuleRecord[] | undefined): HeatLimits => ({
  hold: { limitC: limitIn(rules, 'smoke.core.celsius', CORE_LIMIT_C), neededMinutes: limitIn(rules, 'smoke.core.minutes', HOLD_LIMIT_MINUTES) },
  cooling: { to21: limitIn(rules, 'cool.fc.first-minutes', 120), to5: limitIn(rules, 'cool.fc.total-minutes', 360), hgTo21: limitIn(rules, 'cool.hg.first-minutes', 120), to4: limitIn(rules, 'cool.hg.second-minutes', 240), endsC: coolingEnds(clubLimitsOf(rules ?? [])) as HeatLimits['cooling']['endsC'] },
});
