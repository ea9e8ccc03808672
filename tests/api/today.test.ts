import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { rowsIn } from '../support/rows.ts';

type Waiting = { kind: string; id: string; title: string; detail: string; count: number; path: string; mark: string | null };

let club: TestClub;
let captain: Person, crew: Person, ann: Person, bo: Person;
let rows: ReturnType<typeof rowsIn>;
beforeAll(async () => {
  club = await testClub({ now: '2026-06-10T12:00:00Z' });
  [captain, crew, ann, bo] = [await club.person('captain', 'Isla Muir'), await club.person('crew', 'Rory Vik'), await club.person('member', 'Ann Holm'), await club.person('member', 'Bo Berg')];
  rows = rowsIn(club.database, captain.id);
});
afterAll(() => club.close());
beforeEach(async () => {
  // Each test starts from an empty larder; people, species and the record stay.
  await club.database.query('test-empty', 'truncate hand_over, claim, draw, pack, slot, stage, batch, landing, trip_person, trip, boat, station restart identity cascade');
});

const today = async (who: Person) => {
  const answer = await who.get('/api/today');
  expect(answer.status).toBe(200);
  return answer.body;
};
const waiting = async (who: Person): Promise<Waiting[]> => (await today(who)).waiting;
const kinds = (list: Waiting[]) => list.map((w) => w.kind);
const clear = (more: object = {}) => rows.batch({ verdict: 'clear', on_hand_grams: 20_000, ...more });
const smoked = { seq: 1, kind: 'smoke', started_at: '2026-06-09T10:00:00Z', finished_at: '2026-06-09T16:00:00Z', mass_out_g: 900, loss_g: 100 };
const evidence = { max_core_c: 66, hold_minutes: 40, cooled_at: '2026-06-09T18:00:00Z' };

test('a new club: nothing runs, nothing waits, and a stranger is told to sign in', async () => {
  expect(await today(ann)).toEqual({
    now: '2026-06-10T12:00:00.000Z', day: '2026-06-10', running: [], next: [], waiting: [], claimable: [], claimableCount: 0, mine: [], unassignedGrams: 0, start: [], openTrips: [],
  });
  expect((await club.stranger.get('/api/today')).status).toBe(401);
});

test('a captain of a new club gets a short start list, which goes when all of it is there', async () => {
  const start = async (who: Person) => (await today(who)).start;
  const asked = { what: 'contact', done: false };
  const list = (boat: boolean, station: boolean, trip: boolean, contact = [asked]) => [{ what: 'boat', done: boat }, { what: 'station', done: station }, { what: 'people', done: true }, ...contact, { what: 'trip', done: trip }];
  expect(await start(captain)).toEqual(list(false, false, false));
  expect(await start(crew)).toEqual([]);
  const boat = await rows.boat();
  await rows.station();
  expect(await start(captain)).toEqual(list(true, true, false));
  const reach = async (contactWords: string) => expect((await captain.patch('/api/club', { version: (await captain.get('/api/club')).body.version, contactWords })).status).toBe(200);
  await reach('Knock at the hut');
  expect(await start(captain)).toEqual(list(true, true, false, []));
  await rows.trip(boat);
  expect(await start(captain)).toEqual([]);
  await reach('');
  expect([await start(captain), await start(crew)]).toEqual([[asked], []]);
});

test('the day is the club’s: half past ten at night in London is the 11th in Tokyo', async () => {
  const tokyo = await testClub({ now: '2026-06-10T21:30:00Z', timeZone: 'Asia/Tokyo' });
  try {
    expect((await (await tokyo.person('member')).get('/api/today')).body.day).toBe('2026-06-11');
  } finally {
    await tokyo.close();
  }
});

