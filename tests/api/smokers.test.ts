import { afterAll, beforeAll, expect, test } from 'vitest';
import { madeSmoke } from '../support/made-smoke.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const DAY_MS = 86_400_000;
let day = 0;

const smoker = async (name: string, kind = 'smoker') => (await s.captain.post('/api/stations', { name, kind, capacityUnit: 'racks', capacity: 6 })).body as { id: string; name: string };

type Made = { id: string; lot: string; stageId: string; coreId: string; thicknessMm: number };
/** A smoke of its own day in a smoker of h 16 and 33 % humidity, with its logs; `slotAt` books it there. */
async function smokedIn(slotAt: { id: string } | null, { thicknessMm = 22, core = 49, cured = null as number | null } = {}): Promise<Made> {
  day += 1;
  const shift = (iso: string) => new Date(Date.parse(iso) - day * DAY_MS).toISOString();
  const batch = await s.make([s.landing(await s.land(), 5000)]);
  const times = { startedAt: shift(s.at('09:00')), finishedAt: shift(s.at('13:00')) };
  if (cured !== null) {
    const cure = { method: 'dry', saltGrams: 500, saltKind: 'table-salt', thicknessMm: cured, skin: true, temperatureC: 3, fat: 'fatty', onceFrozen: false };
    const told = await s.crew.post(`/api/batches/${batch.id}/stages`, { kind: 'cure', startedAt: shift(s.at('04:00')), finishedAt: shift(s.at('08:00')), massOutG: 5000, cure });
    expect(told.status, JSON.stringify(told.body)).toBe(201);
  }
  const { body } = await s.crew.post(`/api/batches/${batch.id}/stages`, { kind: 'smoke', ...times, massOutG: 4000 });
  const stageId = body.stages.at(-1).id as string;
  if (slotAt) {
    const slot = await s.crew.post('/api/slots', { stationId: slotAt.id, batchId: batch.id, stageKind: 'smoke', startsAt: times.startedAt, endsAt: times.finishedAt, amount: 1 });
    expect(slot.status, JSON.stringify(slot.body)).toBe(201);
  }
  const log = madeSmoke({ hWPerM2K: 16, humidityPct: 33, thicknessMm, startAt: times.startedAt });
  const record = async (place: string, readings: object[]) => (await s.crew.post(`/api/batches/${batch.id}/readings`, { place, stageId, source: 'pasted', readings })).body.list.id as string;
  await record('chamber', log.chamber);
  return { id: batch.id, lot: batch.lot, stageId, coreId: await record('core', log.core.slice(0, core)), thicknessMm };
}

const add = (batch: Made, more: object = {}) => ({ draught: 'natural', add: { batchId: batch.id, thicknessMm: batch.thicknessMm, facesOpen: 'both', ...more } });
const learn = (station: { id: string }, body: object, key?: string) => s.crew.post(`/api/stations/${station.id}/fits`, body, key);
const read = async (station: { id: string }, person = s.ann) => (await person.get(`/api/stations/${station.id}/fits`)).body;
const onlyField = (answer: { body: any }) => answer.body.errors?.[0]?.field;

test('a smoker learns from a smoke that its slot says was smoked there; the fit is kept, narrows with each smoke, and everybody sees it', async () => {
  const north = await smoker('North smoker');
  const [first, second] = [await smokedIn(north, { cured: 22 }), await smokedIn(north, { thicknessMm: 28 })];
  expect((await read(north)).others.map((o: any) => [o.batch.lot, o.smokedAt.name, o.speciesCode, o.thicknessMm])).toEqual([[first.lot, 'North smoker', 'atlantic-mackerel', 22], [second.lot, 'North smoker', 'atlantic-mackerel', null]]);
  const one = await learn(north, add(first));
  expect([one.status, one.body.fit]).toMatchObject([201, { draught: 'natural', smokes: 1, pointsUsed: 49, stale: false, madeBy: { name: 'Rory Vik' }, working: { model: 'smoker-fit' } }]);
  const { hWPerM2K: h, relativeHumidityPct: humidity } = one.body.fit;
  expect(Math.abs(h.value - 16)).toBeLessThan(2 * h.standardError);
  expect(Math.abs(humidity.value - 33)).toBeLessThan(Math.max(2 * humidity.standardError, 0.5));
  const two = await learn(north, add(second));
  expect(two.body.fit.hWPerM2K.standardError).toBeLessThan(h.standardError);
  expect(two.body.smokes.map((x: any) => [x.batch.lot, x.thicknessMm, x.fit.pointsUsed])).toEqual([[second.lot, 28, 49], [first.lot, 22, 49]]);
  expect(await read(north)).toEqual(two.body);
  expect((await s.ann.get('/api/stations')).body.items.find((x: any) => x.id === north.id).fit).toEqual(two.body.fit);
  expect((await s.club.stranger.get(`/api/stations/${north.id}/fits`)).status).toBe(401);
  expect((await s.ann.post(`/api/stations/${north.id}/fits`, { draught: 'fan' })).status).toBe(403);
});

