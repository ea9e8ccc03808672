import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { rowsIn } from '../support/rows.ts';

let club: TestClub;
let captain: Person, crew: Person, member: Person;
let boatId: string, tripId: string;
let rows: ReturnType<typeof rowsIn>;
beforeAll(async () => {
  club = await testClub({ now: '2026-06-10T12:00:00Z' });
  [captain, crew, member] = [await club.person('captain', 'Isla Muir'), await club.person('crew', 'Rory Vik'), await club.person('member', 'Ann Holm')];
  rows = rowsIn(club.database, captain.id);
  boatId = await rows.boat({ name: 'Kittiwake' });
});
afterAll(() => club.close());
beforeEach(async () => {
  tripId = await rows.trip(boatId);
});

const mackerel = (more: object = {}) => ({ catcher: { kind: 'member', memberId: member.id }, speciesCode: 'atlantic-mackerel', fishCount: 12, grams: 5400, ...more });
const record = (more: object = {}, key?: string) => crew.post(`/api/trips/${tripId}/landings`, mackerel(more), key);
const refusal = async (more: object) => {
  const answer = await record(more);
  expect(answer.status).toBeGreaterThanOrEqual(400);
  expect(answer.status).toBeLessThan(500);
  return answer.body.errors[0] as { field: string; value: unknown; message: string; remedy: string };
};

test('crew record a landing; fish stay apart unless said otherwise; members read it', async () => {
  const { status, body } = await record({ caughtAt: '2026-06-09T10:00:00+02:00', icedAt: '2026-06-09T08:30:00Z', coreC: 4.5, airC: 14, waterC: 9.5, note: 'bled' });
  expect(status).toBe(201);
  expect(body).toMatchObject({
    trip: { id: tripId, day: '2026-06-09', area: 'Outer bank', boatName: 'Kittiwake' },
    catcher: { kind: 'member', memberId: member.id, name: 'Ann Holm' },
    species: { code: 'atlantic-mackerel', name: 'Atlantic mackerel', sharing: 'ok', scombrotoxin: true },
    fishCount: 12, grams: 5400, weightSource: 'weighed', estimate: null, form: 'whole', lengthsCm: [], lengthKind: null,
    caughtAt: '2026-06-09T08:00:00.000Z', icedAt: '2026-06-09T08:30:00.000Z', coreC: 4.5, airC: 14, waterC: 9.5, note: 'bled',
    pooling: 'apart', drawnGrams: 0, leftGrams: 5400, withdrawn: false, createdBy: { id: crew.id, name: 'Rory Vik' }, createdAt: '2026-06-10T12:00:00.000Z', version: 1,
  });
  expect((await member.get(`/api/landings/${body.id}`)).body).toEqual(body);
  const { body: trip } = await member.get(`/api/trips/${tripId}`);
  expect(trip).toMatchObject({ landingCount: 1, landedGrams: 5400, leftGrams: 5400, landings: [body] });
});

test('caught by a guest, or by the boat in common', async () => {
  expect((await record({ catcher: { kind: 'guest', guestName: 'Per 🎣' } })).body.catcher).toEqual({ kind: 'guest', memberId: null, name: 'Per 🎣' });
  expect((await record({ catcher: { kind: 'boat' } })).body.catcher).toEqual({ kind: 'boat', memberId: null, name: 'Kittiwake' });
  expect((await refusal({ catcher: { kind: 'member', memberId: randomUUID() } })).field).toBe('catcher.memberId');
  expect((await refusal({ catcher: { kind: 'guest', guestName: 'x'.repeat(10_000) } })).message).toBe('Keep the name within 80 characters');
  expect((await refusal({ catcher: { kind: 'cat' } })).field).toContain('catcher');
});

test('members and strangers record and correct nothing', async () => {
  const { body } = await record();
  expect((await member.post(`/api/trips/${tripId}/landings`, mackerel())).status).toBe(403);
  expect((await member.patch(`/api/landings/${body.id}`, { version: 1, grams: 1 })).status).toBe(403);
  expect((await club.stranger.post(`/api/trips/${tripId}/landings`, mackerel())).status).toBe(401);
  expect((await club.stranger.get('/api/landings')).status).toBe(401);
  expect((await club.stranger.get(`/api/landings/${body.id}`)).status).toBe(401);
  expect((await crew.post(`/api/trips/${randomUUID()}/landings`, mackerel())).status).toBe(404);
  expect((await crew.get(`/api/landings/${randomUUID()}`)).status).toBe(404);
});

