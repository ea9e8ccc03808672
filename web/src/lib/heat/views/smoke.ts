/** The smoke and the cooling after it. */
import type { CoolingCheck } from '$domain/heat/cooling-checks.ts';
import { lethality, type Lethality } from '$domain/heat/lethality.ts';
import { heatLimits } from '$lib/rules/limits.ts';
import { showNumber } from '$lib/show.ts';
import { coolingFrom, coolingTold, coreTold, logsOf, smokedLogs, type ProbeLog } from '../log.ts';
import { hours, nameOf, sayCooling, sayHold, wholeMinutes } from '../say.ts';
import { degreesIn, linesOf, probeName, type PlaceView, type ViewContext } from './view.ts';

const MOST_FLAGS = 6;
const list = (words: readonly string[]): string => (words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`);

/** Core probes that were in the fish, the chamber's, the level to hold, and what the heat was worth. */
export function smokeView(context: ViewContext): PlaceView {
  const { lists, stages, show } = context;
  const limits = heatLimits(context.rules);
  const cores = logsOf(lists, 'core', stages);
  const smoked = smokedLogs(cores, stages);
  const told = coreTold(smoked, limits.hold);
  // The one that counts is drawn first.
  const inOrder = told ? [told.log, ...smoked.filter((log) => log !== told.log)] : smoked;
  const toMs = lastFallMs(smoked);
  const hold = told?.hold;
  const running = stages.some((stage) => stage.kind === 'smoke' && stage.finishedAt === null);
  const moments = hold?.fromAt && hold.toAt ? [hold.fromAt, hold.toAt].map((at) => ({ at: Date.parse(at), name: show.time(at) })) : [];
  const limit = show.temperature(limits.hold.limitC);
  return {
    key: 'smoke', title: '', says: sayHold(told, show, running), moments,
    series: [...linesOf(inOrder, { place: 'core', name: 'Core', tone: 'ember', toMs }, context), ...linesOf(logsOf(lists, 'chamber', stages), { place: 'chamber', name: 'Chamber', tone: 'ink', toMs }, context)],
    levels: [{ at: degreesIn(context.system)(limits.hold.limitC), name: `${limit} for ${limits.hold.neededMinutes} min` }],
    rows: told === null ? [] : [
      ...(told.hold.maxCoreC === null ? [] : [{ label: 'Highest core', value: show.temperature(told.hold.maxCoreC), working: told.hold.working }]),
      { label: 'Held without a break', value: `${wholeMinutes(told.hold.longestMinutes)} min`, ...(running && told.hold.state === 'not-met' ? {} : { state: told.hold.state }), about: `Held at ${limit} or more`, working: told.hold.working },
      ...effectRows(smoked, show.temperature, told.hold.state === 'met'),
    ],
    notes: [...flagNotes(told?.hold.flags ?? [], show.time), ...coolingOnlyNotes(cores.filter((log) => !smoked.includes(log)))],
  };
}

/** When the last of the cores was down to 57 C: from then on it is the cooling's plot. */
function lastFallMs(logs: readonly ProbeLog[]): number {
  const falls = logs.map((log) => coolingFrom(log)?.belowMs ?? null);
  return falls.length === 0 || falls.includes(null) ? Infinity : Math.max(...(falls as number[]));
}

function effectRows(smoked: readonly ProbeLog[], temperature: (celsius: number) => string, held: boolean): PlaceView['rows'] {
  const all = smoked.map((log) => lethality({ readings: log.readings, unitConfirmed: log.unitConfirmed }));
  const least = all.reduce<Lethality | null>((a, b) => (a === null || b.equivalentMinutes < a.equivalentMinutes ? b : a), null);
  if (least === null || least.state === 'not-recorded') return [];
  const { working } = least;
  // Heat that was worth much is no hold: a large figure under one that is not met must not comfort.
  const beside = held ? {} : { beside: 'does not count in place of the hold' };
  return [
    // Rounded down, so that a value just short never reads as the limit.
    { label: 'Effect of the heat', value: `${showNumber(Math.floor(least.equivalentMinutes * 10) / 10)} min`, about: `Minutes at ${temperature(least.referenceC)} that it was worth, for information`, working, ...beside },
    { label: 'Tenfold reductions of Listeria', value: showNumber(Math.floor(least.decimalReductions * 10) / 10), about: `Tenfold reductions, six in ${least.neededMinutes} minutes, for information`, working, ...beside },
  ];
}

function flagNotes(flags: readonly { kind: string; at: string; text: string }[], time: (at: string) => string): PlaceView['notes'] {
  const odd = flags.filter((f) => f.kind === 'gap' || f.kind === 'spike' || f.kind === 'conflict');
  return [...odd.slice(0, MOST_FLAGS).map((f) => ({ text: `${time(f.at)}: ${f.text}` })), ...(odd.length > MOST_FLAGS ? [{ text: `And ${odd.length - MOST_FLAGS} more like this.` }] : [])];
}

function coolingOnlyNotes(logs: readonly ProbeLog[]): PlaceView['notes'] {
  if (logs.length === 0) return [];
  return [{ level: 'note', text: `${list(logs.map((log) => probeName('Core', log.probe)))} ${logs.length === 1 ? 'was' : 'were'} put in after smoking ended: ${logs.length === 1 ? 'it tells' : 'they tell'} of the cooling and not of the hold.` }];
}

/** Two agencies' limits stand side by side: which decides, and what the other is for. Nothing where there is one alone. */
function whichDecides(checks: readonly CoolingCheck[], { temperature }: ViewContext['show']): PlaceView['notes'] {
  const [fc, hg] = ['cool.fc', 'cool.hg'].map((ruleId) => checks.filter((check) => check.ruleId === ruleId).map((check) => nameOf(check, temperature)));
  if (fc!.length === 0 || hg!.length === 0) return [];
  return [{ level: 'note', text: `What decides: ${list(fc!)}. Of another agency, and counted only where it shows the fish too slow: ${list(hg!)}.` }];
}

/** Every core from its hottest on, with the two levels; null before any cooled. */
export function coolingView(context: ViewContext): PlaceView | null {
  const { lists, stages, show } = context;
  const limits = heatLimits(context.rules);
  const cores = logsOf(lists, 'core', stages);
  const cooling = coolingTold(cores, limits.cooling);
  if (cooling === null) return null;
  const cooled = [cooling.log, ...cores.filter((log) => log !== cooling.log && coolingFrom(log) !== null)];
  const fromMs = Math.min(...cooled.map((log) => coolingFrom(log)!.peakMs));
  const at = degreesIn(context.system);
  const [first, end] = [limits.cooling.endsC['cool.fc to-21'], limits.cooling.endsC['cool.fc to-end']];
  const which = cooled.length > 1 ? ` That is the slowest of ${cooled.length} probes${cooling.log.probe ? `, ${cooling.log.probe}` : ''}.` : '';
  return {
    key: 'cooling', title: 'Cooling', says: `${sayCooling(cooling.told, show)}${which}`, moments: [],
    notes: whichDecides(cooling.told.checks, show),
    series: linesOf(cooled, { place: 'core', name: 'Core', tone: 'tide', fromMs }, context),
    levels: [{ at: at(first), name: `${show.temperature(first)} within ${hours(limits.cooling.to21)}` }, { at: at(end), name: `${show.temperature(end)} within ${hours(limits.cooling.to5)}` }],
    rows: cooling.told.checks.map((check) => ({ label: `${nameOf(check, show.temperature)}, at most ${hours(check.limitMinutes)}`, value: check.found, state: check.state, about: check.limit, working: cooling.told.working })),
  };
}