test('what runs, until when, and at the station whose slot covers it', async () => {
  const smoker = await rows.station({ name: 'Big smoker' });
  const batch = await rows.batch({ name: 'Mackerel', lot: 'RUN-1' });
  await rows.slot(smoker, batch, { starts_at: '2026-06-10T10:00:00Z', ends_at: '2026-06-10T14:00:00Z' });
  await rows.slot(await rows.station(), batch, { stage_kind: 'cool', starts_at: '2026-06-10T10:00:00Z', ends_at: '2026-06-10T14:00:00Z' });
  const stage = await rows.stage(batch, { kind: 'smoke', started_at: '2026-06-10T10:05:00Z', due_at: '2026-06-10T13:30:00Z' });
  const other = await rows.batch({ lot: 'RUN-2' });
  await rows.stage(other, { kind: 'cure', started_at: '2026-06-10T09:00:00Z' });
  await rows.stage(await rows.batch({ on_hand_grams: 1000 }), { ...smoked });
  const { running } = await today(ann);
  expect(running).toEqual([
    { batchId: batch, lot: 'RUN-1', name: 'Mackerel', stageId: stage, kind: 'smoke', startedAt: '2026-06-10T10:05:00.000Z', dueAt: '2026-06-10T13:30:00.000Z', station: 'Big smoker', mark: null },
    expect.objectContaining({ lot: 'RUN-2', kind: 'cure', dueAt: null, station: null }),
  ]);
});

test('what is next within 36 hours, soonest first: slots that start; free again only within 4 hours, to whose it is, and where what runs does not say so; nothing cancelled, done or recalled', async () => {
  const tub = await rows.station({ name: 'Tub 2', kind: 'brine-tub' });
  const smoker = await rows.station({ name: 'Smoker' });
  const a = await rows.batch({ lot: 'A' });
  await rows.stage(a, { kind: 'cure', started_at: '2026-06-10T08:00:00Z', due_at: '2026-06-10T12:22:00Z' });
  await rows.slot(tub, a, { stage_kind: 'cure', starts_at: '2026-06-10T08:00:00Z', ends_at: '2026-06-10T12:30:00Z' });
  await rows.slot(smoker, a, { starts_at: '2026-06-11T06:00:00Z', ends_at: '2026-06-11T12:00:00Z' });
  await rows.slot(smoker, a, { stage_kind: 'cool', starts_at: '2026-06-12T00:01:00Z', ends_at: '2026-06-12T06:00:00Z' });
  await rows.slot(smoker, a, { stage_kind: 'dry', starts_at: '2026-06-10T20:00:00Z', ends_at: '2026-06-10T22:00:00Z', cancelled_at: '2026-06-10T09:00:00Z' });
  const done = await rows.batch({ lot: 'D', on_hand_grams: 1000 });
  await rows.stage(done, { ...smoked });
  await rows.slot(smoker, done, { starts_at: '2026-06-10T11:00:00Z', ends_at: '2026-06-10T15:00:00Z' });
  const stopped = await rows.batch({ recalled_at: '2026-06-10T09:00:00Z', recall_reason: 'glass' });
  await rows.slot(smoker, stopped, { starts_at: '2026-06-10T13:00:00Z', ends_at: '2026-06-10T15:00:00Z' });
  const even = await rows.batch({ lot: 'E' });
  await rows.stage(even, { kind: 'cure', started_at: '2026-06-10T08:00:00Z', due_at: '2026-06-10T13:00:00Z' });
  await rows.slot(tub, even, { stage_kind: 'cure', starts_at: '2026-06-10T08:00:00Z', ends_at: '2026-06-10T13:00:00Z' });
  const long = await rows.batch({ lot: 'L' });
  await rows.stage(long, { kind: 'cure', started_at: '2026-06-10T08:00:00Z' });
  await rows.slot(tub, long, { stage_kind: 'cure', starts_at: '2026-06-10T08:00:00Z', ends_at: '2026-06-10T16:01:00Z' });
  const told = async (who: Person) => (await today(who)).next.map((n: { at: string; what: string; stageKind: string; lot: string; station: string }) => [n.at, n.what, n.stageKind, n.lot, n.station]);
  const starts = ['2026-06-11T06:00:00.000Z', 'slot-starts', 'smoke', 'A', 'Smoker'];
  expect(await told(crew)).toEqual([starts]);
  // The captain booked it.
  expect(await told(captain)).toEqual([['2026-06-10T12:30:00.000Z', 'slot-ends', 'cure', 'A', 'Tub 2'], starts]);
});

test('a slot that has begun without its stage comes first; a stage past its time stands with what runs', async () => {
  const batch = await rows.batch();
  await rows.stage(batch, { kind: 'cure', started_at: '2026-06-10T02:00:00Z', due_at: '2026-06-10T11:00:00Z' });
  await rows.slot(await rows.station(), await rows.batch(), { starts_at: '2026-06-10T11:30:00Z', ends_at: '2026-06-10T18:00:00Z' });
  const { next, running } = await today(ann);
  expect(next.map((n: { at: string; what: string }) => [n.at, n.what])).toEqual([['2026-06-10T11:30:00.000Z', 'slot-starts']]);
  expect(running[0]).toMatchObject({ batchId: batch, dueAt: '2026-06-10T11:00:00.000Z' });
});

