import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());
beforeEach(() => at('20:00'));

const at = (time: string) => void (s.club.clock.now = new Date(s.at(time)));
const fresh = async (more: Parameters<Smokehouse['land']>[0] = {}, product = 'hot-smoked') => s.make([s.landing(await s.land({ pooling: 'pooled', ...more }), 5000)], { productKind: product });
const part = (batch: { id: string }, grams: number, product = 'hot-smoked') => s.make([s.fromBatch(batch.id, grams)], { productKind: product });
const record = async (batch: { id: string }, body: object) => {
  const { status, body: made } = await s.crew.post(`/api/batches/${batch.id}/readings`, body);
  if (status !== 201) throw new Error(JSON.stringify(made));
  return made;
};
const withdraw = async (made: any) => (await s.crew.patch(`/api/reading-lists/${made.list.id}`, { version: made.list.version, withdrawn: true, reason: 'Another box' })).status;
const stage = async (batch: { id: string }, kind: string, from: string, to: string | null, more: object = {}) => {
  const { status, body } = await s.stage(batch, kind, from, to, more);
  if (status !== 201) throw new Error(JSON.stringify(body));
  return body;
};
const change = async (of: any, more: object) => {
  const { status, body } = await s.crew.patch(`/api/stages/${of.id}`, { version: of.version, ...more });
  if (status !== 200) throw new Error(JSON.stringify(body));
  return body;
};
const of = (batch: any, ruleId: string) => batch.checks.filter((c: any) => c.ruleId === ruleId).map((c: any) => c.state);
const verdict = async (batch: { id: string }) => (await s.page(batch)).verdict;
const measured = async (batch: { id: string }, kind: string, value: number) => {
  const { status, body } = await s.captain.post(`/api/batches/${batch.id}/measurements`, { kind, value, part: 'loin', laboratory: 'Quay Laboratory', sampledDay: '2026-06-10', reportedDay: '2026-06-10' });
  if (status !== 201) throw new Error(JSON.stringify(body));
  return body;
};
const figure = (page: any, value: number) => page.measurements.find((m: any) => m.value === value);
const takenBack = async (m: any) => (await s.captain.patch(`/api/measurements/${m.id}`, { version: m.version, withdrawn: true, reason: 'Another sample' })).status;
const every = (from: string, minutes: number, celsius: number[]) => celsius.map((c, i) => ({ at: new Date(Date.parse(s.at(from)) + i * minutes * 60_000).toISOString(), celsius: c }));
const line = (from: number, to: number, steps: number) => Array.from({ length: steps + 1 }, (_, i) => from + ((to - from) * i) / steps);

test('fish smoked before, and smoked again in a batch of its own, is no better than the lot that it was taken from (FC 3-501.14)', async () => {
  const slow = await s.smoked(await fresh(), { ...s.good, cooledAt: s.at('19:30') });
  expect(slow.verdict).toBe('do-not-share');
  const again = await part(slow, 1000);
  const smoked = await stage(again, 'smoke', '19:31', '19:40', { massOutG: 1000 });
  expect(smoked.verdict).toBe('do-not-share');
  const good = await s.smoked(await fresh());
  const twice = await part(good, 1000);
  const two = await stage(twice, 'smoke', '16:30', '18:00', { massOutG: 900, maxCoreC: 66, holdMinutes: 35, cooledTo21At: s.at('19:00'), cooledAt: s.at('19:30') });
  expect([two.verdict, two.smokeDay, of(two, 'lot.no-mix')]).toEqual(['clear', '2026-06-10', ['met']]);
  await change(good.stages.at(-1), { holdMinutes: 10 });
  expect(await verdict(twice)).toBe('hold');
});

test('fish smoked on an earlier day beside fish that never was, both smoked together, are two smoke days (WI ATCP 70.46)', async () => {
  const older = await fresh();
  const first = (await s.crew.post(`/api/batches/${older.id}/stages`, { kind: 'smoke', startedAt: '2026-06-08T09:00:00Z', finishedAt: '2026-06-08T13:00:00Z', massOutG: 2500, maxCoreC: 66, holdMinutes: 35, cooledTo21At: '2026-06-08T14:30:00Z', cooledAt: '2026-06-08T16:00:00Z' })).body;
  const both = await s.make([s.fromBatch(first.id, 500), s.landing(await s.land({ pooling: 'pooled' }), 500)]);
  const smoked = await stage(both, 'smoke', '09:00', '13:00', { massOutG: 900, ...s.good });
  expect([smoked.verdict, smoked.smokeDay, of(smoked, 'lot.no-mix')]).toEqual(['hold', '2026-06-08', ['not-met']]);
});

test('fish taken warm and smoked again later needs its cooling in between (FC 3-501.14)', async () => {
  at('13:30');
  const whole = await stage(await fresh(), 'smoke', '09:00', '13:00', { massOutG: 2500, maxCoreC: 66, holdMinutes: 35 });
  const [soon, late] = [await part(whole, 500), await part(whole, 500)];
  at('23:00');
  await stage(whole, 'cool', '13:00', '16:00', { massOutG: 1500, cooledTo21At: s.at('14:30'), cooledAt: s.at('16:00') });
  const again = { massOutG: 450, maxCoreC: 66, holdMinutes: 35, cooledTo21At: s.at('20:00'), cooledAt: s.at('22:00') };
  expect((await stage(soon, 'smoke', '15:00', '18:30', again)).verdict).toBe('clear');
  expect((await stage(late, 'smoke', '15:01', '18:30', again)).verdict).toBe('hold');
  await record(late, { place: 'core', readings: every('13:00', 5, [64, 60, 56, ...line(54, 20, 12)]) });
  expect(await verdict(late)).toBe('hold');
  await change((await s.page(late)).stages.at(-1), { startedAt: s.at('16:00') });
  const cold = await record(late, { place: 'core', readings: every('14:15', 5, line(19, 4, 20)) });
  expect([cold.checks.filter((c: any) => c.ruleId === 'cool.fc' && c.state !== 'met'), of(cold, 'smoke.core')]).toEqual([[], expect.anything()]);
});

