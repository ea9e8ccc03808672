import { afterAll, beforeAll, expect, test } from 'vitest';
import { loadLineage } from '../../server/features/batches/lineage.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const fresh = async () => s.make([s.landing(await s.land(), 5000)]);
const rows = (values: [string, number][]) => values.map(([time, celsius]) => ({ at: s.at(time), celsius }));
const record = (batch: { id: string }, body: object, key?: string) => s.crew.post(`/api/batches/${batch.id}/readings`, body, key);

test('a text is kept line by line: what was taken, what is odd, what was left out and why', async () => {
  const batch = await fresh();
  const { status, body } = await record(batch, { place: 'core', probe: 'P1', text: 'Time;Core °C\n10:00;20,5\n10:05;-999\n10:04;22\nlunch\n10:10;25' });
  expect(status).toBe(201);
  expect(body.list).toMatchObject({ place: 'core', probe: 'P1', source: 'pasted', readingCount: 4, lowestC: 20.5, highestC: 25, firstAt: '2026-06-10T09:00:00.000Z', lastAt: '2026-06-10T09:10:00.000Z', withdrawn: false, createdBy: { name: 'Rory Vik' } });
  expect(body.flagged.map((f: any) => [f.no, f.celsius, f.flag])).toEqual([[2, -999, 'probe-error'], [3, 22, 'out-of-order']]);
  expect(body.leftOut).toEqual([{ lineNo: 1, text: 'Time;Core °C', why: 'a heading' }, { lineNo: 5, text: 'lunch', why: 'no time such as 14:20 on it' }]);
  expect(body.verdict).toBe('hold');
  const { items } = (await s.ann.get(`/api/batches/${batch.id}/readings`)).body;
  expect(items).toHaveLength(1);
  expect(items[0].readings.map((r: any) => r.celsius)).toEqual([20.5, -999, 22, 25]);
  expect((await s.page(batch)).readingLists).toMatchObject([{ id: body.list.id, readingCount: 4 }]);
});

test('5,000 readings are one write, and the same write sent again makes no second list', async () => {
  const batch = await fresh();
  const start = Date.parse(s.at('06:00'));
  const readings = Array.from({ length: 5000 }, (_, i) => ({ at: new Date(start + i * 5000).toISOString(), celsius: 20 + i / 100, humidityPct: 40 }));
  const body = { place: 'chamber', source: 'pasted', readings };
  const first = await record(batch, body, 'one-key-for-this-log');
  const again = await record(batch, body, 'one-key-for-this-log');
  expect([first.status, again.status, again.body.list.id]).toEqual([201, 201, first.body.list.id]);
  const read = await s.crew.get(`/api/batches/${batch.id}/readings`);
  expect(read.body.items.map((l: any) => l.readings.length)).toEqual([5000]);
  expect((await s.crew.get(`/api/batches/${batch.id}/readings`, { 'if-none-match': String(read.headers['etag']) })).status).toBe(304);
  const tooMany = await record(batch, { ...body, readings: [...readings, readings[0]] });
  expect([tooMany.status, tooMany.body.errors[0].message]).toEqual([400, expect.stringContaining('At most 5,000')]);
});

test('of a long log with all but ten readings withdrawn, the ten are read', async () => {
  const batch = await fresh();
  const start = Date.parse(s.at('06:00'));
  const readings = Array.from({ length: 5000 }, (_, i) => ({ at: new Date(start + i * 5000).toISOString(), celsius: 20 + i / 100 }));
  const { list } = (await record(batch, { place: 'chamber', source: 'pasted', readings })).body;
  const most = Array.from({ length: 4990 }, (_, i) => i + 1);
  expect((await s.crew.patch(`/api/reading-lists/${list.id}`, { version: 1, withdrawnNos: most, reason: 'Before the fish went in' })).status).toBe(200);
  expect((await loadLineage(s.club.database.query, batch.id)).readings[0]!.celsius).toEqual(readings.slice(4990).map((r) => r.celsius));
});