test('a catcher who left is taken for a trip on which they still belonged to the club', async () => {
  const gone = await club.person('member', 'Bo Berg');
  await club.database.query('test-left', `update member set left_at = '2026-06-09T20:00:00Z' where id = $1`, [gone.id]);
  const byGone = { catcher: { kind: 'member', memberId: gone.id } };
  expect((await record(byGone)).status).toBe(201);
  tripId = await rows.trip(boatId, { day: '2026-06-10' });
  expect((await refusal(byGone)).message).toContain('Bo Berg left the club on 2026-06-09');
});

test('weights that cannot be: none, negative, zero, half a gram, a 900 kg mackerel, kilograms taken for grams', async () => {
  expect(await refusal({ grams: null })).toMatchObject({ field: 'grams', remedy: 'Enter the weight, or the length of each fish to estimate it.' });
  expect(await refusal({ grams: -5 })).toMatchObject({ field: 'grams', value: -5, message: 'Enter a weight above zero' });
  expect(await refusal({ grams: 0 })).toMatchObject({ field: 'grams', value: 0 });
  expect((await refusal({ grams: 0.5 })).field).toBe('grams');
  const absurd = await refusal({ grams: 900_000, fishCount: 1 });
  expect(absurd).toMatchObject({ field: 'grams', value: 900_000 });
  expect(absurd.message).toContain('900 kg');
  expect(absurd.message).toContain('Atlantic mackerel');
  expect((await refusal({ grams: 5, fishCount: 12 })).remedy).toContain('kilograms');
  expect(await refusal({ fishCount: 0 })).toMatchObject({ field: 'fishCount', value: 0 });
  expect(await refusal({ fishCount: -3 })).toMatchObject({ field: 'fishCount', value: -3 });
  expect((await record({ fishCount: null })).body.fishCount).toBeNull();
});

test('an own species is held to the heaviest fish that the club gave', async () => {
  await crew.post('/api/species', { name: 'Lumpsucker', maxFishGrams: 9000 });
  expect((await record({ speciesCode: 'own-lumpsucker', fishCount: 1, grams: 9000 })).status).toBe(201);
  expect((await refusal({ speciesCode: 'own-lumpsucker', fishCount: 1, grams: 9100 })).field).toBe('grams');
  expect(await refusal({ speciesCode: 'moonfish' })).toMatchObject({ field: 'speciesCode', value: 'moonfish' });
});

test('a trip does not land more than 100 t', async () => {
  expect((await record({ fishCount: null, grams: 60_000_000 })).status).toBe(201);
  expect((await refusal({ fishCount: null, grams: 60_000_000 })).field).toBe('grams');
  expect((await member.get(`/api/trips/${tripId}`)).body.landedGrams).toBe(60_000_000);
});

test('a species that is never for sharing is recorded and says so', async () => {
  expect((await record({ speciesCode: 'escolar', fishCount: 1, grams: 4000 })).body.species).toMatchObject({ code: 'escolar', name: 'Escolar', sharing: 'refuse' });
});

test('times: none in the future beyond 5 minutes, none before 2000, none iced before it was caught', async () => {
  expect((await refusal({ caughtAt: '2026-06-10T12:06:00Z' })).field).toBe('caughtAt');
  expect((await record({ caughtAt: '2026-06-10T12:04:00Z' })).status).toBe(201);
  expect((await refusal({ caughtAt: '1999-06-09T10:00:00Z' })).field).toBe('caughtAt');
  expect((await refusal({ icedAt: '2026-06-11T08:00:00Z' })).field).toBe('icedAt');
  expect(await refusal({ caughtAt: '2026-06-09T10:00:00Z', icedAt: '2026-06-09T09:59:00Z' })).toMatchObject({ field: 'icedAt', remedy: 'Check both times.' });
  // The trip is of 9 June, perhaps the day on which it came back.
  expect(await refusal({ caughtAt: '2026-06-07T10:00:00Z' })).toMatchObject({ field: 'caughtAt', message: 'Caught on Sun 7 Jun 2026, more than a day before the trip of Tue 9 Jun 2026.' });
  expect((await record({ caughtAt: '2026-06-08T10:00:00Z' })).status).toBe(201);
  expect((await refusal({ caughtAt: 'yesterday' })).field).toBe('caughtAt');
});