test('smoked fish that went into a batch beside fresh fish is no better when that is smoked in a further batch, or taken as raw (FC 3-501.14)', async () => {
  const slow = await s.smoked(await fresh(), { ...s.good, cooledAt: s.at('19:30') });
  const both = await s.make([s.fromBatch(slow.id, 1000), s.landing(await s.land({ pooling: 'pooled' }), 1000)]);
  const later = await part(both, 1000);
  const smoked = await stage(later, 'smoke', '16:00', '18:00', { massOutG: 900, maxCoreC: 66, holdMinutes: 35, cooledTo21At: s.at('19:00'), cooledAt: s.at('19:30') });
  expect([smoked.verdict, smoked.checks.find((c: any) => c.ruleId === 'smoke.core' && c.part === 'lots').found]).toEqual(['do-not-share', `lot ${slow.lot}: do not share`]);
  expect(await verdict(await part(later, 100))).toBe('do-not-share');
  expect((await part(both, 100, 'raw')).verdict).toBe('do-not-share');
  // Put right in the first lot, it is put right below.
  await change(slow.stages.at(-1), { cooledAt: s.at('16:00') });
  expect([await verdict(later), (await s.page(later)).smokeDay]).toEqual(['clear', '2026-06-10']);
});

test('smoked fish does not become a batch of raw fish', async () => {
  const slow = await s.smoked(await fresh(), { ...s.good, cooledAt: s.at('19:30') });
  const { status, body } = await s.captain.post('/api/batches', { draws: [s.fromBatch(slow.id, 500)], productKind: 'raw' });
  expect([status, body.code, body.errors[0].field]).toEqual([409, 'conflict', 'draws.0.source']);
});

test('raw fish that was cured before it was drawn is held by that cure (brine.cold NY262.5)', async () => {
  const cured = await fresh();
  const done = await stage(cured, 'cure', '07:00', '13:00', { massOutG: 5000, maxPlaceC: 12 });
  const raw = await part(cured, 1000, 'raw');
  expect(of(raw, 'brine.cold')).toEqual(['not-met']);
  await change(done.stages.at(-1), { maxPlaceC: 3 });
  expect(of(await s.page(raw), 'brine.cold')).toEqual(['met']);
});

test('a batch split off before its fish was cold needs its own cooling, whatever its lot shows (FC 3-501.14)', async () => {
  at('13:30');
  const whole = await stage(await fresh(), 'smoke', '09:00', '13:00', { massOutG: 2500, maxCoreC: 66, holdMinutes: 35 });
  const warm = await part(whole, 500);
  const slow = await part(whole, 500);
  const further = await part(warm, 100);
  const odd = await part(whole, 100);
  at('20:00');
  expect((await stage(whole, 'cool', '13:00', '16:00', { massOutG: 1400, cooledTo21At: s.at('14:30'), cooledAt: s.at('16:00') })).verdict).toBe('clear');
  const cold = await part(whole, 500);
  expect([await verdict(warm), of(await s.page(warm), 'cool.fc'), await verdict(further)]).toEqual(['hold', ['not-recorded', 'not-recorded'], 'hold']);
  expect([cold.verdict, of(cold, 'cool.fc')]).toEqual(['clear', []]);
  const own = await stage(warm, 'cool', '13:30', '17:00', { massOutG: 400, cooledTo21At: s.at('15:00'), cooledAt: s.at('17:00') });
  expect([own.verdict, of(own, 'cool.fc')]).toEqual(['clear', ['met', 'met']]);
  // Packed, it is shown by readings alone.
  await s.pack(further, [50]);
  expect((await s.page(further)).checks.filter((c: any) => c.ruleId === 'cool.fc').map((c: any) => [c.evidenceAt, c.whatToDo])).toEqual(Array(2).fill(['readings', 'Record core readings from the smoke down to 5 C.']));
  // Cold before the smoke ended: that was other fish.
  expect((await stage(odd, 'cool', '11:00', '12:30', { massOutG: 100, cooledTo21At: s.at('11:30'), cooledAt: s.at('12:00') })).verdict).toBe('hold');
  // Taken from the first part before that was cold.
  expect(await verdict(further)).toBe('hold');
  const late = await stage(slow, 'cool', '13:30', '19:30', { massOutG: 500, cooledTo21At: s.at('14:30'), cooledAt: s.at('19:01') });
  expect(late.verdict).toBe('do-not-share');
  expect(await verdict(await part(late, 100))).toBe('do-not-share');
});