test('a chamber log in Fahrenheit that came as Celsius is kept and flagged, hot as it is; nothing that hot is kept unflagged', async () => {
  const batch = await fresh();
  const { status, body } = await record(batch, { place: 'chamber', readings: rows([['10:00', 225], ['10:05', 350]]) });
  expect([status, body.flagged?.map((f: any) => [f.celsius, f.flag])]).toEqual([201, [[225, 'fahrenheit'], [350, 'fahrenheit']]]);
  const insert = `insert into reading (list_id, no, at, celsius) values ($1, 3, now(), 900)`;
  await expect(s.club.database.query('', insert, [body.list.id])).rejects.toMatchObject({ constraint: 'reading_celsius_possible' });
});

test('times without a date that are all over an hour before the stage began are of the day after: a smoke that began in the evening cools after midnight', async () => {
  const batch = await fresh();
  const smoke = { kind: 'smoke', startedAt: '2026-06-09T20:00:00Z', finishedAt: '2026-06-09T23:00:00Z', massOutG: 2500 };
  const stageId = (await s.crew.post(`/api/batches/${batch.id}/stages`, smoke)).body.stages[0].id;
  const firstOf = async (text: string) => (await record(batch, { place: 'core', stageId, text })).body.list.firstAt;
  expect(await firstOf('00:40 58\n01:50 20'), 'local time is an hour ahead').toBe('2026-06-09T23:40:00.000Z');
  expect(await firstOf('20:50 5\n21:10 8'), 'some before, some after: as they stand').toBe('2026-06-09T19:50:00.000Z');
  expect(await firstOf('2026-06-09 09:00 4'), 'a date is believed').toBe('2026-06-09T08:00:00.000Z');
  expect(await firstOf('20:50 5'), 'just before it began').toBe('2026-06-09T19:50:00.000Z');
});

test('a list that cannot be is refused whole, with the field and what to do', async () => {
  const batch = await fresh();
  const cases: [object, number, string][] = [
    [{ place: 'core' }, 400, ''],
    [{ place: 'core', readings: rows([['10:00', 20]]), text: '10:00 20' }, 400, ''],
    [{ place: 'oven', readings: rows([['10:00', 20]]) }, 400, 'place'],
    [{ place: 'core', readings: [] }, 400, 'readings'],
    [{ place: 'core', readings: [...rows([['10:00', 20]]), { at: '2026-06-11T10:00:00Z', celsius: 20 }] }, 422, 'readings.1.at'],
    [{ place: 'core', text: 'no numbers here' }, 422, 'text'],
    [{ place: 'core', readings: rows([['10:00', 20]]), stageId: batch.id }, 422, 'stageId'],
  ];
  for (const [body, status, field] of cases) {
    const answer = await record(batch, body);
    expect([answer.status, answer.body.errors[0].field], JSON.stringify(body)).toEqual([status, field || expect.any(String)]);
  }
  expect((await s.crew.get(`/api/batches/${batch.id}/readings`)).body.items).toEqual([]);
  expect((await s.crew.get('/api/batches/018f0000-0000-7000-8000-000000000000/readings')).status).toBe(404);
});

