import { afterAll, beforeAll, expect, test } from 'vitest';
import { applyRules } from '../../server/features/batches/rules.service.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

/** A figure of nitrite is about the brine that the fish was in (HG ch. 13): with a cure undone, that of the lot before. */
let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const stage = async (batch: { id: string }, kind: string, from: string, to: string, more: object) => {
  const { status, body } = await s.stage(batch, kind, from, to, more);
  if (status !== 201) throw new Error(JSON.stringify(body));
  return body;
};
const part = (batch: { id: string }, grams: number) => s.make([s.fromBatch(batch.id, grams)]);
const cureUndone = async (batch: { id: string }) => {
  const cure = (await s.page(batch)).stages.find((x: any) => x.kind === 'cure');
  return (await s.crew.patch(`/api/stages/${cure.id}`, { version: cure.version, cancelled: true, reason: 'Of another batch' })).status;
};
const measured = (batch: { id: string }, value: number) =>
  s.captain.post(`/api/batches/${batch.id}/measurements`, { kind: 'nitrite', value, part: 'loin', laboratory: 'Quay Laboratory', sampledDay: '2026-06-10', reportedDay: '2026-06-10' });
const verdict = async (batch: { id: string }) => (await s.page(batch)).verdict;
/** Whether a list, which goes by what is stored, says the same as the page. */
const listed = async (batch: { id: string }) => (await s.club.database.query<{ verdict: string }>('', 'select verdict from batch where id = $1', [batch.id]))[0]!.verdict;

async function curedTwice() {
  const lot = await s.make([s.landing(await s.land(), 5000)]);
  await stage(lot, 'cure', '06:00', '07:00', { massOutG: 4500 });
  const [again, beside] = [await part(lot, 1000), await part(lot, 500)];
  await stage(again, 'cure', '07:10', '08:10', { massOutG: 1000 });
  return { lot, again, beside };
}
const smoked = async (batch: { id: string }, grams: number) => expect((await stage(batch, 'smoke', '09:00', '13:00', { massOutG: grams, ...s.good })).verdict).toBe('clear');

test('with the cure of a part undone, nitrite measured in that part holds the lot that it came from, and the other parts', async () => {
  const { lot, again, beside } = await curedTwice();
  await smoked(lot, 1500);
  await smoked(beside, 400);
  expect((await measured(again, 250)).status).toBe(201);
  expect([await listed(lot), await listed(beside), await listed(again)]).toEqual(['clear', 'clear', 'hold']);
  expect(await cureUndone(again)).toBe(200);
  expect([await listed(lot), await listed(beside), await verdict(lot), await verdict(beside)]).toEqual(['hold', 'hold', 'hold', 'hold']);
});

test('with the cure of a lot in between undone as well, and of nothing else', async () => {
  const { lot, again, beside } = await curedTwice();
  const below = await part(again, 300);
  await smoked(lot, 1500);
  await smoked(beside, 400);
  await measured(below, 250);
  expect([await listed(lot), await listed(beside)]).toEqual(['clear', 'clear']);
  expect(await cureUndone(again)).toBe(200);
  expect([await listed(lot), await listed(beside)]).toEqual(['hold', 'hold']);
  // No figure is past the limit where nobody measured.
  const other = await curedTwice();
  await smoked(other.lot, 1500);
  expect([await cureUndone(other.again), await listed(other.lot)]).toEqual([200, 'clear']);
});

test('a cure that is recorded after the figure makes it no less a figure of the brine before; one that was there does', async () => {
  const lot = await s.make([s.landing(await s.land(), 5000)]);
  await stage(lot, 'cure', '06:00', '07:00', { massOutG: 4500 });
  const taken = await part(lot, 1000);
  await smoked(lot, 1500);
  await measured(taken, 250);
  s.club.clock.now = new Date(s.at('20:30'));
  const cured = await stage(taken, 'cure', '07:10', '08:10', { massOutG: 1000 });
  await applyRules(s.club.context, 'judged anew');
  expect([cured.verdict, await listed(lot), await verdict(taken)]).toEqual(['hold', 'hold', 'hold']);
  const { lot: other, again } = await curedTwice();
  await smoked(other, 1500);
  await measured(again, 250);
  await applyRules(s.club.context, 'judged once more');
  expect([await listed(other), await listed(again)]).toEqual(['clear', 'hold']);
});
