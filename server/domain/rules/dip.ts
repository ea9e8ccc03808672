import { coolingToBothEnds, heldTo, WANDERS_C } from '../heat/cooling-checks.ts';
import type { BatchEvidence, EvidenceMix } from './evidence.ts';
import { limitOf } from './limits.ts';
import { between, oneProbe, PROBE_OUT, seriesOf } from './logs.ts';
import { ruleOf } from './registry.ts';
import type { ClubLimits, Finding } from './rule.ts';

type Told = Pick<Finding, 'state' | 'found' | 'whatToDo' | 'working'>;

const DOUBT = { state: 'not-recorded', found: 'The unit of the log is in doubt.', whatToDo: 'Put the unit of the log right.' } as const;

/**
 * cool.ambient of a dip: at 5 C within 4 hours, counted from the start of mixing, by readings of its middle and by the time
 * that was typed; where there are both, the stricter.
 */
export function cooledDip(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  const { mix } = evidence;
  if (!mix) return [];
  const [{ value, tightened }, end] = [limitOf(club, 'cool.ambient.minutes'), limitOf(club, 'cool.ambient.celsius')];
  const started = mix.startedAt.getTime();
  const logged = seriesOf(evidence, 'core', ['mix', 'pack']).flatMap((lists) => {
    const { readings } = oneProbe(lists.flatMap((list) => between(list, started, Infinity) ?? []));
    if (readings.length === 0) return [];
    const { checks, byRule, working, flags } = coolingToBothEnds({ readings, kind: 'ambient', startedAt: mix.startedAt, clubEndsC: { 'cool.ambient to-end': end.value } });
    if (flags.some((flag) => flag.kind === 'fahrenheit')) return [{ ...DOUBT, working }];
    const slow = `${ruleOf('cool.ambient').whatToDo} ${PROBE_OUT.fish}`;
    return [
      ...checks.map((check): Told => ({ state: heldTo(check, value), found: check.found, whatToDo: heldTo(check, value) === 'not-met' ? slow : check.whatToDo, working })),
      // Too slow down to 5 C was too slow, whatever colder end the club asks for.
      ...byRule.filter((check) => heldTo(check, value) === 'not-met').map((check): Told => ({ state: 'not-met', found: `to ${check.toC} C: ${check.found}`, whatToDo: slow, working })),
    ];
  });
  const told = [...logged, typed(mix.startedAt, mix.cooledAt, value, end.value), ...warmAfter(evidence, mix)];
  const counts = told.find((t) => t.found === DOUBT.found) ?? told.find((t) => t.state === 'not-met') ?? told.find((t) => t.whatToDo === CONTRADICTION) ?? told.find((t) => t.state === 'met') ?? told[0]!;
  return [{ ruleId: 'cool.ambient', part: 'to-end', limit: `${end.value} C within ${value % 60 === 0 ? `${value / 60} hours` : `${value} minutes`} from the start of mixing`, tightened: tightened || end.tightened, ...counts }];
}

const ALLOWED_MS = 4 * 3_600_000;
const HOTTEST_C = 100;
const CONTRADICTION = `Hold it. Correct the time typed with the mixing. ${PROBE_OUT.fish}`;

/** A reading of it that is warm after the time that was typed, within the hours that it may take. */
function warmAfter(evidence: BatchEvidence, { startedAt, cooledAt }: EvidenceMix): Told[] {
  if (cooledAt === null) return [];
  const until = startedAt.getTime() + ALLOWED_MS + 1;
  const lists = evidence.readings.filter((list) => list.place === 'core' || list.place === 'surface').flatMap((list) => between(list, cooledAt.getTime(), until) ?? []);
  const warmest = lists.flatMap((list) => list.celsius).reduce((most, celsius) => (celsius <= HOTTEST_C ? Math.max(most, celsius) : most), -Infinity);
  return warmest <= 5 + WANDERS_C ? [] : [{ state: 'not-recorded', found: `${Math.round(warmest * 10) / 10} C was read after the time typed for 5 C`, whatToDo: CONTRADICTION, working: null }];
}

const TYPED_C = 5;
function typed(startedAt: Date, cooledAt: Date | null, limitMinutes: number, endC: number): Told {
  const record = `The club asks for ${endC} C: record its readings.`;
  if (cooledAt === null) return { state: 'not-recorded', found: 'not recorded', whatToDo: endC < TYPED_C ? record : 'Enter with the mixing when it was at 5 C or less, or record its readings.', working: null };
  const minutes = Math.ceil((cooledAt.getTime() - startedAt.getTime()) / 60_000 - 1e-6);
  const met = minutes <= limitMinutes;
  const found = `${Math.floor(minutes / 60)} h ${minutes % 60} min after mixing began`;
  if (met && endC < TYPED_C) return { state: 'not-recorded', found: `${TYPED_C} C ${found}`, whatToDo: record, working: null };
  return { state: met ? 'met' : 'not-met', found, whatToDo: met ? '' : ruleOf('cool.ambient').whatToDo, working: null };
}
