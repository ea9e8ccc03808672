import type { CheckState } from '../evidence.ts';
import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';
import { crossing, hoursAndMinutes } from './crossing.ts';
import type { Moment } from './crossing.ts';
import { MAX_GAP_MINUTES, cleanSeries } from './series.ts';
import type { Gap, Reading, Series, SeriesFlag } from './series.ts';

export type CoolingInput = {
  readings: readonly Reading[];
  /** 'smoked' for cool.fc and cool.hg; 'ambient' for what is made from ingredients at room temperature (cool.ambient). */
  kind: 'smoked' | 'ambient';
  /** End of smoking, or of mixing: counted from when the log begins too cool to show the start. */
  startedAt?: Date | string | null;
  maxGapMinutes?: number;
  /** A club may ask for a colder end of a step, never for a warmer one. */
  clubEndsC?: CoolingEnds;
};
/** By rule and part, such as 'cool.fc to-21'. */
export type CoolingEnds = Readonly<Partial<Record<`${CoolingCheck['ruleId']} ${CoolingCheck['part']}`, number>>>;

export type CoolingCheck = {
  ruleId: 'cool.fc' | 'cool.hg' | 'cool.ambient';
  part: 'to-21' | 'to-end';
  state: CheckState;
  /** Minutes it took, at the most that the log leaves open; null when the log does not show it. */
  minutes: number | null;
  /** Minutes that it took at the least, or so far where the log does not show its end; null where it does not show the start. */
  atLeastMinutes: number | null;
  limitMinutes: number;
  /** From the first to the second temperature; Infinity where it counts from mixing. */
  fromC: number;
  toC: number;
  found: string;
  limit: string;
  source: string;
  whatToDo: string;
};

export type CoolingChecks = {
  state: CheckState;
  checks: CoolingCheck[];
  gaps: Gap[];
  flags: SeriesFlag[];
  working: Working;
};

type Rule = Pick<CoolingCheck, 'ruleId' | 'part' | 'limitMinutes' | 'source' | 'fromC' | 'toC'> & { words: (toC: number) => string };

export const UNIT_IN_DOUBT = 'The unit of the log is in doubt.';

const RULES: Readonly<Record<CoolingInput['kind'], readonly Rule[]>> = {
  smoked: [
    { ruleId: 'cool.fc', part: 'to-21', fromC: 57, toC: 21, limitMinutes: 120, words: (to) => `57 C to ${to} C within 2 hours`, source: 'FC 3-501.14' },
    { ruleId: 'cool.fc', part: 'to-end', fromC: 57, toC: 5, limitMinutes: 360, words: (to) => `57 C to ${to} C within 6 hours in all`, source: 'FC 3-501.14' },
    { ruleId: 'cool.hg', part: 'to-21', fromC: 60, toC: 21, limitMinutes: 120, words: (to) => `60 C to ${to} C within 2 hours`, source: 'HG, from memory' },
    { ruleId: 'cool.hg', part: 'to-end', fromC: 21, toC: 4.4, limitMinutes: 240, words: (to) => `21 C to ${to} C within a further 4 hours`, source: 'HG, from memory' },
  ],
  ambient: [
    { ruleId: 'cool.ambient', part: 'to-end', fromC: Infinity, toC: 5, limitMinutes: 240, words: (to) => `${to} C within 4 hours of mixing`, source: 'FC 3-501.14(B)' },
  ],
};

/**
 * Holds a logged core against the cooling rules. A start or an end that falls between
 * readings that join is found on the straight line; one that falls into a gap is taken as
 * early (start) or as late (end) as the readings allow, so a gap never helps; one that is more than 2 C warmer
 * again within the time allowed has not got there yet. 'not-met' when even
 * the kindest reading is too slow; 'not-recorded' when the log does not decide. Throws
 * DomainError on times that are none. Sources: rules cool.fc, cool.hg, cool.ambient.
 */
export function coolingChecks(input: CoolingInput): CoolingChecks {
  const rules = RULES[input.kind]?.map((rule) => ({ ...rule, toC: Math.min(rule.toC, input.clubEndsC?.[`${rule.ruleId} ${rule.part}`] ?? rule.toC) }));
  if (!rules) throw new DomainError({ code: 'cooling.kind', field: 'kind', value: input.kind, problem: 'is not known', remedy: "say 'smoked' or 'ambient'" });
  const maxGap = input.maxGapMinutes ?? MAX_GAP_MINUTES;
  const series = cleanSeries(input.readings, { place: 'core', strict: 'higher', maxGapMinutes: maxGap, unitConfirmed: true });
  const started = startedMinutes(input.startedAt, series);
  const checks = rules.map((rule) => checkRule(rule, series, maxGap, started));
  const states = checks.map(({ state }) => state);
  return {
    state: states.includes('not-met') ? 'not-met' : states.includes('not-recorded') ? 'not-recorded' : 'met',
    checks,
    gaps: series.gaps,
    flags: series.flags,
    working: {
      inputs: [{ name: 'readings used', value: series.minutes.length }, { name: 'longest gap allowed', value: maxGap, unit: 'min' }],
      model: 'cooling', formula: 'Minutes between the core falling to the first and to the second temperature, on straight lines between readings; in a gap the start counts as early, the end as late as the readings allow.',
      source: [...new Set(rules.map(({ ruleId, source }) => `${ruleId}: ${source}`))].join('; '),
      range: 'Core of the thickest piece or the middle of the deepest tray.',
      uncertainty: 'A probe is apt to be 0.5 C off, which is a few minutes.',
      certainty: input.kind === 'smoked' ? 'from memory' : 'published',
    },
  };
}

/**
 * As coolingChecks; where the club asks for colder ends, `byRule` has the checks of those steps held against the rule's own ends as well: what was too
 * slow down to those was too slow, whether the log goes on to the colder one or not.
 */
