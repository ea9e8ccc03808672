import { COOLS_MINUTES, coolingToBothEnds, heldTo, UNIT_IN_DOUBT, WANDERS_C } from '../heat/cooling-checks.ts';
import type { CoolingCheck, CoolingEnds } from '../heat/cooling-checks.ts';
import type { Working } from '../working.ts';
import type { BatchEvidence } from './evidence.ts';
import { limitOf } from './limits.ts';
import { between, coreLogs, oneProbe, PROBE_OUT } from './logs.ts';
import type { ClubLimits, Finding } from './rule.ts';

type Step = 'cool.fc to-21' | 'cool.fc to-end' | 'cool.hg to-21' | 'cool.hg to-end';
type Told = Pick<Finding, 'state' | 'found' | 'whatToDo'> & { working: Working | null };
const TOO_SLOW = 'Do not share it. It stayed warm for too long, and cooling it again does not mend that.';
/** A log alone may be of the air: a probe pulled out of cold fish reads warm. */
const TOO_SLOW_READ = `${TOO_SLOW} ${PROBE_OUT.fish}`;

const LIMIT_OF: Readonly<Record<Step, string>> = { 'cool.fc to-21': 'cool.fc.first-minutes', 'cool.fc to-end': 'cool.fc.total-minutes', 'cool.hg to-21': 'cool.hg.first-minutes', 'cool.hg to-end': 'cool.hg.second-minutes' };
const END_OF: Readonly<Record<Step, string>> = { 'cool.fc to-21': 'cool.fc.first.celsius', 'cool.fc to-end': 'cool.fc.end.celsius', 'cool.hg to-21': 'cool.hg.first.celsius', 'cool.hg to-end': 'cool.hg.end.celsius' };
const WORDS: Readonly<Record<Step, (minutes: number, toC: number) => string>> = {
  'cool.fc to-21': (m, to) => `57 C to ${to} C within ${hours(m)}`,
  'cool.fc to-end': (m, to) => `57 C to ${to} C within ${hours(m)} in all`,
  'cool.hg to-21': (m, to) => `60 C to ${to} C within ${hours(m)}`,
  'cool.hg to-end': (m, to) => `21 C to ${to} C within a further ${hours(m)}`,
};
const STEPS = Object.keys(LIMIT_OF) as Step[];
/** How cold each step of the cooling of smoked fish has to end: the rules' own temperatures, or the club's colder ones. */
export const coolingEnds = (club: ClubLimits): CoolingEnds => Object.fromEntries(STEPS.map((step) => [step, limitOf(club, END_OF[step]).value]));

/** What the typed times of cool.fc are for, whatever the club asks for; the end of cool.hg is told by a log alone. */
const TYPED_C: Readonly<Partial<Record<Step, number>>> = { 'cool.fc to-21': 21, 'cool.fc to-end': 5 };
const COOLING_FROM_C = 57;
const HOTTEST_C = 100;

/**
 * The steps of cool.fc and of cool.hg (its first one, from 60 C, where a log shows it), from core readings and from what was typed, at
 * whichever stage; where there are several, the stricter. Typed times count from the end of smoking, which is stricter than from 57 C. So does a log that
 * begins below 57 C, which can only tell against the fish; a core or surface that is warm after the time typed for it holds the batch.
 */
export function cooling(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  const clubEndsC = coolingEnds(club);
  const logged = coreLogs(evidence).flatMap(({ readings }) => {
    const { checks, byRule, working } = coolingToBothEnds({ readings, kind: 'smoked', clubEndsC });
    return [...checks.map((check) => ({ check, working, ofRule: false })), ...byRule.map((check) => ({ check, working, ofRule: true }))];
  });
  const typedTimes = timesTyped(evidence);
  const later = logsSinceSmoking(evidence, clubEndsC);
  return STEPS.filter((step) => step !== 'cool.hg to-21' || logged.length > 0).map((step) => {
    const [limit, end] = [limitOf(club, LIMIT_OF[step]), limitOf(club, END_OF[step])];
    const [ruleId, part] = step.split(' ') as [string, string];
    const told = [...logged.filter(({ check }) => check.ruleId === ruleId && check.part === part).flatMap((l) => ofLog(l.check, l.working, limit.value, l.ofRule)), ...typedTimes.map((times) => typed(step, times, limit.value, end.value))];
    told.push(...later.flatMap((log) => against(step, log, evidence.smoke!.finishedAt!, typedTimes, limit.value)));
    return { ruleId, part, limit: WORDS[step](limit.value, end.value), tightened: limit.tightened || end.tightened, ...strictest(told) };
  });
}