test('temperatures that cannot be are refused, Fahrenheit is recognised', async () => {
  expect((await refusal({ coreC: -999 })).field).toBe('coreC');
  const fahrenheit = await refusal({ coreC: 41 });
  expect(fahrenheit).toMatchObject({ field: 'coreC', value: 41 });
  expect(fahrenheit.message).toContain('looks like Fahrenheit');
  expect((await refusal({ waterC: 50 })).field).toBe('waterC');
  expect((await refusal({ airC: 80 })).field).toBe('airC');
});

test('weight from fork lengths of Atlantic mackerel by exp(-12.6726) L^3.3186 kg (NOAA NEFSC), marked as an estimate with its working', async () => {
  const lengths = [35, 38.5, 41];
  const expected = lengths.reduce((sum, cm) => sum + Math.exp(-12.6726) * cm ** 3.3186 * 1000, 0);
  const { status, body } = await record({ grams: null, fishCount: null, lengthsCm: lengths, lengthKind: 'fork' });
  expect(status).toBe(201);
  expect(Math.abs(body.grams - expected)).toBeLessThanOrEqual(2);
  expect(body).toMatchObject({ weightSource: 'estimated', fishCount: 3, lengthsCm: lengths, lengthKind: 'fork' });
  expect(body.estimate.source).toContain('NOAA NEFSC');
  expect(body.estimate.certainty).toBe('published');
  const note = await crew.patch(`/api/landings/${body.id}`, { version: 1, note: 'measured on deck' });
  expect(note.body).toMatchObject({ weightSource: 'estimated', grams: body.grams, note: 'measured on deck' });
  const longer = await crew.patch(`/api/landings/${body.id}`, { version: 2, lengthsCm: [...lengths, 40] });
  expect(longer.body).toMatchObject({ weightSource: 'estimated', fishCount: 4 });
  expect(longer.body.grams).toBeGreaterThan(body.grams);
  const weighed = await crew.patch(`/api/landings/${body.id}`, { version: 3, grams: 2222 });
  expect(weighed.body).toMatchObject({ weightSource: 'weighed', grams: 2222, estimate: null });
});

test('no estimate without a formula, for cut fish, without saying how it was measured, or for another number of fish', async () => {
  const byLength = { grams: null, lengthsCm: [40, 42], lengthKind: 'fork', fishCount: null };
  expect((await refusal({ ...byLength, speciesCode: 'pollack' })).remedy).toBeTruthy();
  expect(await refusal({ ...byLength, form: 'gutted' })).toMatchObject({ field: 'grams', remedy: 'Weigh it.' });
  expect((await refusal({ ...byLength, lengthKind: null })).field).toBe('lengthKind');
  expect(await refusal({ ...byLength, fishCount: 3 })).toMatchObject({ field: 'lengthsCm', message: 'There are 2 lengths for 3 fish.' });
  expect(await refusal({ lengthsCm: [40, 42] })).toMatchObject({ field: 'lengthsCm', message: 'There are 2 lengths for 12 fish.' });
  expect((await refusal({ ...byLength, lengthsCm: [40, -1] })).field).toBe('lengthsCm.1');
});

test('a closed trip takes no landing until it is opened again', async () => {
  await crew.patch(`/api/trips/${tripId}`, { version: 1, open: false });
  const answer = await record();
  expect(answer.status).toBe(409);
  expect(answer.body.detail).toBe('The trip of Kittiwake on 2026-06-09 is closed. Open the trip again, or record the landing on another trip.');
  await crew.patch(`/api/trips/${tripId}`, { version: 2, open: true });
  expect((await record()).status).toBe(201);
});

test('the same key twice at once makes one landing', async () => {
  const key = randomUUID();
  const answers = await Promise.all([1, 2, 3, 4].map(() => record({}, key)));
  expect(new Set(answers.map((a) => a.body.id)).size).toBe(1);
  expect((await member.get(`/api/trips/${tripId}`)).body.landingCount).toBe(1);
});