export function coolingToBothEnds(input: CoolingInput): CoolingChecks & { byRule: CoolingCheck[] } {
  const told = coolingChecks(input);
  const colder = told.checks.map(({ toC }, i) => toC < RULES[input.kind][i]!.toC);
  const { clubEndsC: _club, ...plain } = input;
  return { ...told, byRule: colder.includes(true) ? coolingChecks(plain).checks.filter((_check, i) => colder[i]) : [] };
}

/** What a check says of a club's fewer minutes: held against the time that the log leaves open at the most where it shows the step, and against what it took at the least where it does not. */
export function heldTo({ state, minutes, atLeastMinutes }: Pick<CoolingCheck, 'state' | 'minutes' | 'atLeastMinutes'>, limitMinutes: number): CheckState {
  const tooSlow = (state === 'met' && (minutes ?? Infinity) > limitMinutes) || (state === 'not-recorded' && (atLeastMinutes ?? 0) > limitMinutes + 1e-9);
  return tooSlow ? 'not-met' : state;
}

function startedMinutes(startedAt: Date | string | null | undefined, series: Series): number | null {
  if (startedAt === null || startedAt === undefined) return null;
  const ms = new Date(startedAt).getTime();
  if (Number.isNaN(ms)) throw new DomainError({ code: 'cooling.time', field: 'startedAt', value: startedAt, problem: 'is no time', remedy: 'enter when smoking or mixing ended' });
  if (series.startAt === null) return null;
  const minutes = (ms - Date.parse(series.startAt)) / 60_000;
  if (minutes <= 0) return minutes;
  throw new DomainError({ code: 'cooling.order', field: 'startedAt', value: startedAt, problem: 'is after the first reading of the cooling', remedy: 'send the readings from then on, or correct the time' });
}

function checkRule(rule: Rule, series: Series, maxGap: number, started: number | null): CoolingCheck {
  const { ruleId, part, limitMinutes, source, fromC, toC } = rule;
  const shared = { ruleId, part, limitMinutes, source, fromC, toC, limit: rule.words(toC) };
  const done = (state: CheckState, minutes: number | null, found: string, whatToDo: string, atLeastMinutes: number | null = null): CoolingCheck => ({ ...shared, state, minutes, atLeastMinutes, found, whatToDo });
  if (series.unitInDoubt) return done('not-recorded', null, UNIT_IN_DOUBT, 'Put the unit of the log right.');
  const start = startOf(rule, series, maxGap, started);
  if (start === null) return done('not-recorded', null, series.minutes.length === 0 ? 'not recorded' : `The log does not show ${startWords(rule)}.`, `Log the core from ${startWords(rule)} on.`);
  const end = crossing(series, rule.toC, maxGap, lastWarm(rule, series, start));
  const lastMinutes = series.minutes.at(-1)!;
  if (end === null) {
    const elapsed = lastMinutes - start.latest;
    const found = `${series.celsius.at(-1)} C when the log ends, ${start.earliest < start.latest ? 'at least ' : ''}${hoursAndMinutes(elapsed)} after ${start.earliest === started ? 'the start given' : startWords(rule)}`;
    if (elapsed > rule.limitMinutes) return done('not-met', null, found, HOLD, elapsed);
    return done('not-recorded', null, found, `Log on until ${rule.toC} C.`, elapsed);
  }
  const [least, most] = [Math.max(0, end.earliest - start.latest), end.latest - start.earliest];
  const found = least < most - 0.05 ? `between ${hoursAndMinutes(least)} and ${hoursAndMinutes(most)}: the log has a gap there` : hoursAndMinutes(most);
  if (most <= rule.limitMinutes + 1e-9) return done('met', most, found, '', least);
  if (least > rule.limitMinutes + 1e-9) return done('not-met', most, found, HOLD, least);
  // What is not recorded of cool.hg holds nobody: cool.fc decides.
  return done('not-recorded', most, found, ruleId === 'cool.hg' ? 'The gap leaves it open.' : 'The gap leaves it open. Hold it.', least);
}

/** More than a probe wanders: as in cooling-probe.ts. Common practice, no source. */
export const WANDERS_C = 2;
/** Smoked fish cools for so long at the most (cool.fc): what is warm later was kept warm. */
export const COOLS_MINUTES = 360;
/** From where on it counts as cold: a probe that was out of the fish for a while, or a dip that began cold, was not there yet when it is warm again within the time allowed for all of the cooling. */
function lastWarm({ fromC, toC, limitMinutes }: Rule, series: Series, start: Moment): number {
  const allowed = fromC >= 57 && Number.isFinite(fromC) ? COOLS_MINUTES : limitMinutes;
  return series.minutes.reduce((from, minute, i) => (minute <= start.latest + allowed && series.celsius[i]! > toC + WANDERS_C ? Math.max(from, minute) : from), start.latest);
}

const HOLD = 'Hold it. It stayed warm for too long, and cooling it again does not mend that.';

function startWords({ fromC }: Rule): string {
  return fromC === Infinity ? 'mixing' : `${fromC} C`;
}

function startOf({ fromC }: Rule, series: Series, maxGap: number, started: number | null): Moment | null {
  if (series.minutes.length === 0) return null;
  const given = started === null ? null : { earliest: started, latest: started };
  if (fromC === Infinity) return given ?? { earliest: 0, latest: 0 };
  // From the hottest reading on: the core climbs through these temperatures first.
  const peak = series.celsius.indexOf(series.celsius.reduce((a, b) => Math.max(a, b)));
  if (series.celsius[peak]! >= fromC) return crossing(series, fromC, maxGap, series.minutes[peak]!);
  // A second stage starts with a log that is already under it only when somebody says when smoking ended.
  return given;
}