async function aBusyDay() {
  const boat = await rows.boat({ name: 'Kittiwake' });
  const trip = await rows.trip(boat);
  const landing = await rows.landing(trip, { grams: 4000 });
  await rows.landing(trip, { grams: 1500, catcher_kind: 'guest', catcher_guest: 'Per' });
  await rows.landing(trip, { grams: 9000, species_code: 'escolar' });
  await rows.landing(trip, { grams: 700, withdrawn_at: '2026-06-10T07:00:00Z' });
  const idle = await rows.batch({ lot: 'IDLE', name: 'Trout' });
  await rows.draw(idle, landing, 1000);
  const unproven = await rows.batch({ lot: 'HOLD', name: 'Pollack', on_hand_grams: 2000 });
  await rows.stage(unproven, { ...smoked, max_core_c: 66 });
  const ready = await clear({ lot: 'GOOD', name: 'Mackerel' });
  await rows.stage(ready, { ...smoked, ...evidence });
  const packs = await Promise.all([1, 2, 3].map((n) => rows.pack(ready, n, { status: 'claimed' })));
  const asked = await rows.claim(packs[0]!, ann.id);
  for (const pack of packs.slice(1)) await rows.claim(pack, bo.id, { status: 'confirmed', decided_by_id: captain.id, decided_at: '2026-06-10T09:00:00Z' });
  return { trip, idle, unproven, asked, packs };
}

test('waiting for a captain: evidence, claims, hand-overs, fish, batches', async () => {
  const { trip, idle, unproven, asked, packs } = await aBusyDay();
  expect(await waiting(captain)).toEqual([
    { kind: 'evidence-missing', id: unproven, title: 'Pollack is on hold', detail: 'Lot HOLD. Something is not recorded: open it to see what.', count: 1, path: `/batches/${unproven}`, mark: 'hold-unrecorded' },
    { kind: 'claim-to-decide', id: asked, title: 'Ann Holm claims Mackerel', detail: 'Pack GOOD-1, 200 g', count: 1, path: `/packs/${packs[0]}`, mark: null },
    { kind: 'to-hand-over', id: bo.id, title: 'Hand 2 packs to Bo Berg', detail: '400 g in all', count: 2, path: expect.stringContaining('/packs'), mark: null },
    { kind: 'fish-not-assigned', id: trip, title: '4.5 kg of fish in no batch', detail: 'Kittiwake, Tue 9 Jun 2026, 2 landings', count: 2, path: `/fish/${trip}`, mark: null },
    { kind: 'batch-not-started', id: idle, title: 'Trout is not started', detail: 'Lot IDLE, 1 kg waiting', count: 1, path: `/batches/${idle}`, mark: null },
  ]);
  const { unassignedGrams, openTrips } = await today(captain);
  expect(unassignedGrams).toBe(4500);
  expect(openTrips).toEqual([{ id: trip, boat: 'Kittiwake', area: 'Outer bank', day: '2026-06-09' }]);
});

test('a cure of more than 4 hours in all waits for how warm its place was, until it is typed or read (brine.cold NY262.5)', async () => {
  const cure = (seq: number, from: string, to: string | null) => ({ seq, kind: 'cure', started_at: `2026-06-09T0${from}:00Z`, finished_at: to && `2026-06-09T0${to}:00Z`, ...(to ? { mass_out_g: 1000 } : {}) });
  const cured = async (lot: string, more: object = {}, ...cures: ReturnType<typeof cure>[]) => {
    const batch = await rows.batch({ lot, name: lot, on_hand_grams: 1000 });
    const stages = [];
    for (const one of cures) stages.push(await rows.stage(batch, { ...one, ...more }));
    return { batch, stages };
  };
  const long = await cured('LONG', {}, cure(1, '1:00', '6:00'));
  await cured('TWICE', {}, cure(1, '1:00', '3:30'), cure(2, '4:00', '5:31'));
  await cured('SHORT', {}, cure(1, '1:00', '5:00'));
  await cured('TYPED', { max_place_c: 3 }, cure(1, '1:00', '6:00'));
  await cured('RUNS', {}, cure(1, '1:00', null));
  const told = async () => (await waiting(crew)).filter((w) => w.kind === 'evidence-missing').map((w) => [w.title, w.detail, w.count]);
  const row = (lot: string) => [`${lot} is on hold`, `Lot ${lot}. Something is not recorded: open it to see what.`, 1];
  expect(await told()).toEqual([row('TWICE'), row('LONG')]);
  const read = await crew.post(`/api/batches/${long.batch}/readings`, { place: 'storage', stageId: long.stages[0], readings: [{ at: '2026-06-09T02:00:00.000Z', celsius: 3 }] });
  expect([read.status, await told()]).toEqual([201, [row('TWICE')]]);
});

