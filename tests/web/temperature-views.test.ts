import { describe, expect, it } from 'vitest';
import type { Stage } from '$contract/batches.ts';
import type { RuleRecord } from '$contract/rules.ts';
import { timeAxis, type ListWithReadings } from '$lib/heat/log.ts';
import { exposureView } from '$lib/heat/views/exposure.ts';
import { coolingView, smokeView } from '$lib/heat/views/smoke.ts';
import { brineView, frozenView, storeViews, surfaceView } from '$lib/heat/views/store.ts';
import { isDrawn, type ViewContext } from '$lib/heat/views/view.ts';
import { RULES } from '../../server/domain/rules/registry.ts';

const START = Date.parse('2026-06-10T13:00:00Z');
const iso = (minute: number) => new Date(START + minute * 60_000).toISOString();
const stage = (id: string, kind: Stage['kind'], from: number, to: number) => ({ id, kind, startedAt: iso(from), finishedAt: iso(to) }) as Stage;
const stages = [stage('cure-1', 'cure', -1400, -300), stage('smoke-1', 'smoke', 0, 120)];
let number = 0;
/** [minute from 13:00 UTC, Celsius] */
function list(place: ListWithReadings['place'], points: readonly (readonly [number, number])[], more: Partial<ListWithReadings> = {}): ListWithReadings {
  number += 1;
  const readings = points.map(([minute, celsius], i) => ({ no: i + 1, at: iso(minute), celsius, humidityPct: null, flag: null, withdrawn: more.withdrawnNos?.includes(i + 1) ?? false }));
  return {
    id: `list-${number}`, batchId: 'b', stageId: 'smoke-1', place, probe: '', source: 'pasted', readingCount: readings.length, firstAt: readings[0]!.at, lastAt: readings.at(-1)!.at, lowestC: 0, highestC: 0, unitConfirmed: false, withdrawnNos: [], withdrawn: false,
    createdBy: { id: 'm', name: 'Rory' }, createdAt: readings[0]!.at, version: 1, readings, ...more,
  };
}
const context = (lists: ListWithReadings[], more: Partial<ViewContext> = {}): ViewContext => ({ lists, stages, rules: undefined, system: 'metric', show: { temperature: (c) => `${Math.round(c * 10) / 10} °C`, time: (at) => at.slice(11, 16), dayTime: (at) => `${at.slice(8, 10)}. ${at.slice(11, 16)}` }, ...more });
const every = (step: number, from: number, to: number, celsius: (minute: number) => number) => Array.from({ length: (to - from) / step + 1 }, (_, i) => [from + i * step, celsius(from + i * step)] as const);
/** Up to `top` in an hour, held to the end of smoking, then down to 3 C. */
const smoked = (top: number) => every(5, 0, 400, (m) => (m < 60 ? 10 + ((top - 10) * m) / 60 : m <= 120 ? top : Math.max(3, top - (m - 120) * 0.6)));
/** The club's own limits on the rules as they are. */
const tightened = (own: Record<string, number>) => RULES.map((rule) => ({ ...rule, limits: rule.limits.map((l) => ({ ...l, club: own[l.id] === undefined ? null : { value: own[l.id]! } })) })) as unknown as RuleRecord[];