/** `ofRule`: down to the rule's own end, where the club asks for a colder one: that counts only where it was too slow. */
function ofLog(check: CoolingCheck, working: Working, limitMinutes: number, ofRule: boolean): Told[] {
  const state = heldTo(check, limitMinutes);
  if (ofRule) return state === 'not-met' ? [{ state, found: downTo(check), whatToDo: TOO_SLOW_READ, working }] : [];
  return [{ state, found: check.found, whatToDo: state === 'met' ? '' : state === 'not-met' ? TOO_SLOW_READ : check.whatToDo, working }];
}
const downTo = ({ toC, found }: CoolingCheck): string => `to ${toC} C: ${found}`;

/** A step that one log or person shows too slow is too slow; one whose log may be in another unit is open; one that any shows in time is; else it is not recorded. */
function strictest(told: readonly Told[]): Told {
  return told.find((t) => t.state === 'not-met') ?? told.find((t) => t.found === UNIT_IN_DOUBT) ?? told.find((t) => t.whatToDo === CONTRADICTION) ?? told.find((t) => t.state === 'met') ?? told[0]!;
}

type LaterLog = { isCore: boolean; shows57: boolean; readings: { at: Date; celsius: number }[]; told: ReturnType<typeof coolingToBothEnds> };
/**
 * Each probe's readings of the core and the surface from the end of smoking on, of whichever stage, where they begin while it may still cool: what is read
 * later alone tells of how it was kept.
 */
function logsSinceSmoking({ smoke, readings }: BatchEvidence, clubEndsC: CoolingEnds): LaterLog[] {
  const endedMs = smoke?.finishedAt?.getTime();
  if (endedMs === undefined) return [];
  const lists = readings.filter((list) => list.place === 'core' || list.place === 'surface');
  return [...Map.groupBy(lists, (list) => `${list.place} ${list.probe.trim().toLowerCase()}`).values()].flatMap((probe) => {
    const since = oneProbe(probe.flatMap((list) => between(list, endedMs, Infinity) ?? [])).readings;
    if (!since.some(({ at }) => at.getTime() <= endedMs + COOLS_MINUTES * 60_000)) return [];
    const isCore = probe[0]!.place === 'core';
    const shows57 = probe.some((list) => list.celsius.some((c) => c >= COOLING_FROM_C && c <= HOTTEST_C));
    return [{ isCore, readings: since, shows57, told: coolingToBothEnds({ readings: since, kind: 'smoked', startedAt: smoke!.finishedAt, clubEndsC }) }];
  });
}

const CONTRADICTION = `Hold it. Correct the typed time at its stage. ${PROBE_OUT.fish}`;

/** What a log of after the smoke says against a step: too slow from the end of smoking where it does not show 57 C, or warm after the time that was typed. */
function against(step: Step, { isCore, shows57, readings, told }: LaterLog, ended: Date, typedTimes: readonly TypedTimes[], limitMinutes: number): Told[] {
  const toC = TYPED_C[step];
  if (toC === undefined) return [];
  const ofStep = ({ ruleId, part }: CoolingCheck) => `${ruleId} ${part}` === step;
  const check = told.checks.find(ofStep)!;
  const [byClub, byRule] = [[check], told.byRule.filter(ofStep)].map((checks) => checks.filter((one) => heldTo(one, limitMinutes) === 'not-met'));
  const slow = byClub![0]?.found ?? byRule!.map(downTo)[0];
  if (check.found === UNIT_IN_DOUBT) return isCore ? [{ state: 'not-recorded', found: UNIT_IN_DOUBT, whatToDo: 'Put the unit of the log right.', working: null }] : [];
  const times = typedTimes.flatMap(({ cooledTo21At, cooledAt }) => (toC === 21 ? (cooledTo21At ?? cooledAt) : cooledAt) ?? []);
  const typedMs = times.length === 0 ? null : Math.min(...times.map((at) => at.getTime()));
  const endMs = ended.getTime() + COOLS_MINUTES * 60_000;
  const warm = typedMs === null ? undefined : readings.find(({ at, celsius }) => at.getTime() >= typedMs && at.getTime() <= endMs && celsius > toC + WANDERS_C && celsius <= HOTTEST_C);
  // A probe that showed the step in time, from 57 C on, answers for itself.
  if (isCore && shows57 && check.state === 'met') return [];
  if (isCore && !shows57 && slow !== undefined && (typedMs === null || warm)) return [{ state: 'not-met', found: slow.includes(GIVEN) ? slow.replace(GIVEN, 'smoking ended') : `${slow} after smoking ended`, whatToDo: TOO_SLOW_READ, working: told.working }];
  return warm ? [{ state: 'not-recorded', found: `${Math.round(warm.celsius * 10) / 10} C was read after the time typed for ${toC} C`, whatToDo: CONTRADICTION, working: null }] : [];
}
/** As heat/cooling-checks.ts calls it. */
const GIVEN = 'the start given';

