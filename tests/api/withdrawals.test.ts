import { afterAll, beforeAll, expect, test } from 'vitest';
import { batchDetail } from '../../server/contract/batches.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const fresh = async () => s.make([s.landing(await s.land(), 5000)]);
const read = async (batch: { id: string }, place: string, from: string, celsius: number[], more: object = {}) => {
  const { status, body } = await s.crew.post(`/api/batches/${batch.id}/readings`, { place, readings: celsius.map((value, i) => ({ at: new Date(Date.parse(s.at(from)) + i * 300_000).toISOString(), celsius: value })), ...more });
  expect(status).toBe(201);
  return body.list;
};
const change = async (list: { id: string; version: number }, what: object, person = s.crew) => {
  const { status, body } = await person.patch(`/api/reading-lists/${list.id}`, { version: list.version, ...what });
  expect(status, JSON.stringify(body)).toBe(200);
  return body.list;
};
const told = async (batch: { id: string }, person = s.crew) => {
  const { withdrawals } = await s.page(batch, person);
  return withdrawals;
};

test('a withdrawn list is told with who, when and why, at the rules that it was read for, until it counts again', async () => {
  const batch = await s.smoked(await fresh());
  expect(await told(batch)).toEqual([]);
  const list = await read(batch, 'core', '10:00', [40, 45, 50], { probe: 'Rack 2' });
  const gone = await change(list, { withdrawn: true, reason: 'The other smoker’s log' });
  const [one, ...more] = await told(batch, s.captain);
  expect(more).toEqual([]);
  expect(one).toEqual({
    kind: 'readings', ruleIds: expect.arrayContaining(['smoke.core', 'smoke.core-home']), place: 'core', probe: 'Rack 2', readings: 3, of: 3, measured: null, value: null,
    at: '2026-06-10T20:00:00.000Z', by: { id: s.crew.id, name: 'Rory Vik' }, reason: 'The other smoker’s log',
  });
  expect(one.ruleIds).not.toContain('cool.fc');
  const back = await change(gone, { withdrawn: false });
  expect(await told(batch)).toEqual([]);
  await change(back, { withdrawn: true, reason: 'Looked again: not ours' }, s.captain);
  expect(await told(batch)).toMatchObject([{ by: { name: 'Isla Muir' }, reason: 'Looked again: not ours' }]);
});

test('single readings are told by who withdrew them and why; one that came back is not', async () => {
  const batch = await s.smoked(await fresh());
  const list = await read(batch, 'storage', '17:30', [9, 3, 3, 8, 3, 7]);
  const a = await change(list, { withdrawnNos: [1], reason: 'The door stood open' });
  const b = await change(a, { withdrawnNos: [1, 4], reason: 'In the hand' }, s.captain);
  const c = await change(b, { withdrawnNos: [1, 4, 6], reason: 'The door stood open' });
  expect((await told(batch)).map((w: any) => [w.readings, w.of, w.by.name, w.reason])).toEqual([[2, 6, 'Rory Vik', 'The door stood open'], [1, 6, 'Isla Muir', 'In the hand']]);
  const d = await change(c, { withdrawnNos: [1, 6] });
  expect((await told(batch)).map((w: any) => [w.readings, w.reason])).toEqual([[2, 'The door stood open']]);
  await change(d, { withdrawnNos: [1, 4, 6], reason: 'After all' });
  expect((await told(batch)).map((w: any) => [w.readings, w.reason])).toEqual([[1, 'After all'], [2, 'The door stood open']]);
  expect((await told(batch))[0].ruleIds).toContain('hold.cold');
});

test('a figure and a release are told too; of a rule let go anew nothing is', async () => {
  const batch = await s.smoked(await fresh());
  const { measurements: [figure] } = (await s.captain.post(`/api/batches/${batch.id}/measurements`, { kind: 'water-phase-salt', value: 3.4, part: 'loin', laboratory: 'Harbour Laboratory', sampledDay: '2026-06-10', reportedDay: '2026-06-10' })).body;
  await s.captain.patch(`/api/measurements/${figure.id}`, { version: 1, withdrawn: true, reason: 'Sample of the belly' });
  expect(await told(batch)).toMatchObject([{ kind: 'figure', measured: 'water-phase-salt', value: 3.4, ruleIds: expect.arrayContaining(['salt.rop', 'salt.air']), by: { name: 'Isla Muir' }, reason: 'Sample of the belly' }]);

  await read(batch, 'storage', '18:00', [4.5]);
  const letGo = async () => (await s.captain.post(`/api/batches/${batch.id}/releases`, { ruleId: 'hold.cold', reason: 'Open for loading' })).body.releases[0];
  const end = async (reason: string) => s.captain.patch(`/api/releases/${(await s.page(batch)).releases[0].id}`, { version: 1, withdrawn: true, reason });
  await letGo();
  await end('It was longer');
  const releases = async () => (await told(batch)).filter((w: any) => w.kind === 'release').map((w: any) => [w.ruleIds, w.by.name, w.reason]);
  expect(await releases()).toEqual([[['hold.cold'], 'Isla Muir', 'It was longer']]);
  await letGo();
  expect(await releases()).toEqual([]);
  await end('Longer still');
  expect(await releases(), 'the last one alone').toEqual([[['hold.cold'], 'Isla Muir', 'Longer still']]);
});

test('a member is told none, as the record is for crew and captains; a page that a browser keeps is another once something is withdrawn', async () => {
  const batch = await s.smoked(await fresh());
  const list = await read(batch, 'core', '10:00', [40, 45, 50]);
  const url = `/api/batches/${batch.id}`;
  const tag = (await s.crew.get(url)).headers['etag'] as string;
  await change(list, { withdrawn: true, reason: 'Ben put it into his own fish' });
  const anew = await s.crew.get(url, { 'if-none-match': tag });
  expect([anew.status, anew.body.withdrawals.length]).toEqual([200, 1]);
  expect(batchDetail.strict().parse(anew.body)).toEqual(anew.body);
  expect(await told(batch, s.captain)).toHaveLength(1);
  const seen = await s.ann.get(url);
  expect([seen.body.withdrawals, JSON.stringify(seen.body).includes('Ben put it')]).toEqual([[], false]);
  expect((await s.ann.get(url, { 'if-none-match': anew.headers['etag'] as string })).status, 'the page of crew is no member’s').toBe(200);
});