describe('the smoke', () => {
  it('draws every core probe and every chamber probe with its name, the one that counts first', () => {
    const view = smokeView(context([list('core', smoked(66), { probe: 'Front' }), list('core', smoked(64), { probe: 'Back' }), list('chamber', every(5, 0, 120, () => 90), { probe: 'Top' }), list('chamber', every(5, 0, 120, () => 80))]));
    expect(view.series.map((s) => s.name)).toEqual(['Core, Back', 'Core, Front', 'Chamber, Top', 'Chamber']);
    expect(view.series.map((s) => s.dash)).toEqual([undefined, 1, undefined, 1]);
    expect(view.says).toMatch(/That is the coldest of 2 probes, Back\.$/);
    expect(view.levels).toEqual([{ at: 62.8, name: '62.8 °C for 30 min' }]);
    expect(view.rows.map((r) => r.label)).toEqual(['Highest core', 'Held without a break', 'Effect of the heat', 'Tenfold reductions of Listeria']);
    for (const row of view.rows) expect(row.working?.formula, row.label).toMatch(/\w/);
  });

  it('says beside what the heat was worth that it does not count in place of a hold that is not met (smoke.core: 62.8 C for 30 min, MI569.7)', () => {
    const besides = (readings: ReturnType<typeof smoked>) => smokeView(context([list('core', readings)])).rows.map((r) => r.beside).filter(Boolean);
    // 10 minutes at 75 C are more than six tenfold reductions at 70 C in 2 minutes, and no 30 minutes.
    const short = every(5, 0, 400, (m) => (m < 100 ? 10 : m <= 110 ? 75 : 3));
    const row = smokeView(context([list('core', short)])).rows.find((r) => r.label === 'Tenfold reductions of Listeria')!;
    expect([Number(row.value) > 6, row.beside]).toEqual([true, 'does not count in place of the hold']);
    expect([besides(short).length, besides(smoked(66))]).toEqual([2, []]);
  });

  it('takes the effect of the heat from the probe with the least (62 minutes at 64 C are 9.8 at 70, z 7.5), as smoke.lethality', () => {
    const view = smokeView(context([list('core', smoked(66), { probe: 'Front' }), list('core', smoked(64), { probe: 'Back' })]));
    const minutes = Number(view.rows.find((r) => r.label === 'Effect of the heat')!.value.split(' ')[0]);
    expect(minutes).toBeGreaterThan(60 * 10 ** ((64 - 70) / 7.5));
    expect(minutes).toBeLessThan(70 * 10 ** ((64 - 70) / 7.5));
  });

  it('is drawn against the club’s tightened limits', () => {
    const view = smokeView(context([list('core', smoked(66))], { rules: tightened({ 'smoke.core.celsius': 65, 'smoke.core.minutes': 90 }) }));
    expect(view.levels).toEqual([{ at: 65, name: '65 °C for 90 min' }]);
    expect(view.says).toMatch(/It needs 90\.$/);
  });

  it('leaves a probe that was put in afterwards out of the hold, says so, and draws it in the cooling', () => {
    const cold = list('core', every(5, 130, 400, (m) => Math.max(3, 60 - (m - 130) * 0.5)), { probe: 'Cold room' });
    const both = context([list('core', smoked(66), { probe: 'Front' }), cold]);
    expect(smokeView(both).series.map((s) => s.name)).toEqual(['Core, Front']);
    expect(smokeView(both).notes.at(-1)!.text).toBe('Core, Cold room was put in after smoking ended: it tells of the cooling and not of the hold.');
    const cooling = coolingView(both)!;
    expect(cooling.series.map((s) => s.name)).toEqual(['Core, Cold room', 'Core, Front']);
    expect(cooling.says).toMatch(/^Fast enough: .* That is the slowest of 2 probes, Cold room\.$/);
    expect(cooling.levels.map((l) => l.name)).toEqual(['21 °C within 2 h', '5 °C within 6 h']);
  });

  it('says which of two agencies’ limits of cooling decides, by the rows as they are named (rules.md: cool.fc from the Food Code, cool.hg from memory)', () => {
    const cooling = coolingView(context([list('core', smoked(66))]))!;
    expect(cooling.notes.map((n) => n.text)).toEqual(['What decides: 57 °C to 21 °C and 57 °C to 5 °C. Of another agency, and counted only where it shows the fish too slow: 21 °C to 4.4 °C.']);
    for (const row of cooling.rows) expect(cooling.notes[0]!.text).toContain(row.label.split(',')[0]);
  });

  it('in Fahrenheit draws in Fahrenheit', () => {
    expect(smokeView(context([list('core', smoked(66))], { system: 'us' })).levels[0]!.at).toBeCloseTo(145.04, 2);
  });
});