test('the cooling of a batch split off hot is shown by readings as well, from those of its lot on (FC 3-501.14)', async () => {
  at('13:30');
  const whole = await stage(await fresh(), 'smoke', '09:00', '13:00', { massOutG: 2500, maxCoreC: 66, holdMinutes: 35 });
  await record(whole, { place: 'core', readings: every('12:00', 5, [...line(64, 66, 12), 64, 61, 58]) });
  const quick = await part(whole, 500);
  const slow = await part(whole, 500);
  at('20:00');
  await record(whole, { place: 'core', readings: every('13:20', 5, [56, ...line(54, 20, 12), ...line(18, 4, 20)]) });
  expect((await s.page(whole)).verdict).toBe('clear');
  expect([await verdict(quick), await verdict(slow)]).toEqual(['hold', 'hold']);
  const made = await record(quick, { place: 'core', readings: every('13:20', 5, [56, ...line(54, 20, 12), ...line(18, 4, 20)]) });
  expect(made.verdict).toBe('clear');
  const warm = await record(slow, { place: 'core', readings: every('13:20', 10, line(56, 22, 24)) });
  expect(warm.verdict).toBe('do-not-share');
});

test('a dip made of fish that was not cold yet counts its hours from the smoke (FC 3-501.14)', async () => {
  at('13:30');
  const whole = await stage(await fresh(), 'smoke', '09:00', '13:00', { massOutG: 2500, maxCoreC: 66, holdMinutes: 35 });
  const dip = await part(whole, 500, 'dip');
  at('20:00');
  await stage(whole, 'cool', '13:00', '16:00', { massOutG: 2000, cooledTo21At: s.at('14:30'), cooledAt: s.at('16:00') });
  const mixed = await stage(dip, 'mix', '17:00', '17:30', { massOutG: 500, cooledAt: s.at('19:01') });
  expect([mixed.verdict, of(mixed, 'cool.fc')[1]]).toEqual(['do-not-share', 'not-met']);
  const fine = await part(whole, 500, 'dip');
  const later = await stage(fine, 'mix', '17:00', '17:30', { massOutG: 500, cooledAt: s.at('19:01') });
  await record(fine, { place: 'core', stageId: later.stages.at(-1).id, readings: every('17:00', 5, [...line(12, 4, 12), 4]) });
  expect([await verdict(fine), of(await s.page(fine), 'cool.fc')]).toEqual(['clear', []]);
  // Of a lot whose cooling nobody recorded nothing is known: on hold, and not thrown away.
  at('13:30');
  const untold = await stage(await fresh(), 'smoke', '09:00', '13:00', { massOutG: 2500, maxCoreC: 66, holdMinutes: 35 });
  const unknown = await part(untold, 500, 'dip');
  at('20:00');
  expect((await stage(unknown, 'mix', '17:00', '17:30', { massOutG: 500, cooledAt: s.at('19:31') })).verdict).toBe('hold');
});

test('a dip taken from a dip that was not cold yet counts from the first mixing (cool.ambient FC 3-501.14(B))', async () => {
  const batch = await s.smoked(await fresh());
  at('17:00');
  const first = await stage(await part(batch, 500, 'dip'), 'mix', '16:10', '16:30', { massOutG: 500 });
  const [pack] = await s.pack(first, [100], { packedAt: s.at('16:40') });
  const second = await s.make([s.fromPack(pack!.id)], { productKind: 'dip' });
  at('20:30');
  await change(first.stages.at(-1), { cooledAt: s.at('18:00') });
  const late = await stage(second, 'mix', '18:30', '18:40', { massOutG: 100, cooledAt: s.at('20:11') });
  expect([late.verdict, of(late, 'cool.ambient')]).toEqual(['do-not-share', ['not-met']]);
  expect((await change(late.stages.at(-1), { cooledAt: s.at('20:10') })).verdict).toBe('clear');
});

test('a club that asks for colder ends of the cooling makes nothing milder that was made of fish taken warm, and holds what its typed times do not show', async () => {
  at('13:30');
  const whole = await stage(await fresh(), 'smoke', '09:00', '13:00', { massOutG: 2500, maxCoreC: 66, holdMinutes: 35 });
  const [late, slow] = [await part(whole, 500, 'dip'), await part(whole, 500)];
  at('20:00');
  await stage(whole, 'cool', '13:00', '16:00', { massOutG: 1500, cooledTo21At: s.at('14:30'), cooledAt: s.at('16:00') });
  await stage(late, 'mix', '17:00', '17:30', { massOutG: 500, cooledAt: s.at('19:01') });
  await stage(slow, 'cool', '13:30', '19:30', { massOutG: 500, cooledTo21At: s.at('14:30'), cooledAt: s.at('19:01') });
  const cold = await part(whole, 500);
  const batch = await s.smoked(await fresh());
  at('17:00');
  const mixed = await stage(await part(batch, 500, 'dip'), 'mix', '16:10', '16:30', { massOutG: 500 });
  const [pack] = await s.pack(mixed, [200], { packedAt: s.at('16:40') });
  const second = await s.make([s.fromPack(pack!.id)], { productKind: 'dip' });
  at('20:30');
  await change(mixed.stages.at(-1), { cooledAt: s.at('18:00') });
  await stage(second, 'mix', '18:30', '18:40', { massOutG: 200, cooledAt: s.at('20:11') });
  const all = async () => Promise.all([late, slow, whole, cold, mixed, second].map(verdict));
  expect(await all()).toEqual(['do-not-share', 'do-not-share', 'clear', 'clear', 'clear', 'do-not-share']);
  const limit = async (id: string, value: number | null, version = 0) => (await s.captain.put(`/api/rules/limits/${id}`, { value, version })).status;
  expect([await limit('cool.fc.end.celsius', 5.1), await limit('cool.fc.end.celsius', 4), await limit('cool.ambient.celsius', 4)]).toEqual([422, 200, 200]);
  expect(await all()).toEqual(['do-not-share', 'do-not-share', 'hold', 'hold', 'hold', 'do-not-share']);
  expect([await limit('cool.fc.end.celsius', null, 1), await limit('cool.ambient.celsius', null, 1)]).toEqual([200, 200]);
  expect(await all()).toEqual(['do-not-share', 'do-not-share', 'clear', 'clear', 'clear', 'do-not-share']);
});

