import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { CORE_LIMIT_C, HOLD_LIMIT_MINUTES } from '$domain/evidence.ts';
import { coolingTold, coreTold, lineOf, logsOf, smokedLogs, stageFor, timeTicks, type ListWithReadings } from '$lib/heat/log.ts';
import { asFahrenheit, linesOf, oddReading, readPasted } from '$lib/heat/pasted.ts';
import { sayCooling, sayHold } from '$lib/heat/say.ts';
import { heatLimits } from '$lib/rules/limits.ts';
import { placeHints } from '$lib/heat/words.ts';

const START = Date.parse('2026-06-10T13:00:00Z');
const show = { temperature: (c: number) => `${c} °C`, time: (at: string) => at.slice(11, 16) };
const limits = { limitC: CORE_LIMIT_C, neededMinutes: HOLD_LIMIT_MINUTES };
const smoke = { id: 'smoke-1', kind: 'smoke' as const, startedAt: '2026-06-10T13:00:00Z' };
let number = 0;
/** [minute from 13:00 UTC, Celsius] */
function list(points: readonly (readonly [number, number])[], more: Partial<ListWithReadings> = {}): ListWithReadings {
  number += 1;
  const readings = points.map(([minute, celsius], i) => ({ no: i + 1, at: new Date(START + minute * 60_000).toISOString(), celsius, humidityPct: null, flag: null, withdrawn: more.withdrawnNos?.includes(i + 1) ?? false }));
  return {
    id: `list-${number}`, batchId: 'b', stageId: smoke.id, place: 'core', probe: '', source: 'pasted', readingCount: readings.length, firstAt: readings[0]!.at, lastAt: readings.at(-1)!.at, lowestC: 0, highestC: 0,
    unitConfirmed: false, withdrawnNos: [], withdrawn: false, createdBy: { id: 'm', name: 'Rory' }, createdAt: readings[0]!.at, version: 1, readings, ...more,
  };
}
const say = (...lists: ListWithReadings[]) => sayHold(coreTold(logsOf(lists, 'core', [smoke]), limits), show);
/** Straight from 20 C at minute 0 to `top` at minute 60, then level to `end`, every 5 minutes. */
const heated = (top: number, end: number) => Array.from({ length: end / 5 + 1 }, (_, i) => [i * 5, Math.min(top, 20 + ((top - 20) * i * 5) / 60)] as const);

