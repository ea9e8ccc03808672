/** One sentence above a plot: what it shows, and never more than the log does. */
import type { CoolingCheck, CoolingChecks } from '$domain/heat/cooling-checks.ts';
import type { CoolingForecast } from '$domain/heat/cooling-forecast.ts';
import { MAX_GAP_MINUTES } from '$domain/heat/series.ts';
import type { SmokeForecast } from '$domain/heat/smoke-forecast.ts';
import type { CoreTold } from './log.ts';

export interface Show {
  temperature: (celsius: number) => string;
  time: (at: string) => string;
}

/** Rounded down, so that a minute short never reads as the limit. */
export const wholeMinutes = (minutes: number): number => Math.floor(minutes + 1e-6);
const counted = (minutes: number): string => `${wholeMinutes(minutes)} ${wholeMinutes(minutes) === 1 ? 'minute' : 'minutes'}`;

/** While the smoke runs nothing has failed: `running` says so. */
export function sayHold(told: CoreTold | null, show: Show, running = false): string {
  if (told === null) return 'No core temperature is recorded yet.';
  const words = running && told.hold.state === 'not-met' ? soFar(told, show) : holdWords(told, show);
  if (told.probes === 1) return words;
  return `${words} That is the coldest of ${told.probes} probes${told.log.probe ? `, ${told.log.probe}` : ''}.`;
}

/** Whether the core was hot beside a gap: then it may have held, and the log cannot show it. */
function brokenByGap({ hold, log }: CoreTold): boolean {
  const hot = new Set(log.readings.filter((r) => r.celsius >= hold.limitC).map((r) => r.at.getTime()));
  return hold.gaps.some((gap) => hot.has(Date.parse(gap.fromAt)) || hot.has(Date.parse(gap.toAt)));
}
const READ_OFTEN = `Read it at least every ${MAX_GAP_MINUTES} minutes.`;

function soFar(told: CoreTold, { temperature }: Show): string {
  const { limitC, maxCoreC, fromAt, longestMinutes, endsInHold, neededMinutes } = told.hold;
  const limit = temperature(limitC);
  if (fromAt === null && maxCoreC! < limitC) return `Not yet: the core has to reach ${limit}. The highest so far is ${temperature(maxCoreC!)}.`;
  const words = fromAt === null
    ? `Not yet: the core reached ${limit} and has to stay there for ${neededMinutes} minutes.`
    : `Not yet: ${counted(longestMinutes)} ${endsInHold ? 'so far' : 'without a break'} at ${limit} or more. It needs ${neededMinutes}.`;
  return brokenByGap(told) ? `${words} What lies between readings more than ${MAX_GAP_MINUTES} minutes apart does not count. ${READ_OFTEN}` : words;
}

function holdWords(told: CoreTold, { temperature, time }: Show): string {
  const { hold, log } = told;
  const limit = temperature(hold.limitC);
  if (hold.state === 'not-recorded') {
    if (hold.flags.some((f) => f.kind === 'fahrenheit')) return 'Not judged: some of it looks like °F.';
    if (hold.flags.some((f) => f.kind === 'unit-doubtful')) return `Not judged: a core of ${temperature(hold.maxCoreC ?? 0)} is rare. Say that it is in °C.`;
    return log.readings.length === 1 ? 'One core reading alone shows no hold. Read on.' : 'Fewer than two usable core readings.';
  }
  if (hold.state === 'met') return `Core passed ${limit} at ${time(hold.fromAt!)} and held ${counted(hold.longestMinutes)}.`;
  if (brokenByGap(told)) {
    const shown = wholeMinutes(hold.longestMinutes) === 0 ? `the ${hold.neededMinutes} minutes are not shown` : `only ${wholeMinutes(hold.longestMinutes)} of the ${hold.neededMinutes} minutes are shown`;
    return `Not shown to have held: the core reached ${temperature(hold.maxCoreC!)}, but readings are more than ${MAX_GAP_MINUTES} minutes apart, so ${shown}. ${READ_OFTEN}`;
  }
  if (hold.maxCoreC! < hold.limitC) return `Not held: the core never reached ${limit}. The highest was ${temperature(hold.maxCoreC!)}.`;
  if (hold.endsInHold) return `Not held: the log ends after ${counted(hold.longestMinutes)} at ${limit} or more. It needs ${hold.neededMinutes}.`;
  return `Not held: ${counted(hold.longestMinutes)} without a break at ${limit} or more. It needs ${hold.neededMinutes}.`;
}

export function sayCooling(told: CoolingChecks, { temperature }: Show): string {
  const name = (check: CoolingCheck) => nameOf(check, temperature);
  const slow = told.checks.filter((c) => c.state === 'not-met');
  if (slow.length > 0) return `Too slow: ${slow.map((c) => `${name(c)}: ${c.found}, at most ${hours(c.limitMinutes)}`).join('; ')}.`;
  const open = told.checks.find((c) => c.state === 'not-recorded');
  const fc = told.checks.filter((c) => c.ruleId === 'cool.fc' && c.state === 'met');
  const done = fc.map((c) => `${name(c)} in ${c.found}`).join(', ');
  if (open) return `${done ? `${done}. ` : ''}Not shown yet, ${name(open)}: ${open.found}`.replace(/\.?$/, '.');
  return `Fast enough: ${done}.`;
}