test('a store too warm for raw fish holds what was split off after it, and not what left before (raw.cold NY262.3)', async () => {
  at('08:00');
  const whole = await fresh();
  const early = await part(whole, 500);
  const shelf = await record(whole, { place: 'storage', readings: [{ at: s.at('07:00'), celsius: 3 }, { at: s.at('07:30'), celsius: 3.2 }] });
  at('10:00');
  const warm = await record(whole, { place: 'storage', readings: [{ at: s.at('09:30'), celsius: 9 }] });
  const late = await part(whole, 500);
  const raw = await part(late, 100, 'raw');
  at('20:00');
  const smoke = { massOutG: 400, ...s.good };
  const [a, b] = [await stage(early, 'smoke', '10:30', '13:00', smoke), await stage(late, 'smoke', '10:30', '13:00', { ...smoke, massOutG: 300 })];
  expect([a.verdict, of(a, 'raw.cold')]).toEqual(['clear', ['met']]);
  expect([b.verdict, of(b, 'raw.cold'), of(await s.page(raw), 'raw.cold')]).toEqual(['hold', ['not-met'], ['not-met']]);
  expect(await withdraw(warm)).toBe(200);
  expect([await verdict(late), of(await s.page(raw), 'raw.cold')]).toEqual(['clear', ['met']]);
  expect([await withdraw(shelf), of(await s.page(late), 'raw.cold')]).toEqual([200, []]);
});

test('thawing too warm holds what was split off after it (thaw NY262; FC 3-501.13)', async () => {
  const whole = await fresh({ caught_at: '2026-06-08T04:00:00Z', iced_at: '2026-06-08T05:00:00Z' });
  const prepared = await stage(whole, 'prepare', '06:30', '08:30', { massOutG: 5000, fromFrozen: true });
  const thaw = prepared.stages.at(-1);
  const warm = await record(whole, { place: 'storage', stageId: thaw.id, readings: every('06:30', 30, [8, 8, 8]) });
  const late = await part(whole, 500);
  const smoked = await stage(late, 'smoke', '09:00', '13:00', { massOutG: 400, ...s.good });
  expect([smoked.verdict, of(smoked, 'thaw')]).toEqual(['hold', ['not-met']]);
  expect([await withdraw(warm), await verdict(late), of(await s.page(late), 'thaw')]).toEqual([200, 'clear', ['not-recorded']]);
  await record(whole, { place: 'storage', stageId: thaw.id, readings: every('06:30', 30, [8, 8, 8]) });
  expect(await verdict(late)).toBe('hold');
  // It never was in a freezer: then nothing thawed, and the place counts as where raw fish waits.
  await change(thaw, { fromFrozen: false });
  expect([await verdict(late), of(await s.page(late), 'thaw'), of(await s.page(late), 'raw.cold')]).toEqual(['hold', [], ['not-met']]);
});

test('hours of a cure add up along every lot that the fish went through, one after the other (brine.cold NY262.5)', async () => {
  const first = await fresh();
  await stage(first, 'cure', '02:00', '05:00', { massOutG: 5000 });
  const second = await part(first, 3000);
  const cured = await stage(second, 'cure', '05:30', '08:00', { massOutG: 3000 });
  const third = await part(second, 1000);
  const smoked = await stage(third, 'smoke', '09:00', '13:00', { massOutG: 800, ...s.good });
  expect([smoked.verdict, of(smoked, 'brine.cold')]).toEqual(['hold', ['not-recorded', 'not-recorded']]);
  await change(cured.stages.at(-1), { startedAt: s.at('07:00') });
  expect([await verdict(third), of(await s.page(third), 'brine.cold')]).toEqual(['clear', []]);
});

test('a cure that is opened again after fish was taken from it still counts for that fish (brine.cold NY262.5)', async () => {
  const whole = await fresh();
  const cured = await stage(whole, 'cure', '02:00', '08:00', { massOutG: 5000, maxPlaceC: 9 });
  const some = await part(whole, 1000);
  expect((await stage(some, 'smoke', '09:00', '13:00', { massOutG: 800, ...s.good })).verdict).toBe('hold');
  await change(cured.stages.at(-1), { finishedAt: null, massOutG: null });
  expect([await verdict(some), of(await s.page(some), 'brine.cold')]).toEqual(['hold', ['not-met']]);
});

test('a cure of smoked fish in a batch of its own is judged (brine.cold NY262.5)', async () => {
  const some = await part(await s.smoked(await fresh()), 1000);
  expect((await stage(some, 'cure', '14:00', '19:00', { massOutG: 1000, maxPlaceC: 12 })).verdict).toBe('hold');
});