describe('the sentence above the smoke (rule smoke.core: 62.8 C for 30 unbroken minutes)', () => {
  it('says when the core passed the limit and how long it held', () => {
    expect(say(list(heated(65, 100)))).toBe('Core passed 62.8 °C at 13:57 and held 42 minutes.');
  });

  it('of a log that ends before the hold is complete says that it is not held, never nearly', () => {
    expect(say(list(heated(65, 85)))).toBe('Not held: the log ends after 27 minutes at 62.8 °C or more. It needs 30.');
    expect(say(list([...heated(65, 85), [86.95, 65]]))).toMatch(/^Not held: the log ends after 29 minutes/);
  });

  it('of a core that never got there says how hot it was', () => {
    expect(say(list(heated(58.5, 120)))).toBe('Not held: the core never reached 62.8 °C. The highest was 58.5 °C.');
  });

  it('while the smoke runs says how far it is: nothing has failed yet', () => {
    const running = (...lists: ListWithReadings[]) => sayHold(coreTold(logsOf(lists, 'core', [smoke]), limits), show, true);
    expect(running(list(heated(44.1, 60)))).toBe('Not yet: the core has to reach 62.8 °C. The highest so far is 44.1 °C.');
    expect(running(list(heated(65, 85)))).toBe('Not yet: 27 minutes so far at 62.8 °C or more. It needs 30.');
    expect(running(list(heated(65, 100)))).toBe('Core passed 62.8 °C at 13:57 and held 42 minutes.');
  });

  it('does not count what was withdrawn, what belongs to another stage, and what lies in a gap', () => {
    const log = heated(65, 100);
    expect(say(list(log, { withdrawn: true }))).toBe('No core temperature is recorded yet.');
    expect(say(list(log, { stageId: 'cure-1' }))).toBe('No core temperature is recorded yet.');
    expect(say(list(log, { withdrawnNos: [17, 18, 19] }))).toMatch(/only 17 of the 30 minutes are shown/);
    expect(say(list([[0, 60], [5, 64], [40, 64], [45, 64]]))).toMatch(/only 5 of the 30 minutes are shown/);
  });

  it('of a core that was hot and read too seldom says that, not that it was too cool; readings may lie 10 minutes apart (models.md, logs)', () => {
    const every = (minutes: number, hot: number) => list([[0, 40], ...Array.from({ length: hot }, (_, i) => [(i + 1) * minutes, 66] as const)]);
    expect(say(every(15, 5))).toBe('Not shown to have held: the core reached 66 °C, but readings are more than 10 minutes apart, so the 30 minutes are not shown. Read it at least every 10 minutes.');
    expect(say(every(10, 5))).toMatch(/^Core passed 62.8 °C/);
    expect(say(list([[0, 40], [15, 60], [30, 61]]))).toBe('Not held: the core never reached 62.8 °C. The highest was 61 °C.');
    const seldom = sayHold(coreTold(logsOf([every(15, 5)], 'core', [smoke]), limits), show, true);
    expect(seldom).toBe('Not yet: the core reached 62.8 °C and has to stay there for 30 minutes. What lies between readings more than 10 minutes apart does not count. Read it at least every 10 minutes.');
  });

  it('blames no gap that lies where the core was cool', () => {
    expect(say(list([[0, 20], [30, 55], [35, 60], [40, 65], [45, 65], [50, 65]]))).toMatch(/^Not held: the log ends after 12 minutes/);
  });

  it('says so before one reads: at the core, of both ways to enter it', () => {
    expect(placeHints.core).toMatch(/at least every 10 minutes/);
    for (const sheet of ['PasteSheet', 'ReadingSheet']) expect(readFileSync(`web/src/lib/heat/${sheet}.svelte`, 'utf8')).toMatch(/hint=\{placeHints\[v\.place\]\}/);
  });

  it('rests on the coldest of several probes', () => {
    expect(say(list(heated(65, 100), { probe: 'Left' }), list(heated(60, 100), { probe: 'Right' }))).toBe('Not held: the core never reached 62.8 °C. The highest was 60 °C. That is the coldest of 2 probes, Right.');
  });

  it('rests on no probe that was put in after the smoke, and on every one that was in it (as rules/smoke.ts)', () => {
    const stages = [{ kind: 'smoke' as const, finishedAt: new Date(START + 100 * 60_000).toISOString() }];
    const [front, cold] = [list(heated(65, 100), { probe: 'Front' }), list([[110, 60], [120, 50], [180, 20]], { probe: 'Cold room' })];
    const smoked = (...lists: ListWithReadings[]) => sayHold(coreTold(smokedLogs(logsOf(lists, 'core', [smoke]), stages), limits), show);
    expect(smoked(front, cold)).toBe('Core passed 62.8 °C at 13:57 and held 42 minutes.');
    expect(smoked(front, list([[99, 60], [110, 60], [180, 20]], { probe: 'Cold room' }))).toMatch(/^Not held: .* 2 probes, Cold room\.$/);
    expect(smoked(cold)).toBe('No core temperature is recorded yet.');
  });

  it('judges nothing on a log in Fahrenheit or on one reading', () => {
    expect(say(list(heated(145, 100)))).toBe('Not judged: some of it looks like °F.');
    expect(say(list(heated(90, 100)))).toContain('Say that it is in °C');
    expect(say(list(heated(90, 100), { unitConfirmed: true }))).toContain('and held');
    expect(say(list([[0, 66]]))).toBe('One core reading alone shows no hold. Read on.');
  });
});