describe('where it is kept', () => {
  const store = list('storage', [[600, 1], [660, 1], [720, 12], [840, 12], [960, 12], [1020, 12], [1080, 1]], { stageId: null });

  it('says the warmest and the limit, and what the warm stretch cost (FAO FTP 348, by trapezoid)', () => {
    const [view] = storeViews(context([store]));
    expect(view!.title).toBe('Where it is kept');
    expect(view!.says).toBe('The warmest was 12 °C on 11. 01:00, above the limit of 3.3 °C.');
    expect(view!.levels.map((l) => l.name)).toEqual(['at most 3.3 °C', '2.2 °C for up to 14 days']);
    // An hour at 1.21 a day, one rising to 4.84, five at 4.84, one falling.
    const byHand = (1.21 + 2 * ((1.21 + 4.84) / 2) + 5 * 4.84) / 24;
    expect(view!.rows[0]).toMatchObject({ label: 'Used up in 8 h', value: `${byHand.toFixed(2)} days on ice` });
    // Beyond ice at 0 C, from the first reading beside it above 5 C to the last.
    expect(view!.rows[1]).toMatchObject({ label: 'Warm 11. 00:00 to 11. 07:00, up to 12 °C', value: `cost ${(2 * ((1.21 + 4.84) / 2) / 24 + (5 * 4.84) / 24 - 7 / 24).toFixed(2)} days` });
    expect(view!.notes.map((n) => n.text).join(' ')).toContain('They move no use-by day.');
    for (const row of view!.rows) expect(row.working?.source).toMatch(/FAO/);
  });

  it('keeps the place of a cure apart, and goes by the club’s limits', () => {
    const cure = list('storage', [[-1300, 2], [-1240, 3]], { stageId: 'cure-1' });
    const views = storeViews(context([store, cure], { rules: tightened({ 'brine.cold.celsius': 2.5, 'hold.cold.celsius': 2 }) }));
    expect(views.map((v) => [v.title, v.levels[0]!.name])).toEqual([['Where it was cured', 'at most 2.5 °C, over 4 h'], ['Where it is kept', 'at most 2 °C']]);
    expect(views[0]!.says).toMatch(/above the limit of 2\.5 °C\.$/);
    expect(storeViews(context([cure], { rules: tightened({ 'brine.cold.hours': 1.5 }) }))[0]!.levels[0]!.name).toBe('at most 3.3 °C, over 1.5 h');
  });

  it('of one reading says it and draws nothing; of none that counts there is no view', () => {
    const [one] = storeViews(context([list('storage', [[600, 3]], { stageId: null })]));
    expect(one!.says).toBe('It was at 3 °C on 10. 23:00, within the limit of 3.3 °C.');
    expect(isDrawn(one!.series)).toBe(false);
    expect(one!.rows).toEqual([]);
    expect(storeViews(context([{ ...store, withdrawn: true }]))).toEqual([]);
  });
});

describe('brine, surface, frozen core', () => {
  it('the brine is held to its first reading of each cure, withdrawn ones left out (brine.start: 15.6 C)', () => {
    expect(brineView(context([list('brine', [[-1390, 12], [-1300, 20]], { stageId: 'cure-1' })]))!.says).toBe('When it was first read the brine was at 12 °C, within the limit of 15.6 °C.');
    expect(brineView(context([list('brine', [[-1390, 19], [-1300, 3]], { stageId: 'cure-1' })]))!.says).toMatch(/at 19 °C, above the limit/);
    expect(brineView(context([list('brine', [[-1390, 19], [-1300, 3]], { stageId: 'cure-1', withdrawnNos: [1] })]))!.says).toMatch(/at 3 °C, within/);
    expect(brineView(context([]))).toBeNull();
  });

  it('the surface is drawn and judged by no rule', () => {
    const view = surfaceView(context([list('surface', [[0, 20], [10, 70]])]))!;
    expect([view.says, view.levels, view.series.length]).toEqual(['The warmest was 70 °C on 10. 13:10.', [], 1]);
  });

  it('raw fish in the freezer is drawn against −20 C for 168 h (FC 3-402.11)', () => {
    const view = frozenView(context([list('core', [[0, -25], [30, -18]], { stageId: null })]))!;
    expect([view.levels[0]!.name, view.says]).toEqual(['at most -20 °C for 168 h', 'The warmest was -18 °C on 10. 13:30, above the limit of -20 °C.']);
  });
});