test('nitrite past the limit holds whatever was in that brine, or was taken from that lot; a good figure of another lot clears nothing (HG ch. 13)', async () => {
  const whole = await fresh();
  const before = await part(whole, 500);
  await stage(whole, 'cure', '06:00', '08:00', { massOutG: 4500 });
  const after = await part(whole, 1000);
  const [a, b] = [await stage(before, 'smoke', '09:00', '13:00', { massOutG: 400, ...s.good }), await stage(after, 'smoke', '09:00', '13:00', { massOutG: 800, ...s.good })];
  const dip = await part(after, 100, 'dip');
  expect([a.verdict, b.verdict]).toEqual(['clear', 'clear']);
  const bad = figure(await measured(whole, 'nitrite', 201), 201);
  expect([await verdict(before), await verdict(after), of(await s.page(after), 'nitrite')]).toEqual(['clear', 'hold', ['not-met']]);
  expect([await takenBack(bad), await verdict(after)]).toEqual([200, 'clear']);
  await measured(whole, 'nitrite', 150);
  expect(of(await s.page(after), 'nitrite')).toEqual([]);
  // Of the part itself, smoked already, and of a dip of it.
  const some = await part(after, 200);
  expect((await measured(some, 'nitrite', 201)).verdict).toBe('hold');
  expect(of(await measured(dip, 'nitrite', 201), 'nitrite')).toEqual(['not-met']);
});

test('nitrite past the limit in one part of a cured lot holds the lot and its other parts, which lay in the same brine; taken back, none of them (HG ch. 13)', async () => {
  const whole = await fresh();
  const raw = await part(whole, 500);
  await stage(whole, 'cure', '06:00', '08:00', { massOutG: 4500 });
  const [one, other, third] = [await part(whole, 1000), await part(whole, 1000), await part(whole, 500)];
  for (const [batch, grams] of [[raw, 400], [one, 800], [other, 800], [whole, 1600]] as const) expect([(await stage(batch, 'smoke', '09:00', '13:00', { massOutG: grams, ...s.good })).verdict]).toEqual(['clear']);
  const deeper = await part(third, 200);
  await stage(deeper, 'smoke', '09:00', '13:00', { massOutG: 160, ...s.good });
  const all = async () => Promise.all([raw, one, other, whole, deeper].map(verdict));
  const bad = figure(await measured(one, 'nitrite', 201), 201);
  expect(await all()).toEqual(['clear', 'hold', 'hold', 'hold', 'hold']);
  expect((await s.page(other)).checks.find((c: any) => c.ruleId === 'nitrite')).toMatchObject({ state: 'not-met', found: expect.stringContaining('201 ppm'), evidenceAt: 'contents' });
  // What is taken from the same lot later, and a dip of the other part.
  const dip = await part(other, 100, 'dip');
  expect([await verdict(await part(whole, 100)), of(await s.page(dip), 'smoke.core')]).toEqual(['hold', ['not-met']]);
  expect([await takenBack(bad), await all()]).toEqual([200, ['clear', 'clear', 'clear', 'clear', 'clear']]);
  // A good figure of one clears nothing and shows nothing at the other.
  await measured(other, 'nitrite', 150);
  expect(of(await s.page(one), 'nitrite')).toEqual([]);
  // From two lots down, through a pack into a dip: in doubt it counts.
  const deep = figure(await measured(deeper, 'nitrite', 230), 230);
  expect(await all()).toEqual(['clear', 'hold', 'hold', 'hold', 'hold']);
  await takenBack(deep);
  expect(await all()).toEqual(['clear', 'clear', 'clear', 'clear', 'clear']);
});

test('nitrite of a part that was cured again in a brine of its own, or of fish that joined from elsewhere, is not that of the lot it came from (HG ch. 13)', async () => {
  const whole = await fresh();
  await stage(whole, 'cure', '06:00', '07:00', { massOutG: 4500 });
  const [again, beside] = [await part(whole, 1000), await part(whole, 500)];
  await stage(again, 'cure', '07:10', '08:10', { massOutG: 1000 });
  const below = await part(again, 200);
  const elsewhere = await fresh();
  await stage(elsewhere, 'cure', '06:00', '08:00', { massOutG: 4500 });
  const states = async (...batches: { id: string }[]) => Promise.all(batches.map(async (batch) => of(await s.page(batch), 'nitrite')));
  await measured(below, 'nitrite', 250);
  expect(await states(again, whole, beside, elsewhere)).toEqual([['not-met'], [], [], []]);
  // Of a batch made of both: whose it is nobody can say, so it counts for both.
  const both = await s.make([s.fromBatch(elsewhere.id, 300), s.fromBatch(beside.id, 100)]);
  await measured(both, 'nitrite', 240);
  expect(await states(whole, elsewhere, both)).toEqual([['not-met'], ['not-met'], ['not-met']]);
  // A figure that was there before the fish came is not of it.
  const [lot, other] = [await fresh(), await fresh()];
  await stage(other, 'cure', '06:00', '08:00', { massOutG: 4500 });
  await measured(lot, 'nitrite', 260);
  at('20:30');
  expect((await s.captain.post(`/api/batches/${lot.id}/draws`, { draws: [s.fromBatch(other.id, 100)] })).status).toBe(201);
  expect(await states(other, await part(other, 50))).toEqual([[], []]);
});

const join = async (batch: { id: string }, draw: object) => {
  const { status, body } = await s.captain.post(`/api/batches/${batch.id}/draws`, { draws: [draw] });
  if (status !== 201) throw new Error(JSON.stringify(body));
  return body;
};
const chilled = (page: any) => page.checks.filter((c: any) => /^chill\.(hot|mild)$/.test(c.ruleId)).map((c: any) => c.state).sort();
/** On ice only after 9 h and 10 minutes (chill.mild). */
const tooLate = (caught: string | null, iced: string) => s.land({ pooling: 'pooled', caught_at: caught && s.at(caught), iced_at: s.at(iced), core_c: null });