test('each fit starts from the start value, never from the last fit: out and in again comes to the same, and with the last smoke gone nothing is left', async () => {
  const station = await smoker('Back smoker');
  const [first, second] = [await smokedIn(station), await smokedIn(station, { thicknessMm: 30 })];
  const one = (await learn(station, add(first))).body;
  const two = (await learn(station, add(second))).body;
  const again = (await learn(station, { draught: 'natural', remove: [two.smokes.find((x: any) => x.batch.id === second.id).id] })).body;
  const figures = ({ fit }: any) => [fit.hWPerM2K, fit.relativeHumidityPct, fit.residualC, fit.pointsUsed];
  expect(figures(again)).toEqual(figures(one));
  expect(figures((await learn(station, { draught: 'natural' })).body)).toEqual(figures(one));
  expect(figures((await learn(station, { draught: 'fan' })).body)).not.toEqual(figures(one));
  const none = (await learn(station, { draught: 'natural', remove: again.smokes.map((x: any) => x.id) })).body;
  expect([none.fit, none.smokes, none.others.length]).toEqual([null, [], 2]);
});

test('the same request sent again learns once; two at once both end in one fit of both smokes', async () => {
  const station = await smoker('Twin smoker');
  const [a, b, c] = [await smokedIn(station), await smokedIn(station), await smokedIn(station)];
  const [sent, again] = [await learn(station, add(a), 'learn-from-this-smoke'), await learn(station, add(a), 'learn-from-this-smoke')];
  expect([sent.status, again.status, again.body]).toEqual([201, 201, sent.body]);
  const [left, right] = await Promise.all([learn(station, add(b)), learn(station, add(c))]);
  expect([left.status, right.status]).toEqual([201, 201]);
  expect((await read(station)).fit).toMatchObject({ smokes: 3, pointsUsed: 147, stale: false });
  const twice = await Promise.all([learn(station, { draught: 'natural', remove: [left.body.smokes[0].id] }), learn(station, { draught: 'natural', remove: [left.body.smokes[0].id] })]);
  expect(twice.map((x) => x.status)).toEqual([201, 201]);
  expect((await read(station)).fit.smokes).toBe(2);
});

test('while a fit is reckoned everybody else is answered, and what changes meanwhile is in the fit that is kept', async () => {
  const station = await smoker('Slow smoker');
  const smokes = [await smokedIn(station), await smokedIn(station, { thicknessMm: 30 }), await smokedIn(station, { thicknessMm: 40 })];
  for (const smoke of smokes.slice(0, 2)) expect((await learn(station, add(smoke))).status).toBe(201);
  const order: string[] = [];
  const told = learn(station, add(smokes[2]!)).then((answer) => (order.push('fit'), answer));
  // On one connection nothing would be answered while a transaction reckons, nor on one thread.
  const list = await s.crew.get(`/api/batches/${smokes[0]!.id}/readings`).then((answer) => (order.push('read'), answer));
  const core = list.body.items.find((l: any) => l.id === smokes[0]!.coreId);
  expect((await s.crew.patch(`/api/reading-lists/${core.id}`, { version: core.version, withdrawnNos: [48, 49], reason: 'Pulled out' })).status).toBe(200);
  const { status, body } = await told;
  expect([status, order[0], body.smokes.length, body.fit.smokes]).toEqual([201, 'read', 3, 3]);
  const now = await read(station);
  // Fitted again where the readings changed before it was kept; said to be stale where they changed after it. Never kept as if they had not.
  expect(now.fit.pointsUsed).toBe(now.fit.stale ? 3 * 49 : 3 * 49 - 2);
});

test('a reading that is withdrawn makes the fit stale until it is fitted anew; a smoke with nothing left has to go', async () => {
  const station = await smoker('Stale smoker');
  const [a, b] = [await smokedIn(station), await smokedIn(station)];
  await learn(station, add(a));
  await learn(station, add(b));
  expect((await s.crew.patch(`/api/reading-lists/${b.coreId}`, { version: 1, withdrawnNos: [10, 11], reason: 'Pulled out' })).status).toBe(200);
  expect((await read(station)).fit).toMatchObject({ stale: true, pointsUsed: 98 });
  expect((await learn(station, { draught: 'natural' })).body.fit).toMatchObject({ stale: false, pointsUsed: 96 });
  await s.crew.patch(`/api/reading-lists/${b.coreId}`, { version: 2, withdrawn: true, reason: 'Of another smoke' });
  const refused = await learn(station, { draught: 'natural' });
  expect([refused.status, onlyField(refused), refused.body.detail]).toEqual([422, 'remove', expect.stringContaining(`lot ${b.lot}: No core readings are left`)]);
  const { smokes } = await read(station);
  const kept = await learn(station, { draught: 'natural', remove: [smokes.find((x: any) => x.batch.id === b.id).id] });
  expect(kept.body.fit).toMatchObject({ stale: false, smokes: 1, pointsUsed: 49 });
  await s.crew.patch(`/api/stages/${a.stageId}`, { version: 1, cancelled: true, reason: 'wrong batch' });
  expect((await read(station)).fit.stale).toBe(true);
});

