import { afterAll, beforeAll, expect, test } from 'vitest';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const now = (instant: string) => void (s.club.clock.now = new Date(instant));
const HOUR = 3_600_000;
/** Readings at one temperature from one instant to another, so many minutes apart. */
const flat = (from: string, to: string, celsius: number, minutes = 30) =>
  Array.from({ length: Math.floor((Date.parse(to) - Date.parse(from)) / (minutes * 60_000)) + 1 }, (_, i) => ({ at: new Date(Date.parse(from) + i * minutes * 60_000).toISOString(), celsius }));
const record = async (batch: { id: string }, readings: object[], more: object = {}) => {
  const { status, body } = await s.crew.post(`/api/batches/${batch.id}/readings`, { place: 'storage', probe: 'Fridge', readings, ...more });
  if (status !== 201) throw new Error(JSON.stringify(body));
  return body;
};
const lastDay = async (batch: { id: string }) => (await s.page(batch)).packs[0].lastDay;
const SEVEN = '2026-06-16';
const FOURTEEN = '2026-06-23';
const PRESENT = '2026-06-12T08:00:00Z';
/** Smoked on 10 June with good evidence and a laboratory's salt, in a tub in the refrigerator; it is now 12 June, 08:00. */
async function tub(more: object = {}) {
  now('2026-06-10T20:00:00Z');
  const batch = await s.smoked(await s.make([s.landing(await s.land({ pooling: 'pooled' }), 5000)]));
  await s.pack(batch, [250], more);
  await s.captain.post(`/api/batches/${batch.id}/measurements`, { kind: 'water-phase-salt', value: 3.6, part: 'loin', laboratory: 'Quay Laboratory', sampledDay: '2026-06-10', reportedDay: '2026-06-10' });
  now(PRESENT);
  return batch;
}

test('a log of 24 hours at 2 C that reaches the present gives 14 days, at 2.3 C or a minute short of a day it does not (date.fourteen MSU 1997)', async () => {
  const found: [string, { at: string; celsius: number }[], string][] = [
    ['2 C', flat('2026-06-11T08:00:00Z', PRESENT, 2), FOURTEEN],
    ['hourly', flat('2026-06-11T07:30:00Z', PRESENT, 2.2, 60), FOURTEEN],
    ['hourly by a clock that is a little off', flat('2026-06-11T07:30:00Z', PRESENT, 2.2, 60).map((r, i) => ({ ...r, at: new Date(Date.parse(r.at) + (i % 2) * 4000).toISOString() })), FOURTEEN],
    ['2.3 C', flat('2026-06-11T08:00:00Z', PRESENT, 2.3), SEVEN],
    ['short', flat('2026-06-11T08:01:00Z', PRESENT, 2, 1), SEVEN],
    ['one reading too warm days ago', [{ at: '2026-06-10T18:00:00Z', celsius: 3 }, ...flat('2026-06-11T08:00:00Z', PRESENT, 2)], SEVEN],
  ];
  for (const [what, readings, day] of found) {
    const batch = await tub();
    const { verdict } = await record(batch, readings);
    expect([what, verdict, await lastDay(batch)]).toEqual([what, 'clear', day]);
  }
});

test('single readings a day apart, a gap of more than an hour and five minutes, or a log of several probes in turn shows no day in the cold (date.fourteen MSU 1997)', async () => {
  const day = flat('2026-06-11T08:00:00Z', PRESENT, 2);
  for (const readings of [[day[0]!, day.at(-1)!], day.filter((_r, i) => i < 20 || i > 22), flat('2026-06-11T07:00:00Z', PRESENT, 2, 66)]) {
    const batch = await tub();
    await record(batch, readings);
    expect(await lastDay(batch)).toBe(SEVEN);
  }
  const batch = await tub();
  await record(batch, day.slice(0, 24), { probe: 'Upper shelf' });
  await record(batch, day.slice(24), { probe: 'Kitchen fridge' });
  expect(await lastDay(batch)).toBe(SEVEN);
});

test('a freezer’s log says nothing of packs that are kept unfrozen, and takes nothing from a good log of the refrigerator (date.fourteen MSU 1997)', async () => {
  const freezer = flat('2026-06-10T18:00:00Z', PRESENT, -20);
  const batch = await tub();
  await record(batch, freezer, { probe: 'Freezer' });
  expect(await lastDay(batch)).toBe(SEVEN);
  await record(batch, [{ at: PRESENT, celsius: 2 }]);
  expect(await lastDay(batch)).toBe(SEVEN);
  await record(batch, flat('2026-06-11T08:00:00Z', PRESENT, 2));
  expect(await lastDay(batch)).toBe(FOURTEEN);
  // One probe that was in the freezer until now, and defrosting peaks.
  const moved = await tub();
  await record(moved, [...freezer.slice(0, -1), { at: PRESENT, celsius: 2 }]);
  expect(await lastDay(moved)).toBe(SEVEN);
  const defrosting = await tub();
  await record(defrosting, freezer.map((r, i) => ({ ...r, celsius: i % 12 === 0 ? -1 : -18 })));
  expect(await lastDay(defrosting)).toBe(SEVEN);
  const slush = await tub();
  await record(slush, flat('2026-06-11T08:00:00Z', PRESENT, -2.1));
  expect(await lastDay(slush)).toBe(SEVEN);
});