test('a landing that was caught after a part had left its lot is not in that part; in doubt it is (chill.mild HG ch. 7, memory)', async () => {
  const split = async () => {
    at('09:00');
    const whole = await fresh();
    return [whole, await part(whole, 1000)] as const;
  };
  const found = async (...batches: { id: string }[]) => Promise.all(batches.map(async (batch) => chilled(await s.page(batch))));
  const [lot, left] = await split();
  at('20:00');
  await join(lot, s.landing(await tooLate('09:01', '18:30'), 500));
  expect(await found(lot, left)).toEqual([['met', 'not-met'], ['met']]);
  // Taken from the lot now, it may be of that.
  expect(await found(await part(lot, 100))).toEqual([['met', 'not-met']]);
  // A part of the part neither, and what was taken from the lot again as well as before is.
  expect(await found(await part(left, 100))).toEqual([['met']]);
  await join(left, s.fromBatch(lot.id, 50));
  expect(await found(left)).toEqual([['met', 'not-met']]);
  // Caught at that very time or before it, or nobody knows when: only the order of the records says that it came later.
  for (const caught of ['09:00', '08:00', null]) {
    const [other, gone] = await split();
    at('20:00');
    await join(other, s.landing(await tooLate(caught, '18:30'), 500));
    expect([caught, (await found(gone))[0]]).toEqual([caught, ['met', caught === null ? 'not-recorded' : 'not-met']]);
  }
  // Recorded as drawn before the part, whatever time was typed.
  at('09:00');
  const early = await fresh();
  await join(early, s.landing(await tooLate('09:30', '19:00'), 500));
  expect(await found(await part(early, 1000))).toEqual([['met', 'not-met']]);
});

test('a corrected time of the catch is followed to the part that left before it (chill.mild HG ch. 7, memory)', async () => {
  at('09:00');
  const lot = await fresh();
  const left = await part(lot, 1000);
  at('20:00');
  const late = await tooLate('09:30', '19:00');
  await join(lot, s.landing(late, 500));
  expect(chilled(await s.page(left))).toEqual(['met']);
  const { version } = (await s.captain.get(`/api/landings/${late}`)).body;
  expect((await s.captain.patch(`/api/landings/${late}`, { version, caughtAt: s.at('08:30') })).status).toBe(200);
  expect(chilled(await s.page(left))).toEqual(['met', 'not-met']);
});

test('fish that was still going through a stage of its own lot when a part left another is not in that part; without that stage it may be (chill.mild HG ch. 7; brine.start NY262.5)', async () => {
  for (const [from, to, there] of [['09:01', '10:00', false], ['09:00', '10:00', true], ['07:00', '10:00', true], [null, null, true]] as const) {
    at('09:00');
    const lot = await fresh();
    const left = await part(lot, 1000);
    at('20:00');
    const other = await s.make([s.landing(await tooLate('04:00', '14:00'), 2000)]);
    if (from) {
      const cured = await stage(other, 'cure', from, to, { massOutG: 1900, maxPlaceC: 3 });
      await record(other, { place: 'brine', stageId: cured.stages.at(-1).id, readings: [{ at: s.at(from), celsius: 18 }] });
    }
    await join(lot, s.fromBatch(other.id, 500));
    const page = await s.page(left);
    expect([from, chilled(page), of(page, 'brine.start')]).toEqual([from, there ? ['met', 'not-met'] : ['met'], there && from ? ['not-met'] : []]);
    expect([chilled(await s.page(lot)), of(await s.page(lot), 'brine.start')]).toEqual([['met', 'not-met'], from ? ['not-met'] : []]);
  }
});

test('a part whose weight was changed, and fish that joined its own lot after the stage or stayed out of it, are in doubt (chill.mild HG ch. 7, memory)', async () => {
  at('09:00');
  const lot = await fresh();
  const left = await part(lot, 1000);
  at('20:00');
  await join(lot, s.landing(await tooLate('09:30', '19:00'), 500));
  expect(chilled(await s.page(left))).toEqual(['met']);
  const [draw] = (await s.page(left)).draws;
  expect((await s.crew.patch(`/api/draws/${draw.id}`, { version: draw.version, grams: 1200 })).status).toBe(200);
  expect(chilled(await s.page(left))).toEqual(['met', 'not-met']);
  for (const late of ['joined', 'out'] as const) {
    at('09:00');
    const whole = await fresh();
    const gone = await part(whole, 1000);
    at('20:00');
    const other = await s.make([s.landing(await (late === 'out' ? tooLate('04:00', '14:00') : s.land({ pooling: 'pooled' })), 2000)]);
    await stage(other, 'prepare', '09:30', '10:00', { massInG: late === 'out' ? 1500 : 2000, massOutG: late === 'out' ? 1500 : 2000 });
    if (late === 'joined') await join(other, s.landing(await tooLate('04:00', '14:00'), 500));
    await join(whole, s.fromBatch(other.id, 500));
    expect([late, chilled(await s.page(gone))]).toEqual([late, late === 'out' ? ['met', 'not-met'] : ['met', 'met', 'not-met']]);
  }
});