/** "57 °C to 21 °C" */
export const nameOf = ({ fromC, toC }: Pick<CoolingCheck, 'fromC' | 'toC'>, temperature: Show['temperature']): string => `${temperature(fromC)} to ${temperature(toC)}`;

export const hours = (minutes: number): string => (minutes % 60 === 0 ? `${minutes / 60} h` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`);

/** "1 h 52 min", to the minute and rounded up: a forecast is never early by rounding. */
export const span = (minutes: number): string => {
  const whole = Math.ceil(minutes - 1e-6);
  return whole < 60 ? `${whole} min` : `${Math.floor(whole / 60)} h ${String(whole % 60).padStart(2, '0')} min`;
};
/** The band beside a likely figure: each end stays whole on its line, and one that reads the same at both ends is none. */
export const spread = (low: string, high: string): string => (low === high ? '' : `(${[low, high].map((end) => end.replaceAll(' ', '\u00a0')).join(' to ')})`);

/** Times of a forecast: after so long, or by the clock where it is known when the fish went in. */
export type ShowForecast = Pick<Show, 'temperature'> & { clock?: (minutes: number) => string };
const whenOf = ({ clock }: ShowForecast) => (minutes: number): string => (clock ? `at ${clock(minutes)}` : `after ${span(minutes)}`);

export function saySmokeForecast(f: SmokeForecast, show: ShowForecast): string {
  const [limit, when] = [show.temperature(f.limitC), whenOf(show)];
  const { likely, slow } = f;
  if (likely.minutesToLimit === null) return `The core is not likely to reach ${limit} in ${span(f.lastsMinutes)}: ${show.temperature(Math.round(likely.maxCoreC * 10) / 10)} at the most.`;
  // Of a smoke that runs: what lies behind us is still the forecast's word, not the probe's.
  const isPast = show.clock !== undefined && likely.minutesToLimit <= (f.loggedMinutes ?? 0);
  const passes = `${isPast ? 'By this forecast the core passed' : 'The core is likely to pass'} ${limit} ${when(likely.minutesToLimit)}`;
  const whole = f.loggedMinutes === null || f.loggedMinutes < f.lastsMinutes ? 'program' : 'log';
  if (likely.minutesToHold === null) return `${passes}, and the ${whole} ends before ${f.holdMinutes} minutes are through.`;
  const sure = slow.minutesToHold === null ? ` If it goes slowly it is not through when the ${whole} ends${whole === 'program' ? ': make the last stage longer' : ''}.` : '';
  return `${passes} and ${isPast ? 'is' : 'to be'} through ${f.holdMinutes} minutes ${when(likely.minutesToHold)}.${sure}`;
}

export function sayStall(f: SmokeForecast, show: ShowForecast): string {
  const { stall } = f.likely;
  const time = (minutes: number) => (show.clock ? show.clock(minutes) : span(minutes));
  if (stall === null) return 'No stall is expected: the core rises until it is through.';
  if (stall.coreC >= f.limitC) return `No stall is expected before ${show.temperature(f.limitC)}. The core levels off near ${show.temperature(stall.coreC)} ${whenOf(show)(stall.fromMinutes)}: the heat goes into the water that leaves.`;
  return `The core is likely to stand still near ${show.temperature(stall.coreC)}, from ${time(stall.fromMinutes)} to ${time(stall.toMinutes)}. ${stall.text}`;
}

/** The same in a line, for the bar at the thumb. */
export function sumForecast(f: SmokeForecast, show: ShowForecast): string {
  const { minutesToLimit: to, minutesToHold: through } = f.likely;
  const when = whenOf(show);
  if (to === null) return `Not likely to reach ${show.temperature(f.limitC)}.`;
  return `${show.temperature(f.limitC)} ${when(to)}, ${through === null ? 'not through' : `through ${when(through)}`}.`;
}

/** Of water lost per kilogram of flesh, in per cent of the weight. */
export const lossPct = (gPerKg: number): string => `${Math.round(gPerKg / 10)} %`;

export function sayCoolingForecast(f: CoolingForecast, { temperature }: Pick<Show, 'temperature'>): string {
  const { minutesTo21C: at21, minutesTo5C: at5 } = f.likely;
  const when = at21 === null ? `not down to ${temperature(21)} in 12 h` : `${temperature(21)} after ${span(at21)}, ${at5 === null ? `not ${temperature(5)} in 12 h` : `${temperature(5)} after ${span(at5)}`}`;
  return `${f.passes ? 'Likely fast enough, even if it goes slowly' : 'It may cool too slowly'}: ${when}.`;
}
