import { rounded } from '../bounds.ts';
import { longestHold, mayHaveHeld } from '../heat/hold.ts';
import type { Hold } from '../heat/hold.ts';
import { lethality } from '../heat/lethality.ts';
import { DOUBTFUL_CORE_C, HOTTEST_CORE_C, MAX_GAP_MINUTES } from '../heat/series.ts';
import type { BatchEvidence, EvidenceSmoke } from './evidence.ts';
import { limitOf } from './limits.ts';
import { smokedLogs } from './logs.ts';
import type { ClubLimits, Finding } from './rule.ts';

const TYPED_AT_C = 62.8;

/**
 * smoke.core in its two parts, from core readings where there are any, else from what was typed; where there are both, the
 * stricter. Of several probes that were in the fish during the smoke the coldest counts; one put in for the cooling does not.
 * An unfinished smoke is not recorded.
 */
export function smokeCore(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  const [core, held] = [limitOf(club, 'smoke.core.celsius'), limitOf(club, 'smoke.core.minutes')];
  const logged = coldestHold(evidence, core.value, held.value);
  const tightened = core.tightened || held.tightened;
  const findings = [corePart(evidence, logged, core), holdPart(evidence, logged, core.value, held.value, tightened)];
  if (!evidence.smoke || evidence.smoke.finishedAt !== null) return findings;
  const unfinished = { ruleId: 'smoke.core', part: 'ended', state: 'not-recorded', found: 'smoking is not finished', limit: 'smoking recorded to its end', whatToDo: 'Finish the smoke stage.', tightened: false, working: null } as const;
  return [...findings.map(soFar), unfinished];
}

/** While the smoke runs nothing has failed yet. */
function soFar(finding: Finding): Finding {
  return finding.state === 'not-met' ? { ...finding, state: 'not-recorded', found: `${finding.found}, so far`, whatToDo: 'Smoking is not finished.' } : finding;
}

/** The hold of the probe that was hot for the shortest time, or whose unit is in doubt; null when no core was logged in the smoke. */
function coldestHold(evidence: BatchEvidence, limitC: number, neededMinutes: number): Hold | null {
  const holds = smokedLogs(evidence).map((log) => longestHold({ ...log, limitC, neededMinutes }));
  const usable = holds.filter((hold) => hold.maxCoreC !== null || unitInDoubt(hold));
  const rank = (hold: Hold) => (hold.state === 'met' ? 1 : 0) * 1e9 + hold.longestMinutes;
  return usable.reduce<Hold | null>((worst, hold) => (worst === null || hold.state === 'not-recorded' || (worst.state !== 'not-recorded' && rank(hold) < rank(worst)) ? hold : worst), null);
}

function corePart({ smoke }: BatchEvidence, logged: Hold | null, core: { value: number; tightened: boolean }): Finding {
  const shared = { ruleId: 'smoke.core', part: 'core', limit: `at least ${core.value} C in the thickest part of the largest piece`, tightened: core.tightened, working: logged?.working ?? null };
  if (logged && unitInDoubt(logged)) return { ...shared, evidenceAt: 'readings', state: 'not-recorded', found: logged.found, whatToDo: logged.whatToDo };
  const values = [logged?.maxCoreC ?? null, smoke?.maxCoreC ?? null].filter((value) => value !== null);
  if (values.length === 0) return { ...shared, state: 'not-recorded', found: 'not recorded', whatToDo: 'Enter the highest core temperature of the largest piece, or its readings.' };
  const lowest = Math.min(...values);
  const met = lowest >= core.value;
  if (met && smoke && typedInDoubt(smoke)) return { ...shared, state: 'not-recorded', found: `${shown(smoke.maxCoreC!)} typed, which may be Fahrenheit`, whatToDo: ASK_UNIT };
  const found = values.length === 2 && values[0] !== values[1] ? `${shown(values[0]!)} logged, ${shown(values[1]!)} typed` : shown(lowest);
  return { ...shared, state: met ? 'met' : 'not-met', found, whatToDo: met ? '' : Math.max(...values) >= core.value ? CONTRADICTION : `Hold it. It did not get hot enough to count as hot-smoked. ${WENT_BACK}` };
}