test('a correction keeps the earlier value and the reason in the record', async () => {
  const { body } = await record();
  const corrected = await captain.patch(`/api/landings/${body.id}`, { version: 1, grams: 5100, fishCount: 11, reason: 'weighed with the box' });
  expect(corrected.body).toMatchObject({ grams: 5100, fishCount: 11, version: 2 });
  const { body: page } = await crew.get(`/api/record?subjectKind=landing&subjectId=${body.id}`);
  expect(page.items[0]).toMatchObject({ action: 'changed', by: { id: captain.id, name: 'Isla Muir' }, reason: 'weighed with the box', at: '2026-06-10T12:00:00.000Z' });
  expect(page.items[0].fields).toEqual(expect.arrayContaining([{ field: 'grams', before: 5400, after: 5100 }, { field: 'fishCount', before: 12, after: 11 }]));
  expect(page.items[0].fields.length).toBe(2);
});

test('a stale correction is refused with what changed; two at once make one', async () => {
  const { body } = await record();
  const both = await Promise.all([captain.patch(`/api/landings/${body.id}`, { version: 1, grams: 5000 }), crew.patch(`/api/landings/${body.id}`, { version: 1, grams: 5200, icedAt: null })]);
  expect(both.map((a) => a.status).sort()).toEqual([200, 409]);
  const [won, lost] = both[0]!.status === 200 ? [both[0]!, both[1]!] : [both[1]!, both[0]!];
  expect(lost.body.changes).toContainEqual({ field: 'grams', yours: lost === both[0] ? 5000 : 5200, theirs: won.body.grams });
  expect(lost.body.changes.map((c: { field: string }) => c.field)).not.toContain('icedAt');
});

test('a correction is held to the same rules as a landing', async () => {
  const { body } = await record();
  expect((await crew.patch(`/api/landings/${body.id}`, { version: 1, fishCount: 1, grams: 900_000 })).status).toBe(422);
  expect((await crew.patch(`/api/landings/${body.id}`, { version: 1, coreC: 200 })).status).toBe(422);
  expect((await crew.patch(`/api/landings/${body.id}`, { version: 1, grams: null })).body.errors[0].field).toBe('grams');
  expect((await crew.get(`/api/landings/${body.id}`)).body).toEqual(body);
});

test('a weight below what is drawn is refused with the numbers; a landing with fish in a batch is not taken out', async () => {
  const { body } = await record();
  const draw = await rows.draw(await rows.batch(), body.id, 3000);
  const less = await crew.patch(`/api/landings/${body.id}`, { version: 1, grams: 2900 });
  expect(less.status).toBe(409);
  expect(less.body.code).toBe('not-enough-left');
  expect(less.body.detail).toBe('3 kg of this landing is in batches, more than the 2.9 kg entered. Enter 3 kg or more, or take fish out of a batch first.');
  expect((await crew.patch(`/api/landings/${body.id}`, { version: 1, withdrawn: true })).body.errors[0].field).toBe('withdrawn');
  expect((await crew.patch(`/api/landings/${body.id}`, { version: 1, grams: 3000 })).body).toMatchObject({ grams: 3000, leftGrams: 0 });
  await club.database.query('test-cancel', `update draw set cancelled_at = now() where id = $1`, [draw]);
  const out = await crew.patch(`/api/landings/${body.id}`, { version: 2, withdrawn: true, reason: 'counted twice' });
  expect(out.body).toMatchObject({ withdrawn: true, version: 3 });
  expect((await crew.get(`/api/trips/${tripId}`)).body.landingCount).toBe(0);
  expect((await crew.patch(`/api/landings/${body.id}`, { version: 3, withdrawn: false })).body.withdrawn).toBe(false);
});

test('a correction and draws at once never leave more drawn than landed', async () => {
  const { body } = await record({ grams: 6000 });
  const batch = await rows.batch();
  await Promise.allSettled([
    rows.draw(batch, body.id, 3000), rows.draw(batch, body.id, 3000), rows.draw(batch, body.id, 3000),
    crew.patch(`/api/landings/${body.id}`, { version: 1, grams: 4000 }), captain.patch(`/api/landings/${body.id}`, { version: 1, withdrawn: true }),
  ]);
  const { body: now } = await crew.get(`/api/landings/${body.id}`);
  expect(now.leftGrams).toBeGreaterThanOrEqual(0);
  expect(now.withdrawn && now.drawnGrams > 0).toBe(false);
});