test('a smoked lot on hold is listed whatever holds it, and whether something is not met or only not recorded, as it was judged: one with all its figures, one too cool, one with a log alone', async () => {
  const made = async (lot: string, stage: object, more: object = {}) => {
    const batch = await rows.batch({ lot, name: lot, on_hand_grams: 1000, ...more });
    await rows.stage(batch, { ...smoked, ...stage });
    return batch;
  };
  const seen = async () => (await waiting(crew)).filter((w) => w.kind === 'evidence-missing').map((w) => [w.title, w.detail, w.mark]);
  const row = (lot: string, what = 'recorded', mark = 'hold-unrecorded') => [`${lot} is on hold`, `Lot ${lot}. Something is not ${what}: open it to see what.`, mark];
  await made('WARM', { ...evidence, finished_at: '2026-06-09T15:00:00Z' });
  await made('COOL', { ...evidence, max_core_c: 60, finished_at: '2026-06-09T15:30:00Z' }, { not_met: true });
  await made('LOG', {});
  await made('GOOD', evidence, { verdict: 'clear' });
  await made('SMOKES', { finished_at: null, mass_out_g: null, loss_g: 0 });
  expect(await seen()).toEqual([row('WARM'), row('COOL', 'met', 'hold'), row('LOG')]);
});

test('a raw lot on hold is listed once it has packs; one of which nothing is left keeps nobody waiting, unless another lot has some of it', async () => {
  const raw = (lot: string, grams: number) => rows.batch({ lot, name: lot, product_kind: 'raw', on_hand_grams: grams });
  const seen = async () => (await waiting(crew)).filter((w) => w.kind === 'evidence-missing').map((w) => w.title);
  await raw('FRESH', 1000);
  const [gone, given] = [await raw('GONE', 200), await raw('GIVEN', 300)];
  await rows.pack(gone, 1);
  await rows.pack(given, 1);
  expect((await seen()).sort()).toEqual(['GIVEN is on hold', 'GONE is on hold']);
  await rows.draw(await rows.batch({ lot: 'OTHER' }), given, 100, { landing_id: null, source_batch_id: given });
  await club.database.query('test-discard', `update pack set status = 'discarded'`, []);
  expect(await seen()).toEqual(['GIVEN is on hold']);
});

test('waiting for crew: the same without the claims that a captain decides', async () => {
  await aBusyDay();
  expect(kinds(await waiting(crew))).toEqual(['evidence-missing', 'to-hand-over', 'fish-not-assigned', 'batch-not-started']);
});

test('waiting for a member: only what is theirs', async () => {
  const { packs } = await aBusyDay();
  expect(await waiting(ann)).toEqual([]);
  const news = await waiting(bo);
  expect(kinds(news)).toEqual(['my-claim', 'my-claim']);
  expect(news[0]).toMatchObject({ title: 'Mackerel is yours to collect' });
  expect(news.map((n) => n.path).sort()).toEqual([`/packs/${packs[1]}`, `/packs/${packs[2]}`].sort());
});

test('complete evidence and a closed trip with all fish drawn leave nothing to do', async () => {
  const trip = await rows.trip(await rows.boat(), { closed_at: '2026-06-09T20:00:00Z' });
  const landing = await rows.landing(trip, { grams: 1000 });
  const batch = await clear({ on_hand_grams: 0 });
  await rows.draw(batch, landing, 1000);
  await rows.stage(batch, { ...smoked, ...evidence });
  expect(await waiting(captain)).toEqual([]);
  expect(await today(captain)).toMatchObject({ unassignedGrams: 0, openTrips: [] });
});