test('salt: a figure of the lot smoked with it lowers and never raises what a part may rest on (salt.rop HG ch. 13)', async () => {
  const whole = await s.smoked(await fresh());
  const some = await part(whole, 1000);
  const vacuum = { weightsG: [200], packageKind: 'vacuum', storage: 'refrigerated', packedAt: s.at('17:00') };
  await measured(whole, 'water-phase-salt', 3.6);
  expect((await s.crew.post(`/api/batches/${some.id}/packs`, vacuum)).status).not.toBe(201);
  await measured(some, 'water-phase-salt', 3.6);
  expect((await s.crew.post(`/api/batches/${some.id}/packs`, vacuum)).status).toBe(201);
  expect(await verdict(some)).toBe('clear');
  const low = figure(await measured(whole, 'water-phase-salt', 3.4), 3.4);
  expect(await s.page(some)).toMatchObject({ verdict: 'do-not-share', packs: [{ lastDay: null }] });
  expect([await takenBack(low), await verdict(some)]).toEqual([200, 'clear']);
});

test('a pack without air that may not be shared does not come clear by going into a dip (salt.rop HG ch. 13)', async () => {
  const whole = await s.smoked(await fresh());
  const salt = figure(await measured(whole, 'water-phase-salt', 3.6), 3.6);
  const [bad] = await s.pack(whole, [200], { packageKind: 'vacuum' });
  expect([await takenBack(salt), await verdict(whole)]).toEqual([200, 'hold']);
  const dip = await s.make([s.fromPack(bad!.id)], { productKind: 'dip' });
  // The pack is used up, so the rest of its lot is good again.
  expect(await verdict(whole)).toBe('clear');
  const mixed = await stage(dip, 'mix', '18:00', '18:30', { massOutG: 200, cooledAt: s.at('19:00') });
  expect([mixed.verdict, of(mixed, 'salt.rop')]).toEqual(['hold', ['not-recorded']]);
  await measured(whole, 'water-phase-salt', 3.4);
  expect(await verdict(dip)).toBe('do-not-share');
});

test('a lot is judged anew when a draw from it is undone or corrected (MI569.7), or a pack of it comes back', async () => {
  const whole = await fresh();
  const some = await part(whole, 1000);
  const smoked = await stage(whole, 'smoke', '09:00', '13:00', { massOutG: 2500, ...s.good });
  expect(smoked.verdict).toBe('clear');
  expect((await s.crew.patch(`/api/draws/${some.draws[0].id}`, { version: 1, grams: 500 })).status).toBe(200);
  expect([await verdict(whole), of(await s.page(whole), 'lot.code')]).toEqual(['hold', ['not-met']]);
  expect((await s.crew.patch(`/api/draws/${some.draws[0].id}`, { version: 2, cancelled: true })).status).toBe(200);
  const [row] = await s.club.database.query<{ verdict: string }>('', `select verdict from batch where id = $1`, [whole.id]);
  expect(row!.verdict).toBe('hold');

  const other = await s.smoked(await fresh());
  const salt = figure(await measured(other, 'water-phase-salt', 3.6), 3.6);
  const [pack] = await s.pack(other, [200], { packageKind: 'vacuum' });
  const dip = await s.make([s.fromPack(pack!.id)], { productKind: 'dip' });
  await takenBack(salt);
  expect((await s.crew.patch(`/api/draws/${dip.draws[0].id}`, { version: 1, cancelled: true })).status).toBe(200);
  const [back] = await s.club.database.query<{ verdict: string }>('', `select verdict from batch where id = $1`, [other.id]);
  expect(back!.verdict).toBe('hold');
});

test('raw fish that joins after the freezing was logged was not in it (FC 3-402.11)', async () => {
  s.club.clock.now = new Date('2026-06-03T12:00:00Z');
  const raw = await fresh({ caught_at: '2026-06-03T04:00:00Z', iced_at: '2026-06-03T05:00:00Z' }, 'raw');
  at('20:00');
  const frozen = Array.from({ length: 337 }, (_, i) => ({ at: new Date(Date.parse('2026-06-03T12:00:00Z') + i * 1_800_000).toISOString(), celsius: -21 }));
  expect((await record(raw, { place: 'core', readings: frozen })).verdict).toBe('clear');
  at('20:01');
  const joined = await s.captain.post(`/api/batches/${raw.id}/draws`, { draws: [s.landing(await s.land({ pooling: 'pooled' }), 1000)] });
  expect([joined.body.verdict, joined.body.checks.filter((c: any) => c.ruleId === 'parasite').map((c: any) => [c.state, c.found])]).toEqual(['hold', [['not-recorded', 'no freezing log since its last fish joined']]]);
  // Nor does the log of the lot that it was taken from clear a part.
  expect((await part(raw, 500, 'raw')).verdict).toBe('hold');
});

test('a cold log of one lot does not hide the warm hours of another in a batch made of both (chill.exposure HG ch. 7, memory)', async () => {
  const [cold, warm] = [await fresh(), await fresh()];
  const logged = (from: string, celsius: number) => ({ place: 'core', readings: every(from, 10, Array.from({ length: 28 }, () => celsius)) });
  await record(cold, logged('04:05', 2));
  await record(warm, logged('04:00', 22));
  expect(await verdict(warm)).toBe('do-not-share');
  expect((await s.make([s.fromBatch(cold.id, 1000), s.fromBatch(warm.id, 1000)])).verdict).toBe('do-not-share');
});

