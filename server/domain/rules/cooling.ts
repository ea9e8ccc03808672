import { coolingChecks, UNIT_IN_DOUBT } from '../heat/cooling-checks.ts';
import type { CoolingCheck } from '../heat/cooling-checks.ts';
import type { CheckState } from '../evidence.ts';
import type { Working } from '../working.ts';
import type { BatchEvidence } from './evidence.ts';
import { limitOf } from './limits.ts';
import { coreLogs } from './logs.ts';
import type { ClubLimits, Finding } from './rule.ts';

type Step = 'cool.fc to-21' | 'cool.fc to-end' | 'cool.hg to-21' | 'cool.hg to-end';
type Told = Pick<Finding, 'state' | 'found' | 'whatToDo'> & { working: Working | null };
const TOO_SLOW = 'Do not share it. It stayed warm for too long, and cooling it again does not mend that.';

const LIMIT_OF: Readonly<Record<Step, string>> = { 'cool.fc to-21': 'cool.fc.first-minutes', 'cool.fc to-end': 'cool.fc.total-minutes', 'cool.hg to-21': 'cool.hg.first-minutes', 'cool.hg to-end': 'cool.hg.second-minutes' };
const WORDS: Readonly<Record<Step, (minutes: number) => string>> = {
  'cool.fc to-21': (m) => `57 C to 21 C within ${hours(m)}`,
  'cool.fc to-end': (m) => `57 C to 5 C within ${hours(m)} in all`,
  'cool.hg to-21': (m) => `60 C to 21 C within ${hours(m)}`,
  'cool.hg to-end': (m) => `21 C to 4.4 C within a further ${hours(m)}`,
};

/**
 * The steps of cool.fc and of cool.hg (its first one, from 60 C, where a log shows it), from core readings and from what was typed, at
 * whichever stage; where there are several, the stricter. Typed times count from the end of smoking, which is stricter than from 57 C.
 */
export function cooling(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  const logged = coreLogs(evidence).flatMap(({ readings }) => {
    const { checks, working } = coolingChecks({ readings, kind: 'smoked' });
    return checks.map((check) => ({ check, working }));
  });
  const typedTimes = timesTyped(evidence);
  return (Object.keys(LIMIT_OF) as Step[]).filter((step) => step !== 'cool.hg to-21' || logged.length > 0).map((step) => {
    const limit = limitOf(club, LIMIT_OF[step]);
    const [ruleId, part] = step.split(' ') as [string, string];
    const told = [...logged.filter(({ check }) => check.ruleId === ruleId && check.part === part).map((l) => ofLog(l.check, l.working, limit.value)), ...typedTimes.map((times) => typed(step, times, limit.value))];
    return { ruleId, part, limit: WORDS[step](limit.value), tightened: limit.tightened, ...strictest(told) };
  });
}

function ofLog(check: CoolingCheck, working: Working, limitMinutes: number): Told {
  // A club's own limit is held against the time that the log leaves open at the most.
  const tooSlow = check.state === 'met' && (check.minutes ?? Infinity) > limitMinutes;
  const state: CheckState = tooSlow ? 'not-met' : check.state;
  return { state, found: check.found, whatToDo: state === 'met' ? '' : state === 'not-met' ? TOO_SLOW : check.whatToDo, working };
}

/** A step that one log or person shows too slow is too slow; one whose log may be in another unit is open; one that any shows in time is; else it is not recorded. */
function strictest(told: readonly Told[]): Told {
  return told.find((t) => t.state === 'not-met') ?? told.find((t) => t.found === UNIT_IN_DOUBT) ?? told.find((t) => t.state === 'met') ?? told[0]!;
}

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

function typed(step: Step, { finishedAt, cooledTo21At, cooledAt }: TypedTimes, limitMinutes: number): Told {
  const missing = (found: string, whatToDo: string): Told => ({ state: 'not-recorded', found, whatToDo, working: null });
  // Smoking may have ended below 60 C: then it was there before.
  if (step === 'cool.hg to-21') return missing('not recorded', 'Record core readings from 60 C on.');
  if (step === 'cool.hg to-end') return typedSecond(cooledTo21At, cooledAt, limitMinutes, missing);
  if (finishedAt === null) return missing('not recorded', 'Enter when smoking ended and when the fish was cold again, or record core readings.');
  // At 5 C it had passed 21 C.
  const reached = step === 'cool.fc to-21' ? (cooledTo21At ?? cooledAt) : cooledAt;
  const target = step === 'cool.fc to-21' ? 21 : 5;
  if (reached === null) return missing('not recorded', `Enter when the fish was back at ${target} C or less, or record core readings.`);
  const minutes = (reached.getTime() - finishedAt.getTime()) / 60_000;
  const found = `${duration(minutes)} after smoking ended`;
  if (minutes <= limitMinutes) return { state: 'met', found, whatToDo: '', working: null };
  if (step === 'cool.fc to-21' && cooledTo21At === null) return missing('not recorded', 'Enter when the fish was back at 21 C or less, or record core readings.');
  return { state: 'not-met', found, whatToDo: TOO_SLOW, working: null };
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
const hours = (minutes: number) => (minutes % 60 === 0 ? `${minutes / 60} hours` : `${minutes} minutes`);