describe('the sentence above the cooling (rule cool.fc: 57 C to 21 C in 2 h, to 5 C in 6 h)', () => {
  const { endsC } = heatLimits(undefined).cooling;
  /** 65 C at minute 0, falling straight to 2 C. */
  const cooled = (minutes: number) => Array.from({ length: Math.round(minutes / 5) + 1 }, (_, i) => [i * 5, 65 - (63 * i * 5) / minutes] as const);
  const told = (points: readonly (readonly [number, number])[], minutes = { to21: 120, to5: 360, hgTo21: 120, to4: 240, endsC }) => coolingTold(logsOf([list(points)], 'core', [smoke]), minutes);

  it('says fast enough, too slow, or not shown yet', () => {
    expect(sayCooling(told(cooled(180))!.told, show)).toMatch(/^Fast enough: 57 °C to 21 °C in 1 h 4\d min, 57 °C to 5 °C in 2 h 2\d min\.$/);
    expect(sayCooling(told(cooled(600))!.told, show)).toMatch(/^Too slow: 57 °C to 21 °C: 5 h 4\d min, at most 2 h/);
    expect(sayCooling(told(cooled(180).slice(0, 20))!.told, show)).toMatch(/Not shown yet, 57 °C to 21 °C: .* when the log ends/);
  });

  it('is held against a club’s own, shorter limit', () => {
    expect(sayCooling(told(cooled(180), { to21: 90, to5: 360, hgTo21: 120, to4: 240, endsC })!.told, show)).toMatch(/^Too slow: 57 °C to 21 °C: 1 h 4\d min, at most 1 h 30 min\.$/);
  });

  it('is held against a club’s own, colder end, and names it', () => {
    const limits = heatLimits([{ limits: [{ id: 'cool.fc.first.celsius', value: 21, club: { value: 10 } }] }] as never).cooling;
    expect(sayCooling(told(cooled(180), limits)!.told, show)).toMatch(/^Too slow: 57 °C to 10 °C: 2 h 1\d min, at most 2 h\.$/);
  });

  it('is too slow down to the rule’s end where the club asks for a colder one that the log never shows, and by a log that ends too late', () => {
    const own = (limits: Record<string, number>) => heatLimits([{ limits: Object.entries(limits).map(([id, value]) => ({ id, value: 999, club: { value } })) }] as never).cooling;
    const short = cooled(180).filter(([, celsius]) => celsius > 19);
    const both = own({ 'cool.fc.first-minutes': 90, 'cool.fc.first.celsius': 15 });
    expect(sayCooling(told(short, both)!.told, show)).toMatch(/^Too slow: 57 °C to 15 °C: .* when the log ends, 1 h 4\d min after 57 C, at most 1 h 30 min\.$/);
    expect(sayCooling(told(short)!.told, show)).toMatch(/^57 °C to 21 °C in 1 h 4\d min\. Not shown yet, 57 °C to 5 °C: /);
  });

  it('tells of the second rule’s first step where that alone is too slow', () => {
    const slow = told(cooled(180), { to21: 120, to5: 360, hgTo21: 60, to4: 240, endsC })!.told;
    expect(sayCooling(slow, show)).toMatch(/^Too slow: 60 °C to 21 °C: 1 h \d+ min, at most 1 h\.$/);
  });

  it('is not there before the core fell to 57 C, or when it never was so hot', () => {
    expect(told(heated(65, 100))).toBeNull();
    expect(told([[0, 40], [5, 30], [10, 20]])).toBeNull();
  });
});