test('a log that ended more than a day ago lengthens nothing; until then no other change takes its days (date.fourteen MSU 1997)', async () => {
  const old = await tub();
  now('2026-06-13T06:59:00Z');
  await record(old, flat('2026-06-10T18:00:00Z', '2026-06-12T06:58:00Z', 2, 2));
  expect(await lastDay(old)).toBe(SEVEN);
  await record(old, [{ at: '2026-06-12T06:59:00Z', celsius: 2 }]);
  expect(await lastDay(old)).toBe(FOURTEEN);
  const good = await tub();
  await record(good, flat('2026-06-11T08:00:00Z', PRESENT, 2));
  expect(await lastDay(good)).toBe(FOURTEEN);
  now('2026-06-13T07:59:00Z');
  expect((await s.crew.get(`/api/packs/${(await s.page(good)).packs[0].id}`)).body).toMatchObject({ lastDay: FOURTEEN, storageWords: 'Keep refrigerated at 36 F (2.2 C) or below' });
  now('2026-06-16T08:00:00Z');
  const { judgeLapsed } = await import('../../server/features/batches/rules.service.ts');
  expect((await judgeLapsed(s.club.context)).judged).toBeGreaterThan(0);
  const pack = (await s.crew.get(`/api/packs/${(await s.page(good)).packs[0].id}`)).body;
  expect([pack.lastDay, pack.storageWords, pack.dateReasons.map((r: any) => r.ruleId)]).toEqual([SEVEN, 'Keep refrigerated at 38 F (3.3 C) or below', ['date.seven']]);
  expect((await judgeLapsed(s.club.context)).judged).toBe(0);
  // Gone on with, it gives the days again.
  await record(good, flat('2026-06-12T08:30:00Z', '2026-06-16T08:00:00Z', 2));
  expect(await lastDay(good)).toBe(FOURTEEN);
  const change = (await s.page(good)).packs[0];
  now('2026-06-16T10:00:00Z');
  expect((await s.crew.patch(`/api/packs/${change.id}`, { version: change.version, grams: 240 })).status).toBe(200);
  expect(await lastDay(good)).toBe(FOURTEEN);
  // What ended at eight lapses at eight, however lately the batch was judged for something else, and whatever reads beside it.
  now('2026-06-17T08:00:00Z');
  await judgeLapsed(s.club.context);
  expect(await lastDay(good)).toBe(FOURTEEN);
  await record(good, [{ at: '2026-06-17T07:45:00Z', celsius: 2 }], { probe: 'Door' });
  now('2026-06-17T08:00:01Z');
  expect((await judgeLapsed(s.club.context)).judged).toBeGreaterThan(0);
  expect(await lastDay(good)).toBe(SEVEN);
  expect((await judgeLapsed(s.club.context)).judged).toBe(0);
});

test('a pack that was handed over keeps the days that it left with, as long as the log that showed them stands; one that left with seven gets no more (date.fourteen MSU 1997)', async () => {
  const handOver = async (batch: { id: string }) => {
    const [pack] = (await s.page(batch)).packs;
    expect((await s.captain.post('/api/hand-overs', { packIds: [pack.id], to: { name: 'Old Sel' } })).status).toBe(201);
    return async () => ((p) => [p.lastDay, p.dateReasons.length])((await s.crew.get(`/api/packs/${pack.id}`)).body);
  };
  const day = flat('2026-06-11T08:00:00Z', PRESENT, 2);
  const [kept, late] = [await tub(), await tub()];
  const made = await record(kept, day);
  const [before, seven] = [await handOver(kept), await handOver(late)];
  now('2026-06-16T08:00:00Z');
  await record(kept, [{ at: '2026-06-10T18:00:00Z', celsius: 2 }], { probe: 'Door' });
  await record(late, day);
  expect([await before(), await seven()]).toEqual([[FOURTEEN, 3], [SEVEN, 1]]);
  await s.crew.patch(`/api/reading-lists/${made.list.id}`, { version: 1, withdrawn: true, reason: 'Another store' });
  expect(await before()).toEqual([SEVEN, 1]);
});