test('a refused claim is news for a week', async () => {
  const batch = await clear({ name: 'Mackerel' });
  const refused = { status: 'refused', reason: 'kept for the fair', decided_by_id: captain.id };
  await rows.claim(await rows.pack(batch, 1), ann.id, { ...refused, decided_at: '2026-06-09T09:00:00Z' });
  await rows.claim(await rows.pack(batch, 2), ann.id, { ...refused, decided_at: '2026-06-01T09:00:00Z', created_at: '2026-06-01T08:00:00Z' });
  const news = await waiting(ann);
  expect(news.length).toBe(1);
  expect(news[0]).toMatchObject({ kind: 'my-claim', title: 'Mackerel was refused' });
  expect(news[0]!.detail).toContain('-1: kept for the fair');
});

test('a pack that I hold: past its date it waits for me, recalled it comes first whatever its age; others are told nothing', async () => {
  const held = { status: 'handed-over', holder_id: ann.id };
  const good = await clear({ name: 'Mackerel' });
  const past = await rows.pack(good, 1, { ...held, last_day: '2026-06-09' });
  await rows.pack(good, 2, { ...held, last_day: '2026-06-10' });
  await rows.pack(good, 3, { ...held, last_day: '2026-04-01' });
  const bad = await clear({ lot: 'BAD', name: 'Trout', recalled_at: '2026-06-10T08:00:00Z', recall_reason: 'bones' });
  const recalled = await rows.pack(bad, 4, { ...held, last_day: '2025-12-01' });
  expect(await waiting(ann)).toEqual([
    { kind: 'recalled-pack', id: recalled, title: 'Do not eat Trout, pack BAD-4', detail: 'The lot is recalled: bones. Do not pass it on.', count: 1, path: `/packs/${recalled}`, mark: 'recalled' },
    expect.objectContaining({ kind: 'past-date', id: past, title: 'Mackerel is past its date', detail: expect.stringContaining('use by Tue 9 Jun 2026') }),
  ]);
  expect(await waiting(bo)).toEqual([]);
});

test('a pack that I hold of a lot that turned out wanting is told to me alone, once, before the news, until the lot is clear or the pack is gone', async () => {
  const held = { status: 'handed-over', holder_id: ann.id };
  const [onHold, refused] = [await clear({ lot: 'HLD', name: 'Trout', verdict: 'hold' }), await clear({ lot: 'DNS', name: 'Mackerel', verdict: 'do-not-share' })];
  const first = await rows.pack(onHold, 1, { ...held, packed_at: '2026-06-09T08:00:00Z', last_day: '2026-06-09' });
  const second = await rows.pack(refused, 2, { ...held, packed_at: '2026-06-08T08:00:00Z' });
  expect(await waiting(ann)).toEqual([
    { kind: 'held-pack', id: first, title: 'Do not eat Trout, pack HLD-1, for now', detail: 'Its lot is on hold. Keep it cold, do not pass it on, and ask your captain.', count: 1, path: `/packs/${first}`, mark: 'hold-unrecorded' },
    { kind: 'held-pack', id: second, title: 'Do not eat Mackerel, pack DNS-2', detail: 'Its lot must not be shared. Do not pass it on, and ask your captain.', count: 1, path: `/packs/${second}`, mark: 'do-not-share' },
  ]);
  expect(await waiting(bo)).toEqual([]);
  await club.database.query('', `update batch set verdict = 'clear' where id = $1`, [onHold]);
  await club.database.query('', `update pack set status = 'used', holder_id = null where id = $1`, [second]);
  expect((await waiting(ann)).map((w) => w.kind)).toEqual(['past-date']);
});

test('claimable: clear, not recalled, in date, unclaimed; six shown, soonest date first, all counted', async () => {
  const good = await clear();
  for (let n = 1; n <= 8; n += 1) await rows.pack(good, n, { last_day: `2026-06-${10 + (n % 4)}` });
  await rows.pack(good, 9, { last_day: '2026-06-09' });
  await rows.pack(good, 10, { last_day: null });
  await rows.pack(good, 11, { status: 'discarded' });
  await rows.pack(await rows.batch({ on_hand_grams: 500 }), 1);
  await rows.pack(await clear({ recalled_at: '2026-06-10T08:00:00Z', recall_reason: 'glass' }), 1);
  const { claimable, claimableCount } = await today(ann);
  expect(claimableCount).toBe(8);
  expect(claimable.map((p: { lastDay: string }) => p.lastDay)).toEqual(['2026-06-10', '2026-06-10', '2026-06-11', '2026-06-11', '2026-06-12', '2026-06-12']);
});