describe('a pasted log before it is saved', () => {
  const read = (text: string, more: object = {}) => readPasted({ text, place: 'core', unit: 'C', day: '2026-06-10', stageBegan: null, zone: 'Europe/London', now: new Date('2026-06-10T20:00:00Z'), ...more });

  it('says of a core log how long it was blind, from more than the 10 minutes that count as a gap on', () => {
    expect(read('14:00 60\n14:10 61\n14:25 63').longestGapMinutes).toBe(15);
    expect(read('14:25 63\n14:00 60\n14:10 61').longestGapMinutes).toBe(15);
    expect(read('14:00 60\n14:10 61\n14:20 63').longestGapMinutes).toBeNull();
    expect(read('14:00 60\n14:05 -999\n14:12 63').longestGapMinutes).toBe(12);
    expect(read('14:00 80\n15:00 90', { place: 'chamber' }).longestGapMinutes).toBeNull();
  });

  it('says what was read, what is odd and what was left out and why', () => {
    const told = read('Time;Core °C\n14:00;20,5\n14:05;-999\n14:04;22\nlunch\n14:10;25');
    expect(told).toMatchObject({ count: 4, lowestC: 20.5, highestC: 25, looksLikeF: false, failure: null });
    expect(told.odd.map((o) => [o.flag, o.count, linesOf(o)])).toEqual([['probe-error', 1, 'line 3'], ['out-of-order', 1, 'line 4']]);
    expect(told.leftOut.map((l) => [l.lineNo, l.why])).toEqual([[1, 'a heading'], [5, 'no time such as 14:20 on it']]);
  });

  it('asks about Fahrenheit, and reads it when told so', () => {
    const text = '14:00 140\n14:05 145\n14:10 149';
    expect(read(text)).toMatchObject({ count: 3, looksLikeF: true });
    expect(read(text, { unit: 'F' })).toMatchObject({ looksLikeF: false, lowestC: 60, highestC: 65 });
    expect(read('14:00 90\n14:05 91')).toMatchObject({ looksLikeF: false, unitDoubtful: true });
  });

  it('puts lines without a day on the day the stage began, or on the next when all would be long before it', () => {
    const night = { day: '', stageBegan: new Date('2026-06-09T20:00:00Z') };
    expect(read('22:00 40\n22:10 50', night)).toMatchObject({ day: '2026-06-09', firstAt: new Date('2026-06-09T21:00:00Z') });
    expect(read('01:00 40\n01:10 50', night)).toMatchObject({ day: '2026-06-10', firstAt: new Date('2026-06-10T00:00:00Z') });
  });

  it('of nothing, and of too much, says so without failing', () => {
    expect(read(' ')).toMatchObject({ count: 0, failure: null, leftOut: [] });
    expect(read('14:00 20\n'.repeat(60_000)).failure).toMatch(/too long/);
  });
});

it('one typed reading is asked about when it is hot for Celsius', () => {
  const at = new Date(START);
  expect([oddReading(66, at, 'core'), oddReading(145, at, 'core'), oddReading(92, at, 'core'), oddReading(-999, at, 'core'), oddReading(110, at, 'chamber')]).toEqual([null, 'fahrenheit', 'unit-doubtful', 'probe-error', null]);
  expect(asFahrenheit(145)).toBe(62.8);
});

it('a reading goes to the stage that its place tells of', () => {
  const stages = [{ id: 'c', kind: 'cure' as const, finishedAt: 'x' }, { id: 's', kind: 'smoke' as const, finishedAt: 'x' }];
  expect(stageFor({ stages }, 'core')).toBe('s');
  expect(stageFor({ stages }, 'storage')).toBeNull();
  const curing = { stages: [{ id: 'c', kind: 'cure' as const, finishedAt: null }] };
  expect([stageFor(curing, 'brine'), stageFor(curing, 'core')]).toEqual(['c', null]);
  expect(stageFor({ stages: [...stages, { id: 'k', kind: 'cool' as const, finishedAt: null }] }, 'core')).toBe('k');
});

it('a line breaks where nothing was read for more than ten minutes, and leaves out what a failed probe wrote', () => {
  const [log] = logsOf([list([[0, 20], [5, 25], [30, 40], [35, -999], [38, 44]])], 'core', [smoke]);
  expect(lineOf(log!, 'core', (c) => c).map((p) => p.y)).toEqual([20, 25, null, 40, 44]);
});

it('ticks are round times of the club, few enough for a phone', () => {
  const [from, to] = [Date.parse('2026-06-10T13:07:00Z'), Date.parse('2026-06-10T17:40:00Z')];
  expect(timeTicks(from, to, 'Europe/London').map((t) => new Date(t).toISOString().slice(11, 16))).toEqual(['14:00', '15:00', '16:00', '17:00']);
  expect(timeTicks(from, from + 20 * 60_000, 'Asia/Kolkata')).toHaveLength(4);
  expect(timeTicks(from, to + 30 * 86_400_000, 'Europe/London').length).toBeLessThanOrEqual(6);
});
