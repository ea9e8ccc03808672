/** Where it was kept or cured, the brine, the surface of the fish. */
import { cleanSeries } from '$domain/heat/series.ts';
import { spoilageUsed, type SpoilageUsed } from '$domain/spoilage.ts';
import { limitOr } from '$lib/rules/limits.ts';
import { showNumber, showSpan } from '$lib/show.ts';
import { logsWhere, type ListWithReadings, type ProbeLog } from '../log.ts';
import { degreesIn, linesOf, type PlaceView, type ViewContext } from './view.ts';

/** Stores are logged more seldom than a smoke: as the days used up are reckoned. */
const STORE_GAP_MINUTES = 120;
/** As the rule on parasites joins readings. */
const FREEZER_GAP_MINUTES = 60;
const MOST_STRETCHES = 3;
const days = (value: number): string => `${showNumber(value, 2)} ${value === 1 ? 'day' : 'days'}`;

type Limit = { atC: number; name: string };

/** The places of the cures, then those where it is kept. */
export function storeViews(context: ViewContext): PlaceView[] {
  const cures = new Set(context.stages.filter((s) => s.kind === 'cure').map((s) => s.id));
  const inCure = (list: ListWithReadings) => list.stageId !== null && cures.has(list.stageId);
  const level = (id: string, words: (at: string) => string): Limit => ({ atC: limitOr(context.rules, id), name: words(context.show.temperature(limitOr(context.rules, id))) });
  return [
    storeView(context, 'cure-store', 'Where it was cured', logsWhere(context.lists, 'storage', inCure), [level('brine.cold.celsius', (at) => `at most ${at}, over ${showNumber(limitOr(context.rules, 'brine.cold.hours'))} h`)]),
    storeView(context, 'store', 'Where it is kept', logsWhere(context.lists, 'storage', (l) => !inCure(l)), [level('hold.cold.celsius', (at) => `at most ${at}`), level('date.fourteen.celsius', (at) => `${at} for up to 14 days`)]),
  ].filter((view) => view !== null);
}

function storeView(context: ViewContext, key: string, title: string, logs: readonly ProbeLog[], limits: readonly Limit[]): PlaceView | null {
  if (logs.length === 0) return null;
  const at = degreesIn(context.system);
  const used = logs.map((log) => ({ log, used: spoilageUsed({ readings: log.readings }) }));
  // Of several probes the warmest place counts.
  const worst = used.reduce((a, b) => (b.used.usedWithGapsDays > a.used.usedWithGapsDays ? b : a));
  return {
    key, title, says: warmestWords(logs, limits[0]!.atC, 'air', context), moments: [], series: linesOf(logs, { place: 'air', name: 'Store', tone: 'tide', gapMinutes: STORE_GAP_MINUTES }, context),
    levels: limits.map(({ atC, name }) => ({ at: at(atC), name })), rows: usedRows(worst.used, context), notes: usedNotes(worst, logs.length),
  };
}

function usedRows(used: SpoilageUsed, { show }: ViewContext): PlaceView['rows'] {
  const { working } = used;
  if (used.loggedHours === 0 && used.gaps.length === 0) return [];
  const dear = used.warmest.filter((w) => w.extraDays > 0).slice(0, MOST_STRETCHES);
  return [
    { label: `Used up in ${showSpan(used.loggedHours * 3_600_000)}`, value: `${used.isAtLeast ? 'at least ' : ''}${days(used.usedDays)} on ice`, about: 'Days on ice used up', working },
    ...(used.gaps.length === 0 ? [] : [{ label: 'With what was not logged, at most', value: `${days(used.usedWithGapsDays)} on ice`, about: 'Days on ice used up, gaps as warm as their warmer end', working }]),
    ...dear.map((w) => ({ label: `Warm ${show.dayTime(w.fromAt)} to ${show.dayTime(w.toAt)}, up to ${show.temperature(w.highestC)}`, value: `cost ${days(w.extraDays)}`, about: 'What the warm stretch cost', working })),
  ];
}