test('readings of the cooling after the smoke change nothing', async () => {
  const station = await smoker('Cool smoker');
  const batch = await smokedIn(station);
  await learn(station, add(batch));
  const after = new Date(Date.parse(s.at('14:00')) - day * DAY_MS).toISOString();
  await s.crew.post(`/api/batches/${batch.id}/readings`, { place: 'core', stageId: batch.stageId, readings: [{ at: after, celsius: 30 }] });
  expect((await read(station)).fit.stale).toBe(false);
});

test('what cannot be learnt from is refused in plain words, and leaves all as it was', async () => {
  const [station, other, bench] = [await smoker('Plain smoker'), await smoker('Other smoker'), await smoker('Plain bench', 'bench')];
  const good = await smokedIn(station);
  const elsewhere = await smokedIn(other);
  const nowhere = await smokedIn(null);
  const short = await smokedIn(station, { core: 4 });
  const unsmoked = await s.make([s.landing(await s.land(), 1000)]);
  const refusals: [object, number, string, string][] = [
    [add({ ...good, id: unsmoked.id }), 409, 'add.batchId', 'This batch was not smoked.'],
    [add(short), 422, 'add.batchId', 'fewer than 5 readings within the chamber'],
    [add(elsewhere), 409, 'add.smokedHere', `The calendar has lot ${elsewhere.lot} in Other smoker.`],
    [add(nowhere), 409, 'add.smokedHere', `No slot says where lot ${nowhere.lot} was smoked. Say that it was smoked in Plain smoker.`],
    [add(good, { speciesCode: 'no-such-fish' }), 422, 'add.speciesCode', 'Choose one of like fat.'],
    [add(good, { thicknessMm: 2 }), 400, 'add.thicknessMm', ''],
    [{ draught: 'gale' }, 400, 'draught', ''],
  ];
  for (const [body, status, field, words] of refusals) {
    const answer = await learn(station, body);
    expect([answer.status, onlyField(answer), answer.body.detail], JSON.stringify(body)).toEqual([status, field, expect.stringContaining(words)]);
  }
  expect(await learn(bench, { draught: 'natural' })).toMatchObject({ status: 422, body: { detail: 'Plain bench is no smoker. Choose a smoker.' } });
  expect((await read(station)).smokes).toEqual([]);
  expect((await learn(station, add(nowhere, { smokedHere: true }))).status).toBe(201);
  const taken = await learn(other, add(nowhere, { smokedHere: true }));
  expect([taken.status, taken.body.detail]).toEqual([409, `Plain smoker learns from lot ${nowhere.lot} already. Take it out there first.`]);
});

test('a core log in Fahrenheit teaches nothing until its unit is put right', async () => {
  const station = await smoker('Fahrenheit smoker');
  const batch = await smokedIn(station);
  const { items } = (await s.crew.get(`/api/batches/${batch.id}/readings?listId=${batch.coreId}`)).body;
  await s.crew.patch(`/api/reading-lists/${batch.coreId}`, { version: 1, withdrawn: true, reason: 'It was in F' });
  const hot = items[0].readings.map((r: any) => ({ at: r.at, celsius: r.celsius * 1.8 + 32 }));
  await s.crew.post(`/api/batches/${batch.id}/readings`, { place: 'core', stageId: batch.stageId, readings: hot });
  const refused = await learn(station, add(batch));
  expect([refused.status, refused.body.detail]).toEqual([422, expect.stringContaining('may not be in Celsius')]);
});

test('the database itself keeps a smoke to a smoker, to one at a time, and unaltered; the record tells who chose it', async () => {
  const { query } = s.club.database;
  const [station, bench] = [await smoker('Firm smoker'), await smoker('Firm bench', 'bench')];
  const [batch, other] = [await smokedIn(station), await smokedIn(station)];
  const { smokes } = (await learn(station, add(batch))).body;
  const insert = `insert into smoker_smoke (id, station_id, batch_id, stage_id, species_code, thickness_mm, faces_open, created_by_id, created_at) values (gen_random_uuid(), $1, $2, $3, 'atlantic-mackerel', 20, 'both', $4, now())`;
  await expect(query('', insert, [bench.id, other.id, other.stageId, s.crew.id])).rejects.toMatchObject({ constraint: 'smoker_smoke_in_a_smoker' });
  await expect(query('', insert, [station.id, batch.id, other.stageId, s.crew.id])).rejects.toMatchObject({ constraint: 'smoker_smoke_finished' });
  await expect(query('', insert, [station.id, batch.id, batch.stageId, s.crew.id])).rejects.toMatchObject({ constraint: 'smoker_smoke_once' });
  await expect(query('', `update smoker_smoke set thickness_mm = 50 where id = $1`, [smokes[0].id])).rejects.toMatchObject({ constraint: 'smoker_smoke_final' });
  const told = await query<{ kind: string; action: string }>('', `select subject_kind as kind, action from record_entry where parent_id = $1 and actor_id = $2 order by id`, [station.id, s.crew.id]);
  expect(told).toEqual([{ kind: 'smoker-smoke', action: 'created' }, { kind: 'smoker-fit', action: 'created' }]);
});
