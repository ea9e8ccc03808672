/** How long the fish was warm before it was smoked, where its own temperature was read then. */
import { exposureAbove } from '$domain/boat/exposure.ts';
import { exposureHours } from '$domain/rules/exposure.ts';
import { clubLimitsOf } from '$lib/rules/limits.ts';
import { showNumber, showSpan } from '$lib/show.ts';
import { logsWhere, type ListWithReadings, type ProbeLog } from '../log.ts';
import { degreesIn, linesOf, type PlaceView, type ViewContext } from './view.ts';

const BEFORE: readonly string[] = ['prepare', 'cure', 'rinse', 'dry'];
const GAP_MINUTES = 30;
const MOST_ORGANISMS = 3;
const HOUR_MS = 3_600_000;

/** Core and surface readings of the stages before smoking, and of none that were read before it began. Null without two readings of a probe. */
export function exposureView(context: ViewContext): PlaceView | null {
  const { stages, show } = context;
  const smokes = stages.filter((s) => s.kind === 'smoke').map((s) => Date.parse(s.startedAt));
  const smokeMs = smokes.length === 0 ? null : Math.min(...smokes);
  const ids = new Set(stages.filter((s) => BEFORE.includes(s.kind)).map((s) => s.id));
  const wanted = (list: ListWithReadings) => (list.stageId === null ? smokeMs !== null : ids.has(list.stageId));
  const before = (log: ProbeLog): ProbeLog => ({ ...log, readings: log.readings.filter((r) => smokeMs === null || r.at.getTime() < smokeMs) });
  const logs = (['core', 'surface'] as const).flatMap((place) => logsWhere(context.lists, place, wanted)).map(before).filter((log) => log.readings.length > 1);
  if (logs.length === 0) return null;
  // As fish that was never frozen: it has the fewer hours.
  const { coldC, warmC, ...allowed } = exposureHours(clubLimitsOf(context.rules ?? []), false);
  const told = logs.map((log) => ({ log, exposure: exposureAbove({ readings: log.readings, previouslyFrozen: false }, { coldC, warmC }, allowed) })).sort((a, b) => warmth(b.exposure) - warmth(a.exposure))[0]!;
  const e = told.exposure;
  const at = degreesIn(context.system);
  const cold = show.temperature(coldC);
  const span = (hours: number) => showSpan(hours * HOUR_MS);
  const which = logs.length > 1 ? ` That is the warmest of ${logs.length} probes${told.log.probe ? `, ${told.log.probe}` : ''}.` : '';
  return {
    key: 'exposure', title: 'Warm before smoking', moments: [],
    says: `${span(e.hoursAboveCold)} above ${cold} in all${e.gapHours > 0 ? `, and ${span(e.gapHours)} not logged` : ''}; at most ${e.limitHours} h.${which}`,
    series: linesOf([told.log, ...logs.filter((log) => log !== told.log)], { place: 'core', name: 'Fish', tone: 'ember', gapMinutes: GAP_MINUTES }, context),
    levels: [{ at: at(coldC), name: cold }, { at: at(warmC), name: show.temperature(warmC) }],
    rows: [
      { label: `Above ${cold}, at most ${e.limitHours} h`, value: span(e.hoursAboveCold), state: e.state, about: `Hours above ${cold}`, working: e.working },
      { label: `Of that above ${show.temperature(warmC)}`, value: span(e.hoursAboveWarm), working: e.working },
      ...e.organisms.toSorted((a, b) => b.shareUsed - a.shareUsed).slice(0, MOST_ORGANISMS).filter((o) => o.shareUsed > 0).map((o) => ({ label: `Used up for ${o.organism}`, value: `${showNumber(100 * o.shareUsed, 0)} %`, state: o.state, working: e.working })),
    ],
    notes: [
      { text: 'Only these readings are added up: what was warm without a reading is not in it. Of fish that forms histamine, the check “Hours in the warm before smoking” decides, which counts what was not logged as warm.' },
      { level: 'note', text: 'Counted as fish that was never frozen, the stricter.' },
    ],
  };
}

const warmth = (e: ReturnType<typeof exposureAbove>): number => ({ 'not-met': 2, 'not-recorded': 1, 'met': 0 })[e.state] * 1e6 + e.hoursAboveCold + e.gapHours;