function usedNotes({ log, used }: { log: ProbeLog; used: SpoilageUsed }, probes: number): PlaceView['notes'] {
  if (used.loggedHours === 0 && used.gaps.length === 0) return [];
  return [
    ...(probes > 1 ? [{ level: 'note' as const, text: `Days used up are those of the warmest of ${probes} probes${log.probe ? `, ${log.probe}` : ''}.` }] : []),
    { level: 'note', text: 'Days on ice tell of quality, as published for raw fish. They move no use-by day.' },
    ...(used.isAtLeast ? [{ text: 'It was warmer than 15 °C, where the relation ends: more was used up than this.' }] : []),
  ];
}

/** The warmest that all probes together were, and on which side of a limit. */
function warmestWords(logs: readonly ProbeLog[], limitC: number | null, place: 'air' | 'core' | 'fish', { show }: ViewContext): string {
  const found = logs.map((log) => ({ log, series: cleanSeries(log.readings, { place, strict: 'higher', unitConfirmed: log.unitConfirmed }) }));
  if (found.some(({ series }) => series.unitInDoubt)) return 'Not judged: some of it looks like °F.';
  const all = found.flatMap(({ log, series }) => series.celsius.map((celsius, i) => ({ celsius, probe: log.probe, at: new Date(Date.parse(series.startAt!) + series.minutes[i]! * 60_000).toISOString() })));
  if (all.length === 0) return 'No usable reading.';
  const top = all.reduce((a, b) => (b.celsius > a.celsius ? b : a));
  const where = logs.length > 1 && top.probe ? ` on ${top.probe}` : '';
  const warmest = `${all.length === 1 ? 'It was at' : 'The warmest was'} ${show.temperature(top.celsius)} on ${show.dayTime(top.at)}${where}`;
  if (limitC === null) return `${warmest}.`;
  return top.celsius <= limitC ? `${warmest}, within the limit of ${show.temperature(limitC)}.` : `${warmest}, above the limit of ${show.temperature(limitC)}.`;
}

/** The brine's temperature; the limit is for its first reading in each cure, when the fish goes in. */
export function brineView(context: ViewContext): PlaceView | null {
  const logs = logsWhere(context.lists, 'brine', () => true);
  if (logs.length === 0) return null;
  const limitC = limitOr(context.rules, 'brine.start.celsius');
  const limit = context.show.temperature(limitC);
  const firsts = [...Map.groupBy(context.lists.filter((l) => l.place === 'brine' && !l.withdrawn), (l) => l.stageId)].map(([, lists]) => lists.flatMap((l) => l.readings.filter((r) => !r.withdrawn)).reduce((a, b) => (b.at < a.at ? b : a)));
  const warmest = firsts.reduce((a, b) => (b.celsius > a.celsius ? b : a));
  return {
    key: 'brine', title: 'Brine', moments: [], notes: [], rows: [], series: linesOf(logs, { place: 'core', name: 'Brine', tone: 'tide', gapMinutes: STORE_GAP_MINUTES }, context),
    says: `When it was first read the brine was at ${context.show.temperature(warmest.celsius)}, ${warmest.celsius <= limitC ? 'within' : 'above'} the limit of ${limit}.`, levels: [{ at: degreesIn(context.system)(limitC), name: `at most ${limit} when the fish goes in` }],
  };
}

/** The core of raw fish in the freezer. */
export function frozenView(context: ViewContext): PlaceView | null {
  const logs = logsWhere(context.lists, 'core', () => true);
  if (logs.length === 0) return null;
  const limitC = limitOr(context.rules, 'parasite.celsius');
  const limit = context.show.temperature(limitC);
  return {
    key: 'frozen', title: 'Core', says: warmestWords(logs, limitC, 'fish', context), moments: [], rows: [], series: linesOf(logs, { place: 'fish', name: 'Core', tone: 'tide', gapMinutes: FREEZER_GAP_MINUTES }, context),
    levels: [{ at: degreesIn(context.system)(limitC), name: `at most ${limit} for ${limitOr(context.rules, 'parasite.hours')} h` }], notes: [],
  };
}

export function surfaceView(context: ViewContext): PlaceView | null {
  const logs = logsWhere(context.lists, 'surface', () => true);
  if (logs.length === 0) return null;
  return {
    key: 'surface', title: 'On the fish', says: warmestWords(logs, null, 'core', context), moments: [], levels: [], rows: [],
    series: linesOf(logs, { place: 'core', name: 'Surface', tone: 'ember' }, context), notes: [{ level: 'note', text: `No rule is held against the surface: the core decides.` }],
  };
}