test('readings are withdrawn, one or all, and come back; what was read is never altered; the record tells it', async () => {
  const batch = await fresh();
  const { list } = (await record(batch, { place: 'storage', readings: rows([['10:00', 3], ['11:00', 20], ['12:00', 3]]) })).body;
  for (const what of [{ withdrawnNos: [2] }, { withdrawn: true }, { withdrawn: true, reason: '  ' }]) {
    const silent = await s.crew.patch(`/api/reading-lists/${list.id}`, { version: 1, ...what });
    expect([silent.status, silent.body.errors?.[0]?.field], JSON.stringify(what)).toEqual([422, 'reason']);
  }
  const one = await s.crew.patch(`/api/reading-lists/${list.id}`, { version: 1, withdrawnNos: [2], reason: 'The door stood open for the photo' });
  expect([one.status, one.body.list.withdrawnNos, one.body.list.version]).toEqual([200, [2], 2]);
  // The warm one counts no longer, so the list does not name it as its highest.
  expect([list.highestC, one.body.list.lowestC, one.body.list.highestC]).toEqual([20, 3, 3]);
  expect((await s.crew.patch(`/api/reading-lists/${list.id}`, { version: 1, withdrawn: true })).body.code).toBe('stale-edit');
  expect((await s.crew.patch(`/api/reading-lists/${list.id}`, { version: 2, withdrawnNos: [4] })).body.errors[0].field).toBe('withdrawnNos');
  const { items } = (await s.crew.get(`/api/batches/${batch.id}/readings`)).body;
  expect(items[0].readings.map((r: any) => r.withdrawn)).toEqual([false, true, false]);
  expect((await s.crew.patch(`/api/reading-lists/${list.id}`, { version: 2, withdrawn: true, reason: 'Another batch' })).body.list.withdrawn).toBe(true);
  expect((await s.crew.get(`/api/batches/${batch.id}/readings`)).body.items).toEqual([]);
  expect((await s.crew.get(`/api/batches/${batch.id}/readings?withdrawn=true`)).body.items).toHaveLength(1);
  expect((await s.crew.patch(`/api/reading-lists/${list.id}`, { version: 3, withdrawn: false })).body.list).toMatchObject({ withdrawn: false, withdrawnNos: [2] });
  for (const set of ['withdrawn_at = now()', 'withdrawn_nos = array[1, 2]']) await expect(s.club.database.query('', `update reading_list set ${set} where id = $1`, [list.id]), 'the database asks for the reason too').rejects.toThrow(/without a reason/);
  await expect(s.club.database.query('', `update reading set celsius = 3 where list_id = $1`, [list.id])).rejects.toThrow();
  const record_ = (await s.captain.get(`/api/record?subjectKind=reading-list&subjectId=${list.id}`)).body.items;
  expect(record_.map((e: any) => [e.action, e.reason])).toEqual([['changed', null], ['changed', 'Another batch'], ['changed', 'The door stood open for the photo'], ['created', null]]);
});

test('a laboratory’s figure is recorded by a captain, checked, and withdrawn with a reason', async () => {
  const batch = await fresh();
  const salt = { kind: 'water-phase-salt', value: 3.6, part: 'loin', laboratory: 'Harbour Laboratory', sampledDay: '2026-06-10', reportedDay: '2026-06-10' };
  const post = (body: object, person = s.captain) => person.post(`/api/batches/${batch.id}/measurements`, body);
  const { status, body } = await post(salt);
  expect([status, body.measurements]).toMatchObject([201, [{ ...salt, createdBy: { name: 'Isla Muir' } }]]);
  expect((await post(salt, s.crew)).status).toBe(403);
  for (const [wrong, field] of [[{ value: 36 }, 'value'], [{ kind: 'water-activity', value: 1.2 }, 'value'], [{ reportedDay: '2026-06-09' }, 'reportedDay'], [{ sampledDay: '2026-06-09' }, 'sampledDay'], [{ sampledDay: '2026-06-11', reportedDay: '2026-06-11' }, 'sampledDay'], [{ laboratory: ' ' }, 'laboratory']] as const) {
    expect((await post({ ...salt, ...wrong })).body.errors[0].field, JSON.stringify(wrong)).toBe(field);
  }
  const change = (what: object) => s.captain.patch(`/api/measurements/${body.measurements[0].id}`, what);
  for (const reason of [{}, { reason: ' ' }]) {
    const mute = await change({ version: 1, withdrawn: true, ...reason });
    expect([mute.status, mute.body.errors[0]]).toEqual([422, expect.objectContaining({ field: 'reason', message: 'A laboratory’s figure is withdrawn with a reason.' })]);
  }
  const gone = await change({ version: 1, withdrawn: true, reason: 'Sample of another lot' });
  expect(gone.body.measurements).toEqual([]);
  expect((await change({ version: 2, withdrawn: false })).body.measurements, 'what counts again needs no word').toHaveLength(1);
  await expect(s.club.database.query('', `update measurement set withdrawn_at = now() where batch_id = $1`, [batch.id]), 'the database asks for the reason too').rejects.toThrow(/without a reason/);
  const record = (await s.captain.get(`/api/record?subjectKind=measurement&subjectId=${body.measurements[0].id}`)).body.items;
  expect(record.map((e: any) => [e.action, e.reason])).toEqual([['changed', null], ['changed', 'Sample of another lot'], ['created', null]]);
});