test('mine: what I hold and what I asked for; a member is not told who else has or claims a pack', async () => {
  const good = await clear();
  const mine = await rows.pack(good, 1, { status: 'handed-over', holder_id: ann.id });
  const asked = await rows.pack(good, 2, { status: 'claimed' });
  await rows.claim(asked, ann.id);
  const others = await rows.pack(good, 3, { status: 'claimed' });
  await rows.claim(others, bo.id);
  await rows.pack(good, 4, { status: 'handed-over', holder_id: bo.id });
  const answer = await today(ann);
  expect(answer.mine.map((p: { id: string }) => p.id).sort()).toEqual([mine, asked].sort());
  expect(answer.mine.find((p: { id: string }) => p.id === mine)).toMatchObject({ holder: 'Ann Holm', mine: true });
  expect(answer.mine.find((p: { id: string }) => p.id === asked).claim.member).toEqual({ id: ann.id, name: 'Ann Holm' });
  expect(JSON.stringify(answer)).not.toContain('Bo Berg');
});

test('a confirmed claim is not called ready to collect once its lot is on hold or recalled, or its date is over', async () => {
  const title = async (lot: object, pack: object = {}) => {
    const id = await rows.pack(await clear({ name: 'Mackerel', ...lot }), 1, { status: 'claimed', ...pack });
    const claim = await rows.claim(id, bo.id, { status: 'asked' });
    await club.database.query('', `update claim set status = 'confirmed', decided_by_id = $2, decided_at = $3 where id = $1`, [claim, captain.id, '2026-06-10T09:00:00Z']);
    return { id, claim };
  };
  const [held, refused, recalled, past, good] = [await title({}), await title({}), await title({}), await title({}, { last_day: '2026-06-09' }), await title({})];
  await club.database.query('', `update batch set verdict = 'do-not-share' where id = (select batch_id from pack where id = $1)`, [refused.id]);
  await club.database.query('', `update batch set verdict = 'hold' where id = (select batch_id from pack where id = $1)`, [held.id]);
  await club.database.query('', `update batch set recalled_at = now(), recall_reason = 'glass' where id = (select batch_id from pack where id = $1)`, [recalled.id]);
  const news = new Map((await waiting(bo)).map((w) => [w.id, [w.title, w.mark]]));
  expect(news.get(held.claim)).toEqual(['Mackerel is on hold: wait until the club says so', 'hold-unrecorded']);
  expect(news.get(refused.claim)).toEqual(['Mackerel must not be shared: do not eat it', 'do-not-share']);
  expect(news.get(recalled.claim)).toEqual(['Mackerel is recalled: do not eat it', 'recalled']);
  expect(news.get(past.claim)).toEqual(['Mackerel is past its date: do not collect it', 'past']);
  expect(news.get(good.claim)).toEqual(['Mackerel is yours to collect', null]);
});

test('what must not be shared is marked wherever its batch runs, is next or waits; one that is only on hold, as all are under way, is not', async () => {
  const station = await rows.station();
  const marks = async (batch: Record<string, string>) => {
    const [runs, next, waits] = [await rows.batch(batch), await rows.batch(batch), await rows.batch(batch)];
    await rows.stage(runs, { kind: 'cure', started_at: '2026-06-10T10:00:00Z' });
    await rows.slot(station, next, { starts_at: '2026-06-10T13:00:00Z', ends_at: '2026-06-10T14:00:00Z' });
    const told = await today(crew);
    const of = (list: { batchId?: string; id?: string; mark: string | null }[], id: string) => list.find((one) => (one.batchId ?? one.id) === id)?.mark;
    return [of(told.running, runs), of(told.next, next), of(told.waiting, waits)];
  };
  expect(await marks({ verdict: 'hold' })).toEqual([null, null, null]);
  expect(await marks({ verdict: 'clear' })).toEqual([null, null, null]);
  expect(await marks({ verdict: 'do-not-share' })).toEqual(['do-not-share', 'do-not-share', 'do-not-share']);
  // Recalled, it is next and waits no more; what runs of it is still there to be stopped.
  expect(await marks({ verdict: 'do-not-share', recalled_at: '2026-06-10T09:00:00Z', recall_reason: 'glass' })).toEqual(['recalled', undefined, undefined]);
});