/** As hot as a log's unit would be doubted at. */
const typedInDoubt = ({ maxCoreC, coreUnitConfirmed }: EvidenceSmoke) => maxCoreC !== null && (maxCoreC > HOTTEST_CORE_C || (maxCoreC >= DOUBTFUL_CORE_C && !coreUnitConfirmed));
const ASK_UNIT = 'Correct it at the smoke stage, or say there that the thermometer shows Celsius.';

const WENT_BACK = 'If it went straight back into the smoker, correct the end of the smoke and enter what the core was then. Otherwise it is not for sharing.';
const CONTRADICTION = 'Hold it. The log and the typed figure contradict each other: the stricter counts. Correct the typed one at the smoke stage, or withdraw the log if it is of something else.';

/** A log read in Fahrenheit has endless decimals in Celsius. */
const shown = (celsius: number) => `${rounded(celsius, 2)} C`;

function holdPart(evidence: BatchEvidence, logged: Hold | null, limitC: number, needed: number, tightened: boolean): Finding {
  const shared = { ruleId: 'smoke.core', part: 'hold', limit: `at least ${needed} unbroken minutes at ${limitC} C or more`, tightened, working: logged?.working ?? null };
  const typed = typedHold(evidence.smoke?.holdMinutes ?? null, limitC, needed);
  if (!logged) return { ...shared, ...typed };
  if (logged.state === 'not-met' && typed.state === 'met' && smokedLogs(evidence).every((log) => mayHaveHeld({ ...log, limitC, neededMinutes: needed }))) return { ...shared, state: 'not-met', found: `${logged.found} logged, ${typed.found} typed`, whatToDo: LEFT_OPEN };
  if (logged.state !== 'met') return { ...shared, state: logged.state, found: logged.found, whatToDo: logged.whatToDo };
  // Where both are there the stricter counts; minutes typed for another limit say nothing against the log.
  if (typed.state === 'not-met') return { ...shared, ...typed, found: `${typed.found} typed, ${logged.found} logged`, whatToDo: CONTRADICTION };
  return { ...shared, state: 'met', found: logged.found, whatToDo: '' };
}

const LEFT_OPEN = `A gap in the log leaves it open, and the stricter counts. Read the core at least every ${MAX_GAP_MINUTES} minutes next time; withdraw the log if it is of something else.`;

function typedHold(minutes: number | null, limitC: number, needed: number): Pick<Finding, 'state' | 'found' | 'whatToDo'> {
  if (minutes === null) return { state: 'not-recorded', found: 'not recorded', whatToDo: `Enter the minutes the core stayed at ${limitC} C or more, or its readings.` };
  const found = `${minutes} minutes`;
  if (minutes < needed) return { state: 'not-met', found, whatToDo: `Hold it. It was not hot for long enough. ${WENT_BACK}` };
  // Typed minutes are minutes at 62.8 C: they say nothing of a club's hotter limit.
  if (limitC > TYPED_AT_C) return { state: 'not-recorded', found: `${found} at ${TYPED_AT_C} C`, whatToDo: `The club asks for ${limitC} C: record core readings.` };
  return { state: 'met', found, whatToDo: '' };
}

const unitInDoubt = (hold: Hold) => hold.state === 'not-recorded' && hold.flags.some((flag) => flag.kind === 'fahrenheit' || flag.kind === 'unit-doubtful');

/** Six in the rule's minutes, and in proportion. */
const reductions = (minutes: number, sixIn: number) => (minutes === sixIn ? 'six' : `${rounded((6 * minutes) / sixIn, 1)}`);

/** smoke.lethality, for information: of several probes in the smoke the least. Nothing without core readings. */
export function smokeLethality(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  const all = smokedLogs(evidence).map((log) => lethality(log));
  const least = all.sort((a, b) => a.equivalentMinutes - b.equivalentMinutes)[0];
  if (!least) return [];
  const { value, tightened } = limitOf(club, 'smoke.lethality.minutes');
  const state = least.state === 'met' && least.equivalentMinutes < value ? 'not-met' : least.state;
  return [{
    ruleId: 'smoke.lethality', part: 'listeria', state, found: least.found, limit: `${value} minutes at ${least.referenceC} C: ${reductions(value, least.neededMinutes)} decimal reductions of Listeria monocytogenes`,
    whatToDo: state === 'met' ? '' : 'For information: the rule of 62.8 C for 30 minutes decides.', tightened, working: least.working,
  }];
}