type TypedTimes = { finishedAt: Date | null; cooledTo21At: Date | null; cooledAt: Date | null };

/** Every pair of the times that were typed at the smoke and cool stages; one without times when none was. */
function timesTyped({ smoke, stages }: BatchEvidence): TypedTimes[] {
  const told = [...(smoke ? [smoke] : []), ...stages.filter((stage) => stage.kind === 'cool')];
  const of = (field: 'cooledTo21At' | 'cooledAt') => {
    const times = told.flatMap((stage) => stage[field] ?? []);
    return times.length > 0 ? times : [null];
  };
  return of('cooledTo21At').flatMap((cooledTo21At) => of('cooledAt').map((cooledAt) => ({ finishedAt: smoke?.finishedAt ?? null, cooledTo21At, cooledAt })));
}

function typed(step: Step, { finishedAt, cooledTo21At, cooledAt }: TypedTimes, limitMinutes: number, endC: number): Told {
  const missing = (found: string, whatToDo: string): Told => ({ state: 'not-recorded', found, whatToDo, working: null });
  // Smoking may have ended below 60 C: then it was there before.
  if (step === 'cool.hg to-21') return missing('not recorded', 'Record core readings from 60 C on.');
  if (step === 'cool.hg to-end') return typedSecond(cooledTo21At, cooledAt, limitMinutes, missing);
  if (finishedAt === null) return missing('not recorded', 'Enter when smoking ended and when the fish was cold again, or record core readings.');
  // At 5 C it had passed 21 C.
  const reached = step === 'cool.fc to-21' ? (cooledTo21At ?? cooledAt) : cooledAt;
  const target = step === 'cool.fc to-21' ? 21 : 5;
  const record = `The club asks for ${endC} C: record core readings.`;
  if (reached === null) return missing('not recorded', endC < target ? record : `Enter when the fish was back at ${target} C or less, or record core readings.`);
  const after = (at: Date) => (at.getTime() - finishedAt.getTime()) / 60_000;
  const minutes = after(reached);
  const found = `${duration(minutes)} after smoking ended`;
  if (minutes > limitMinutes) {
    const only5 = step === 'cool.fc to-21' && cooledTo21At === null;
    return only5 ? missing('not recorded', endC < target ? record : 'Enter when the fish was back at 21 C or less, or record core readings.') : { state: 'not-met', found, whatToDo: TOO_SLOW, working: null };
  }
  // A typed time is for 21 C or for 5 C: of colder fish it says nothing.
  if ((reached === cooledAt ? 5 : target) <= endC) return { state: 'met', found, whatToDo: '', working: null };
  if (cooledAt !== null && endC >= 5 && after(cooledAt) <= limitMinutes) return { state: 'met', found: `${duration(after(cooledAt))} after smoking ended`, whatToDo: '', working: null };
  return missing(`${target} C ${found}`, record);
}

/** Typed times are for 5 C: they can show that the second step was too slow, never that 4.4 C was reached. */
function typedSecond(at21: Date | null, at5: Date | null, limitMinutes: number, missing: (found: string, whatToDo: string) => Told): Told {
  const minutes = at21 && at5 ? (at5.getTime() - at21.getTime()) / 60_000 : null;
  if (minutes !== null && minutes > limitMinutes) return { state: 'not-met', found: `${duration(minutes)} from 21 C to 5 C`, whatToDo: TOO_SLOW, working: null };
  return missing('no core readings down to 4.4 C', 'Record core readings down to 4.4 C.');
}

/** Rounded up, so that a minute too long never reads as the limit. */
function duration(minutes: number): string {
  const whole = Math.ceil(minutes - 1e-6);
  return `${Math.floor(whole / 60)} h ${whole % 60} min`;
}
const hours = (minutes: number) => (minutes === 60 ? '1 hour' : minutes % 60 === 0 ? `${minutes / 60} hours` : `${minutes} minutes`);