test('a claim to decide is marked with what stands against its pack', async () => {
  const asked = async (batch: Record<string, string>, pack: Record<string, string | null> = {}) => {
    const id = await rows.pack(await clear({ name: 'Mackerel' }), 1, { status: 'claimed', ...pack });
    const claim = await rows.claim(id, ann.id);
    for (const [field, value] of Object.entries(batch)) await club.database.query('', `update batch set ${field} = $2 where id = (select batch_id from pack where id = $1)`, [id, value]);
    return claim;
  };
  const claims = [await asked({}), await asked({ verdict: 'hold' }), await asked({ verdict: 'hold', not_met: 'true' }), await asked({ verdict: 'do-not-share' }), await asked({}, { last_day: null })];
  const told = new Map((await waiting(captain)).map((w) => [w.id, w.mark]));
  expect(claims.map((id) => told.get(id))).toEqual([null, 'hold-unrecorded', 'hold', 'do-not-share', 'hold-unrecorded']);
});

test('a claim on a pack past its date is marked from the day after its last day of the club, with what to do; confirmed, it comes back to be decided and is not handed over', async () => {
  const claimed = async (last: string, status: 'asked' | 'confirmed') => {
    const pack = await rows.pack(await clear({ name: 'Mackerel' }), 1, { status: 'claimed', last_day: last });
    return rows.claim(pack, ann.id, status === 'asked' ? {} : { status, decided_by_id: captain.id, decided_at: '2026-06-08T09:00:00Z' });
  };
  const [last, over, confirmed, stands] = [await claimed('2026-06-10', 'asked'), await claimed('2026-06-09', 'asked'), await claimed('2026-06-09', 'confirmed'), await claimed('2026-06-10', 'confirmed')];
  const told = await waiting(captain);
  const of = (id: string) => told.find((w) => w.id === id);
  expect(of(last)).toMatchObject({ mark: null, detail: expect.not.stringContaining('last day') });
  expect(of(over)).toMatchObject({ title: 'Ann Holm claims Mackerel', mark: 'past', detail: expect.stringMatching(/Its last day was Tue 9 Jun 2026: move the claim to another pack or refuse it, then throw this pack away\.$/) });
  expect(of(confirmed)).toMatchObject({ kind: 'claim-to-decide', title: 'Mackerel for Ann Holm cannot be handed over', mark: 'past' });
  expect(of(stands)).toBeUndefined();
  expect(told.find((w) => w.kind === 'to-hand-over')).toMatchObject({ id: ann.id, count: 1 });
  expect(kinds(await waiting(crew))).not.toContain('claim-to-decide');
});

test('weights in the units that are asked for, in the club’s without; 4.5 kg are 9 lb 14.7 oz (NIST: 1 lb is 453.59237 g)', async () => {
  await aBusyDay();
  const told = async (query: string) => {
    const answer = await captain.get(`/api/today${query}`);
    const list = answer.body.waiting as Waiting[];
    return ['claim-to-decide', 'to-hand-over', 'fish-not-assigned', 'batch-not-started'].map((kind) => /[\d.]+ (?:k?g|lb|oz)(?: [\d.]+ oz)?/.exec(list.map((w) => (w.kind === kind ? `${w.title} ${w.detail}` : '')).join(''))![0]);
  };
  const metric = ['200 g', '400 g', '4.5 kg', '1 kg'];
  const us = ['7.1 oz', '14.1 oz', '9 lb 14.7 oz', '2 lb 3.3 oz'];
  expect(await told('')).toEqual(metric);
  expect(await told('?units=metric')).toEqual(metric);
  expect(await told('?units=us')).toEqual(us);
  await club.database.query('', `update club set units = 'us'`, []);
  try {
    expect(await told('')).toEqual(us);
    expect(await told('?units=metric')).toEqual(metric);
  } finally {
    await club.database.query('', `update club set units = 'metric'`, []);
  }
  const refused = await captain.get('/api/today?units=stone');
  expect([refused.status, refused.body.errors[0].field]).toEqual([400, 'units']);
});