test('chamber, brine, core and surface readings, a cure’s place, what was read before the fish was cold or was withdrawn are no log of its store (date.fourteen MSU 1997)', async () => {
  const day = flat('2026-06-11T08:00:00Z', PRESENT, 2);
  for (const place of ['chamber', 'surface', 'brine']) {
    const batch = await tub();
    await record(batch, day, { place });
    expect([place, await lastDay(batch)]).toEqual([place, SEVEN]);
  }
  const gone = await tub();
  const made = await record(gone, day);
  expect(await lastDay(gone)).toBe(FOURTEEN);
  await s.crew.patch(`/api/reading-lists/${made.list.id}`, { version: 1, withdrawnNos: [20, 21, 22], reason: 'Door' });
  expect(await lastDay(gone)).toBe(SEVEN);
  await s.crew.patch(`/api/reading-lists/${made.list.id}`, { version: 2, withdrawnNos: [], withdrawn: true, reason: 'Another store' });
  expect(await lastDay(gone)).toBe(SEVEN);
  // From the smoke on, but before the fish was in the store.
  now('2026-06-10T20:00:00Z');
  const early = await s.smoked(await s.make([s.landing(await s.land({ pooling: 'pooled' }), 5000)]));
  await s.pack(early, [250]);
  await s.captain.post(`/api/batches/${early.id}/measurements`, { kind: 'water-phase-salt', value: 3.6, part: 'loin', laboratory: 'Quay Laboratory', sampledDay: '2026-06-10', reportedDay: '2026-06-10' });
  now('2026-06-11T15:59:00Z');
  await record(early, flat('2026-06-10T09:00:00Z', '2026-06-11T15:59:00Z', 2, 1));
  expect(await lastDay(early)).toBe(SEVEN);
  now('2026-06-11T16:00:00Z');
  await record(early, [{ at: '2026-06-11T16:00:00Z', celsius: 2 }]);
  expect(await lastDay(early)).toBe(FOURTEEN);
});

test('frozen and thawed fish keeps to 7 days whatever its store’s log shows (date.fourteen MSU 1997, date.freeze FC 3-501.17)', async () => {
  const batch = await tub({ storage: 'frozen' });
  const [pack] = (await s.page(batch)).packs;
  const thawed = await s.crew.patch(`/api/packs/${pack.id}`, { version: pack.version, storage: 'refrigerated', thawedDay: '2026-06-11' });
  expect(thawed.status).toBe(200);
  const before = await lastDay(batch);
  await record(batch, flat('2026-06-11T08:00:00Z', PRESENT, 2));
  expect(await lastDay(batch)).toBe(before);
  expect(before < FOURTEEN).toBe(true);
});

// -------------------------------------------------------------------------------- parasites
const raw = async (more: Parameters<Smokehouse['land']>[0] = {}) => s.make([s.landing(await s.land({ pooling: 'pooled', ...more }), 2000)], { productKind: 'raw' });
const frozen = (from: string, hours: number) => flat(from, new Date(Date.parse(from) + hours * HOUR).toISOString(), -21);
const parasite = (batch: any) => batch.checks.filter((c: any) => c.ruleId === 'parasite').map((c: any) => c.state);

test('a freezing that was logged before the fish was caught, landed or put in its batch counts for nothing (parasite FC 3-402.11; EU 853/2004)', async () => {
  now('2026-06-10T20:00:00Z');
  const batch = await raw();
  now('2026-06-17T20:00:00Z');
  const early = await record(batch, frozen('2026-06-03T19:30:00Z', 168), { place: 'core', probe: 'P1' });
  expect([early.verdict, parasite(early)]).toEqual(['hold', ['not-recorded']]);
  // From before the catch through to now: only what came after the batch was made counts, 168 hours and no less.
  now('2026-06-17T19:30:00Z');
  const through = await raw({ caught_at: '2026-06-10T04:00:00Z' });
  const spanning = await record(through, frozen('2026-06-03T20:00:00Z', 330), { place: 'core', probe: 'P1' });
  expect([spanning.verdict, parasite(spanning)]).toEqual(['hold', ['not-recorded']]);
});

test('168 hours from when the batch was made clear it, half an hour less do not; an unknown catch counts from when the landing was recorded (parasite FC 3-402.11)', async () => {
  for (const [hours, verdict] of [[168, 'clear'], [167.5, 'hold']] as const) {
    now('2026-06-10T20:00:00Z');
    const batch = await raw();
    now('2026-06-18T20:00:00Z');
    expect([hours, (await record(batch, frozen('2026-06-10T20:00:00Z', hours), { place: 'core', probe: 'P1' })).verdict]).toEqual([hours, verdict]);
  }
  now('2026-06-10T20:00:00Z');
  const joined = await raw();
  now('2026-06-12T20:00:00Z');
  const part = await s.make([s.fromBatch(joined.id, 500)], { productKind: 'raw' });
  now('2026-06-18T20:00:00Z');
  const log = frozen('2026-06-10T20:00:00Z', 168);
  expect(parasite(await record(part, log, { place: 'core', probe: 'P1' }))).toEqual(['not-met']);
  expect(parasite(await record(joined, log, { place: 'core', probe: 'P1' }))).toEqual(['met']);
});

test.each(['storage', 'chamber', 'surface', 'brine'])('readings of %s are no core of the fish in the freezer (parasite FC 3-402.11)', async (place) => {
  now('2026-06-10T20:00:00Z');
  const batch = await raw();
  now('2026-06-18T20:00:00Z');
  expect(parasite(await record(batch, frozen('2026-06-10T20:00:00Z', 168), { place, probe: 'P1' }))).toEqual(['not-recorded']);
});