test('what the owner agreed to cannot be taken back by a correction once the fish lies with others', async () => {
  const pooled = { pooling: 'pooled' };
  const { body: own } = await record(pooled);
  const { body: other } = await record({ ...pooled, catcher: { kind: 'guest', guestName: 'Per' } });
  const batch = await rows.batch();
  await rows.draw(batch, own.id, 1000);
  const alone = await crew.patch(`/api/landings/${own.id}`, { version: 1, pooling: 'apart' });
  expect(alone.status).toBe(200);
  expect((await crew.patch(`/api/landings/${own.id}`, { version: 2, pooling: 'pooled' })).status).toBe(200);
  await rows.draw(batch, other.id, 1000);
  const mixed = await crew.patch(`/api/landings/${own.id}`, { version: 3, pooling: 'apart' });
  expect(mixed.status).toBe(409);
  expect(mixed.body.code).toBe('would-mix');
  expect((await crew.patch(`/api/landings/${own.id}`, { version: 3, catcher: { kind: 'guest', guestName: 'Siri' } })).status).toBe(200);
});

test('fish in a batch is not corrected to a species that is never shared, nor to a second one beside another (NY262.5)', async () => {
  const pooled = { pooling: 'pooled' };
  const [{ body: one }, { body: two }] = [await record(pooled), await record(pooled)];
  const batch = await rows.batch();
  await rows.draw(batch, one.id, 1000);
  const never = await crew.patch(`/api/landings/${one.id}`, { version: 1, speciesCode: 'escolar' });
  expect(never.status).toBe(409);
  expect(never.body.errors[0]).toMatchObject({ field: 'speciesCode', value: 'escolar' });
  expect(never.body.detail).toContain('does not go into a batch');
  // Alone in its lot, a slip of the species is put right.
  expect((await crew.patch(`/api/landings/${one.id}`, { version: 1, speciesCode: 'sea-trout' })).status).toBe(200);
  expect((await crew.patch(`/api/landings/${one.id}`, { version: 2, speciesCode: 'atlantic-mackerel' })).status).toBe(200);
  const further = await rows.batch();
  await rows.draw(further, two.id, 1000);
  await club.database.query('', `insert into draw (id, batch_id, source_batch_id, grams, of_grams, created_by_id, created_at) values ($1, $2, $3, 500, 1000, $4, now())`, [randomUUID(), further, batch, captain.id]);
  const second = await crew.patch(`/api/landings/${one.id}`, { version: 3, speciesCode: 'sea-trout' });
  expect([second.status, second.body.code]).toEqual([409, 'would-mix']);
  expect(second.body.detail).toContain('lies with Atlantic mackerel');
  expect((await crew.get(`/api/landings/${one.id}`)).body.species.code).toBe('atlantic-mackerel');
});

test('landings are listed newest first, by trip, and by what is left', async () => {
  const ids: string[] = [];
  for (let n = 0; n < 5; n += 1) {
    club.clock.now = new Date(Date.UTC(2026, 5, 10, 13, n));
    ids.unshift((await record({ note: `landing ${n}` })).body.id);
  }
  await rows.draw(await rows.batch(), ids[1]!, 5400);
  await crew.patch(`/api/landings/${ids[3]}`, { version: 1, withdrawn: true });
  const listed = async (query: string) => {
    const found: string[] = [];
    let cursor: string | null = null;
    do {
      const { body } = await member.get(`/api/landings?limit=2&${query}${cursor ? `&cursor=${cursor}` : ''}`);
      found.push(...body.items.map((l: { id: string }) => l.id));
      cursor = body.nextCursor;
    } while (cursor);
    return found;
  };
  expect(await listed(`tripId=${tripId}`)).toEqual(ids);
  expect(await listed(`tripId=${tripId}&left=true`)).toEqual([ids[0], ids[2], ids[4]]);
  expect((await listed('')).slice(0, 5)).toEqual(ids);
  expect((await listed('left=true')).slice(0, 3)).toEqual([ids[0], ids[2], ids[4]]);
  expect((await member.get('/api/landings?left=maybe')).status).toBe(400);
});