test('a laboratory figure from before the last fish joined is not of that fish (salt.rop HG ch. 13)', async () => {
  const batch = await fresh();
  await measured(batch, 'water-phase-salt', 3.6);
  at('20:01');
  await s.captain.post(`/api/batches/${batch.id}/draws`, { draws: [s.landing(await s.land({ pooling: 'pooled' }), 1000)] });
  await s.smoked({ ...batch, onHandGrams: 6000 });
  const vacuum = { weightsG: [200], packageKind: 'vacuum', storage: 'refrigerated', packedAt: s.at('17:00') };
  const refused = await s.crew.post(`/api/batches/${batch.id}/packs`, vacuum);
  expect([refused.status, refused.body.errors[0].field]).toEqual([422, 'storage']);
  s.club.clock.now = new Date('2026-06-11T08:00:00Z');
  const next = await s.captain.post(`/api/batches/${batch.id}/measurements`, { kind: 'water-phase-salt', value: 3.6, part: 'loin', laboratory: 'Quay Laboratory', sampledDay: '2026-06-11', reportedDay: '2026-06-11' });
  expect(next.status).toBe(201);
  expect((await s.crew.post(`/api/batches/${batch.id}/packs`, vacuum)).status).toBe(201);
});

test('a dip drawn from a dip by weight keeps no longer than that dip (date.mixed FC 3-501.17(C), date.dip)', async () => {
  const batch = await s.smoked(await fresh());
  const first = await stage(await part(batch, 500, 'dip'), 'mix', '16:10', '16:30', { massOutG: 500, cooledAt: s.at('17:00') });
  expect(first.verdict).toBe('clear');
  s.club.clock.now = new Date('2026-06-12T12:00:00Z');
  const second = await part(first, 200, 'dip');
  const { body: mixed } = await s.crew.post(`/api/batches/${second.id}/stages`, { kind: 'mix', startedAt: '2026-06-12T10:00:00Z', finishedAt: '2026-06-12T10:30:00Z', massOutG: 200, cooledAt: '2026-06-12T11:00:00Z' });
  expect([mixed.verdict, of(mixed, 'date.mixed')]).toEqual(['clear', ['met']]);
  expect((await s.pack(second, [100], { packedAt: '2026-06-12T11:30:00Z' }))[0]!.lastDay).toBe('2026-06-12');
  await change(first.stages.at(-1), { finishedAt: null, massOutG: null, cooledAt: null });
  expect(await s.page(second)).toMatchObject({ verdict: 'hold' });
});

test('corrections of a landing reach what was split off and its packs: ice too late, another species, and its fat for raw fish', async () => {
  const landed = await s.land({ pooling: 'pooled' });
  const whole = await s.make([s.landing(landed, 5000)]);
  const some = await stage(await part(whole, 1000), 'smoke', '09:00', '13:00', { massOutG: 800, ...s.good });
  const dip = await part(some, 100, 'dip');
  const correct = async (more: object) => (await s.crew.patch(`/api/landings/${landed}`, { version: (await s.crew.get(`/api/landings/${landed}`)).body.version, reason: 'Read again', ...more })).status;
  expect(some.verdict).toBe('clear');
  expect(await correct({ icedAt: s.at('13:30') })).toBe(200);
  expect([await verdict(some), of(await s.page(dip), 'smoke.core')]).toEqual(['do-not-share', ['not-met']]);
});

test('a recall of the lot stops what was split off before it was smoked; a stage undone there takes the days from the packs below', async () => {
  const whole = await s.smoked(await fresh());
  const some = await part(whole, 500);
  const [pack] = await s.pack(some, [200]);
  expect([some.verdict, pack!.lastDay]).toEqual(['clear', '2026-06-16']);
  await change(whole.stages.at(-1), { startedAt: '2026-06-09T20:00:00Z' });
  expect((await s.page(some)).packs[0].lastDay).toBe('2026-06-15');
  await s.captain.post(`/api/batches/${whole.id}/recall`, { reason: 'Glass' });
  expect(await s.page(some)).toMatchObject({ recalled: true });
  await s.captain.post(`/api/batches/${whole.id}/recall/lift`, { reason: 'None found' });
  await change({ ...whole.stages.at(-1), version: 2 }, { cancelled: true });
  expect(await s.page(some)).toMatchObject({ verdict: 'hold', smokeDay: null, packs: [{ lastDay: null }] });
  expect((await s.ann.post('/api/claims', { packId: pack!.id })).body.code).toBe('on-hold');
});

test.each([['Pacific/Auckland', '2026-06-10T20:00:00Z', '2026-06-11', '2026-06-12'], ['America/Halifax', '2026-06-11T01:00:00Z', '2026-06-10', '2026-06-11']])(
  'a sample of the day on which the last fish joined may have been taken before it: of the club’s day, in %s (salt.rop HG ch. 13)', async (zone, joining, sameDay, nextDay) => {
    const club = (await s.captain.get('/api/club')).body;
    expect((await s.captain.patch('/api/club', { version: club.version, timeZone: zone })).status).toBe(200);
    s.club.clock.now = new Date(Date.parse(joining) - 60_000);
    const batch = await fresh();
    s.club.clock.now = new Date(joining);
    expect((await s.captain.post(`/api/batches/${batch.id}/draws`, { draws: [s.landing(await s.land({ pooling: 'pooled' }), 1000)] })).status).toBe(201);
    s.club.clock.now = new Date('2026-06-12T12:00:00Z');
    await s.smoked({ ...batch, onHandGrams: 6000 });
    const sample = async (sampledDay: string) => (await s.captain.post(`/api/batches/${batch.id}/measurements`, { kind: 'water-phase-salt', value: 3.6, part: 'loin', laboratory: 'Quay Laboratory', sampledDay, reportedDay: sampledDay })).body.saltForNoAir;
    expect([await sample(sameDay), await sample(nextDay)]).toEqual([false, true]);
    const now = (await s.captain.get('/api/club')).body;
    await s.captain.patch('/api/club', { version: now.version, timeZone: 'Europe/London' });
  },
);