test('a table is a list for each of its columns, whole or not at all, and the same write sent again makes no second ones', async () => {
  const batch = await fresh();
  const text = 'Time;Core;Chamber;Store\n10:00;20,5;80;4\n10:05;21;82,5;4\n10:10;;83;4';
  const columns = [{ no: 2, place: 'core' }, { no: 3, place: 'chamber', probe: 'Vent' }];
  const send = (body: object, key?: string) => s.crew.post(`/api/batches/${batch.id}/reading-columns`, { text, columns, ...body }, key);
  const lists = async () => (await s.crew.get(`/api/batches/${batch.id}/readings`)).body.items.map((l: any) => [l.place, l.probe, l.source, l.readings.map((r: any) => r.celsius)]);
  for (const [bad, field] of [
    [[...columns, { no: 4, place: 'core' }], 'columns.2.probe'], [[...columns, { no: 4, place: 'chamber', probe: ' VENT ' }], 'columns.2.probe'], [[columns[0], { no: 2, place: 'chamber' }], 'columns.1.no'], [[{ no: 1, place: 'core' }], 'columns.0.no'], [[columns[0], { no: 3, place: 'chamber', stageId: batch.id }], 'columns.1.stageId'],
  ] as const) {
    const refused = await send({ columns: bad });
    expect([refused.status >= 400, refused.body.errors?.[0]?.field], JSON.stringify(bad)).toEqual([true, field]);
  }
  expect((await send({ text: '10:00 20.5\n10:05 21' })).body.detail).toMatch(/no table/);
  // Where the second column was refused, the first had been written and was taken back.
  expect(await lists()).toEqual([]);
  const made = await send({}, 'one-key-for-this-table');
  const again = await send({}, 'one-key-for-this-table');
  expect([made.status, again.status, again.body.items.map((i: any) => i.list.id)]).toEqual([201, 201, made.body.items.map((i: any) => i.list.id)]);
  expect(made.body).toMatchObject({ items: [{ no: 2, list: { place: 'core', readingCount: 2 } }, { no: 3, list: { place: 'chamber', highestC: 83 } }], verdict: 'hold' });
  expect((await lists()).sort()).toEqual([['chamber', 'Vent', 'pasted', [80, 82.5, 83]], ['core', '', 'pasted', [20.5, 21]]]);
});

test('a table’s humidity is kept beside the air that it is of, parted by spaces too; what cannot be is told by its line, and the temperature kept', async () => {
  const batch = await fresh();
  const text = ['Time    Core   Chamber   RH %', '10:00   20.5   80        40', '10:05   21     82.5      --', '10:10          83        42', '10:15   22     84        43 %'].join('\n');
  const columns = [{ no: 2, place: 'core' }, { no: 3, place: 'chamber', humidityNo: 4 }];
  const send = (body: object) => s.crew.post(`/api/batches/${batch.id}/reading-columns`, { text, columns, ...body });
  for (const [bad, field] of [
    [[{ no: 2, place: 'core', humidityNo: 4 }], 'columns.0.humidityNo'], [[{ no: 3, place: 'chamber', humidityNo: 1 }], 'columns.0.humidityNo'], [[{ no: 2, place: 'core' }, { no: 3, place: 'chamber', humidityNo: 2 }], 'columns.1.humidityNo'], [[{ no: 4, place: 'chamber' }], 'columns.0.no'],
  ] as const) {
    const refused = await send({ columns: bad });
    expect([refused.status, refused.body.errors?.[0]?.field], JSON.stringify(bad)).toEqual([422, field]);
    expect(refused.body.errors[0].remedy.length).toBeGreaterThan(5);
  }
  const made = await send({});
  expect([made.status, made.body.items[1].leftOut.map((l: any) => [l.lineNo, l.why])]).toEqual([201, [
    [1, 'a heading'], [3, 'its humidity is no number from 0 to 100: the temperature is kept without it'], [4, 'it has 3 of the table’s 4 columns, and with spaces nobody knows which is missing'],
  ]]);
  const kept = (await s.crew.get(`/api/batches/${batch.id}/readings`)).body.items.map((l: any) => [l.place, l.readings.map((r: any) => [r.celsius, r.humidityPct])]).sort();
  expect(kept).toEqual([['chamber', [[80, 40], [82.5, null], [84, 43]]], ['core', [[20.5, null], [21, null], [22, null]]]]);
});