describe('warm before smoking (rule chill.exposure: 4 and 8 hours)', () => {
  it('adds up core readings of the stages before, and of none in the smoke', () => {
    const fish = list('core', every(30, -1380, -900, () => 10), { stageId: 'cure-1' });
    const view = exposureView(context([fish, list('core', smoked(66))]))!;
    expect(view.says).toBe('8 h above 4.4 °C in all; at most 8 h.');
    expect(view.rows[0]).toMatchObject({ state: 'met' });
    expect(exposureView(context([list('core', every(30, -1380, -870, () => 10), { stageId: 'cure-1' })]))!.rows[0]!.state).toBe('not-met');
  });

  it('is not there without two such readings, and counts what is not logged as warm', () => {
    expect(exposureView(context([list('core', smoked(66)), list('storage', [[-1300, 9], [-1200, 9]], { stageId: 'cure-1' })]))).toBeNull();
    const gap = exposureView(context([list('core', [[-1380, 3], [-1000, 3]], { stageId: null })]))!;
    expect(gap.says).toBe('0 min above 4.4 °C in all, and 6 h 20 min not logged; at most 8 h.');
    expect(gap.rows[0]!.state).toBe('not-recorded');
  });

  it('of several probes takes the warmest', () => {
    const [warm, cold] = [list('core', every(30, -1380, -1200, () => 25), { stageId: 'cure-1', probe: 'Belly' }), list('core', every(30, -1380, -1200, () => 2), { stageId: 'cure-1', probe: 'Loin' })];
    expect(exposureView(context([cold, warm]))!.says).toBe('3 h above 4.4 °C in all; at most 4 h. That is the warmest of 2 probes, Belly.');
  });

  it('goes by the club’s own temperatures and hours, as the check does', () => {
    const rules = tightened({ 'chill.exposure.cold.celsius': 3, 'chill.exposure.warm.celsius': 9, 'chill.exposure.warm-hours': 2 });
    const fish = [list('core', every(30, -1380, -1230, () => 10), { stageId: 'cure-1' })];
    expect(exposureView(context(fish))!.rows[0]).toMatchObject({ label: 'Above 4.4 °C, at most 8 h', state: 'met' });
    const own = exposureView(context(fish, { rules }))!;
    expect([own.rows[0], own.levels.map((l) => l.at)]).toEqual([expect.objectContaining({ label: 'Above 3 °C, at most 2 h', state: 'not-met' }), [3, 9]]);
    // Fewer hours of what was cooler hold for what was warm too.
    const warm = [list('core', every(30, -1380, -1230, () => 25), { stageId: 'cure-1' })];
    const fewer = tightened({ 'chill.exposure.hours': 2 });
    expect([warm, fish].map((lists) => exposureView(context(lists, { rules: fewer }))!.rows[0]!)).toEqual([expect.objectContaining({ state: 'not-met' }), expect.objectContaining({ label: 'Above 4.4 °C, at most 2 h', state: 'not-met' })]);
  });
});

it('the clock under a plot shows the day where it runs for more than one', () => {
  const line = (minutes: number) => [{ points: [{ x: START, y: 1 }, { x: START + minutes * 60_000, y: 1 }] }];
  expect(timeAxis(line(120), 'Europe/London').show(START)).toBe('14:00');
  expect(timeAxis(line(3000), 'Europe/London').show(START)).toBe('10 Jun 14:00');
  expect(timeAxis([{ points: [] }], 'Europe/London').ticks).toEqual([]);
});
