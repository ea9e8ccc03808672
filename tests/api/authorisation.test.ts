import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Person } from '../support/app.ts';
import { routesOf } from '../support/routes.ts';
import { smokehouse } from '../support/smokehouse.ts';

type Outcome = 'allowed' | 401 | 403 | 404;
const everybody = ['stranger', 'member', 'crew', 'captain', 'left'] as const;
type Who = (typeof everybody)[number];
type Row = Record<Who, Outcome>;

// Whoever left was a captain: not even that role is of use after leaving.
const anyone: Row = { stranger: 'allowed', member: 'allowed', crew: 'allowed', captain: 'allowed', left: 'allowed' };
const members: Row = { ...anyone, stranger: 401, left: 401 };
const crew: Row = { ...members, member: 403 };
const captains: Row = { ...crew, crew: 403 };

type World = Awaited<ReturnType<typeof makeWorld>>;
type Request = { params?: Record<string, string>; query?: string; body?: object };
type Fill = (world: World, who: Person) => Request | Promise<Request>;
/** `about` tells apart the cases of one route. */
type Case = [method: string, pattern: string, row: Row, fill?: Fill, about?: string];

const span = '?from=2026-06-01T00:00:00Z&to=2026-06-08T00:00:00Z';
const token = 'A'.repeat(43);
const sheet = {
  kind: 'sheet', pageWidthMm: 210, pageHeightMm: 297, rows: 8, columns: 3, labelWidthMm: 63, labelHeightMm: 33, marginTopMm: 10, marginLeftMm: 7, pitchXMm: 66, pitchYMm: 34,
};
const at = (time: string) => `2026-06-10T${time}:00.000Z`;
const withId = (id: string, body?: object): Request => ({ params: { id }, ...(body ? { body } : {}) });

const cases: Case[] = [
  ['GET', '/api/health', anyone],
  ['GET', '/api/ready', anyone],
  ['GET', '/api/openapi.json', anyone],

  ['GET', '/api/setup', anyone],
  ['POST', '/api/setup', anyone, () => ({ body: {} })],

  ['GET', '/api/session', anyone],
  ['POST', '/api/session', anyone, () => ({ body: {} }), 'without a name and password'],
  ['DELETE', '/api/session', anyone],
  ['POST', '/api/session/renew', { stranger: 401, member: 401, crew: 401, captain: 401, left: 401 }, undefined, 'without a token to renew with'],
  ['DELETE', '/api/session/everywhere', members],
  ['PUT', '/api/password', members, () => ({ body: { current: 'not the present one', next: 'another long password' } })],

  ['GET', '/api/members', members],
  ['GET', '/api/members/:id', members, (w) => withId(w.ann.id)],
  ['PATCH', '/api/members/:id', members, (_w, who) => withId(who.id || randomUUID(), { version: 1, name: 'New Name' }), 'their own name'],
  ['PATCH', '/api/members/:id', captains, (_w, who) => withId(who.id || randomUUID(), { version: 1, role: who.name.startsWith('crew') ? 'member' : 'crew' }), 'their own role'],
  ['PATCH', '/api/members/:id', captains, async (w) => withId(await w.somebody(), { version: 1, name: 'New Name' }), 'somebody else’s name'],
  ['PATCH', '/api/members/:id', captains, async (w) => withId(await w.somebody(), { version: 1, role: 'captain' }), 'somebody else’s role'],
  ['POST', '/api/members/:id/leave', members, (_w, who) => withId(who.id || randomUUID(), { version: 1 }), 'themselves'],
  ['POST', '/api/members/:id/leave', captains, async (w) => withId(await w.somebody(), { version: 1 }), 'somebody else'],

  ['GET', '/api/invitations', captains],
  ['POST', '/api/invitations', captains, () => ({ body: { role: 'member' } })],
  ['DELETE', '/api/invitations/:id', captains, (w) => withId(w.invitationId)],
  ['GET', '/api/invitations/by-token/:token', anyone, () => ({ params: { token } })],
  ['POST', '/api/invitations/by-token/:token/accept', anyone, () => ({ params: { token }, body: { name: 'Ola Berg', userName: 'ola', password: 'three unrelated words' } })],
  ['POST', '/api/invitations/by-token/:token/return', anyone, () => ({ params: { token }, body: { password: 'three unrelated words' } })],

  ['POST', '/api/password-resets', captains, (w) => ({ body: { memberId: w.ben.id } })],
  ['GET', '/api/password-resets/by-token/:token', anyone, () => ({ params: { token } })],
  ['POST', '/api/password-resets/by-token/:token', anyone, () => ({ params: { token }, body: { password: 'three unrelated words' } })],

  ['GET', '/api/club', members],
  ['PATCH', '/api/club', captains, () => ({ body: { version: 1, saleWords: 'Not for sale' } })],

  ['GET', '/api/boats', members],
  ['POST', '/api/boats', captains, () => ({ body: { name: `Boat ${randomUUID()}` } })],
  ['PATCH', '/api/boats/:id', captains, (w) => withId(w.boatId, { version: 1, note: 'new engine' })],

  ['GET', '/api/stations', members],
  ['POST', '/api/stations', captains, () => ({ body: { name: `Smoker ${randomUUID()}`, kind: 'smoker', capacityUnit: 'racks', capacity: 4 } })],
  ['PATCH', '/api/stations/:id', captains, (w) => withId(w.stationId, { version: 1, note: 'new door' })],

  ['GET', '/api/salt-figures', members],
  ['GET', '/api/cure-stock', members],
  ['POST', '/api/cure-stock/counts', crew, () => ({ body: { counts: [{ ingredient: 'table-salt', grams: 1000 }] } })],
  ['PATCH', '/api/stages/:id/cure', crew, (w) => withId(w.stageId, { version: 0, method: 'dry', saltGrams: 100, thicknessMm: 20, skin: true, temperatureC: 3, onceFrozen: false, fat: 'fatty' })],
  ['GET', '/api/stations/:id/fits', members, (w) => withId(w.stationId)],
  ['POST', '/api/stations/:id/fits', crew, (w) => withId(w.stationId, { draught: 'fan' })],

  ['GET', '/api/species', members],
  ['POST', '/api/species', crew, () => ({ body: { name: `Fish ${randomUUID()}`, maxFishGrams: 5000 } })],
  ['PATCH', '/api/species/:code', crew, (w) => ({ params: { code: w.speciesCode }, body: { version: 7, maxFishGrams: 6000 } })],

  ['GET', '/api/trips', members],
  ['GET', '/api/formulas', members],
  ['POST', '/api/formulas', crew, () => ({ body: { name: `Cure ${randomUUID()}`, method: 'dry', fishGrams: 1000, items: [{ name: 'Salt', ingredient: 'table-salt', grams: 200 }] } })],
  ['PATCH', '/api/formulas/:id', crew, (w) => withId(w.formulaId, { version: 1, note: 'for bellies' })],
  ['POST', '/api/trips', crew, (w) => ({ body: { boatId: w.boatId, day: '2026-06-09', area: 'Off the skerries' } })],
  ['GET', '/api/trips/:id', members, (w) => withId(w.tripId)],
  ['PATCH', '/api/trips/:id', crew, (w) => withId(w.tripId, { version: 1, note: 'calm' })],

  ['POST', '/api/trips/:id/landings', crew, (w) => withId(w.tripId, { catcher: { kind: 'boat' }, speciesCode: w.speciesCode, grams: 900, fishCount: 3 })],
  ['GET', '/api/landings', members],
  ['GET', '/api/landings/:id', members, (w) => withId(w.landingId)],
  ['PATCH', '/api/landings/:id', crew, (w) => withId(w.landingId, { version: 1, note: 'bled' })],

  ['GET', '/api/batches', members],
  ['POST', '/api/batches', crew, () => ({ body: { name: 'Empty' } }), 'that draws nothing'],
  ['POST', '/api/batches', captains, (w) => ({ body: { draws: [{ source: { kind: 'landing', id: w.landingId }, grams: 10 }] } }), 'that draws from a landing'],
  ['GET', '/api/batches/:id', members, (w) => withId(w.batchId)],
  ['PATCH', '/api/batches/:id', crew, (w) => withId(w.batchId, { version: 1, note: 'alder' })],
  ['POST', '/api/batches/:id/draws', captains, (w) => withId(w.openBatchId, { draws: [{ source: { kind: 'landing', id: w.landingId }, grams: 10 }] }), 'from a landing'],
  ['POST', '/api/batches/:id/draws', crew, (w) => withId(w.openBatchId, { draws: [{ source: { kind: 'pack', id: randomUUID() } }] }), 'from a pack'],
  ['PATCH', '/api/draws/:id', captains, (w) => withId(w.drawId, { version: 1, grams: 400, reason: 'read wrong' }), 'from a landing'],
  ['POST', '/api/batches/:id/stages', crew, (w) => withId(w.openBatchId, { kind: 'rinse', startedAt: at('17:30') })],
  ['PATCH', '/api/stages/:id', crew, (w) => withId(w.stageId, { version: 1, note: 'windy' })],
  ['POST', '/api/batches/:id/recall', captains, (w) => withId(w.openBatchId, { reason: 'Bones found' })],
  ['POST', '/api/batches/:id/recall/lift', captains, (w) => withId(w.openBatchId, { reason: 'No bones' })],
  ['GET', '/api/batches/:id/yields', members, (w) => withId(w.batchId)],
  ['GET', '/api/batches/:id/holders', crew, (w) => withId(w.batchId)],

  ['GET', '/api/batches/:id/readings', members, (w) => withId(w.batchId)],
  ['POST', '/api/batches/:id/reading-columns', crew, (w) => withId(w.openBatchId, { text: '17:00;20;21\n17:05;20;21', columns: [{ no: 2, place: 'core' }] })],
  ['POST', '/api/batches/:id/readings', crew, (w) => withId(w.openBatchId, { place: 'core', readings: [{ at: at('17:00'), celsius: 20 }] })],
  ['PATCH', '/api/reading-lists/:id', { ...crew, crew: 404, captain: 404 }, () => withId(randomUUID(), { version: 1, withdrawn: true })],
  ['POST', '/api/batches/:id/measurements', captains, (w) => withId(w.openBatchId, { kind: 'nitrite', value: 120, part: 'loin', laboratory: 'Quay Laboratory', sampledDay: '2026-06-09', reportedDay: '2026-06-10' })],
  ['PATCH', '/api/measurements/:id', { ...captains, captain: 404 }, () => withId(randomUUID(), { version: 1, withdrawn: true })],

  ['POST', '/api/batches/:id/releases', { ...captains, captain: 403 }, (w) => withId(w.openBatchId, { ruleId: 'smoke.core', reason: 'It looked done' }), 'of a rule that nobody releases'],
  ['PATCH', '/api/releases/:id', { ...captains, captain: 404 }, () => withId(randomUUID(), { version: 1, withdrawn: true })],
  ['GET', '/api/rules', members],
  ['PUT', '/api/rules/limits/:id', captains, () => ({ params: { id: 'hold.cold.celsius' }, body: { value: null, version: 0 } })],

  ['GET', '/api/slots', members, () => ({ query: span })],
  ['GET', '/api/slots/:id', members, () => withId(randomUUID())],
  ['POST', '/api/slots', crew, (w) => ({ body: { stationId: w.stationId, batchId: w.openBatchId, stageKind: 'smoke', startsAt: at('21:00'), endsAt: at('22:00'), amount: 1 } })],
  ['PATCH', '/api/slots/:id', crew, () => withId(randomUUID(), { version: 1, amount: 1 })],

  ['GET', '/api/packs', members],
  ['GET', '/api/packs/:id', members, (w) => withId(w.packOfAnn)],
  ['POST', '/api/batches/:id/packs', crew, (w) => withId(w.batchId, { weightsG: [10], packageKind: 'tub', storage: 'refrigerated', packedAt: at('17:30') })],
  ['PATCH', '/api/packs/:id', crew, (w) => withId(w.nextPack(), { version: 1, grams: 19, reason: 'read wrong' })],
  ['PATCH', '/api/packs/:id', members, async (w, who) => withId(await w.handedTo(who.id ? who : w.ann), { version: 2, storage: 'frozen' }), 'frozen, of a pack that they have'],
  ['PATCH', '/api/packs/:id', crew, (w) => withId(w.packOfAnn, { version: 2, storage: 'frozen' }), 'frozen, of somebody else’s pack'],
  ['POST', '/api/packs/:id/told', members, async (w, who) => withId(await w.handedTo(who.id ? who : w.ann), { told: true }), 'of a pack that they have'],
  ['POST', '/api/packs/:id/told', crew, (w) => withId(w.packOfAnn, { told: true }), 'of somebody else’s pack'],

  ['GET', '/api/claims', members],
  ['POST', '/api/claims', members, (w) => ({ body: { packId: w.nextPack() } }), 'for themselves'],
  ['POST', '/api/claims', { ...captains, member: 403 }, (w) => ({ body: { packId: w.nextPack(), memberId: w.ben.id } }), 'for somebody else'],
  ['POST', '/api/claims/several', members, (w) => ({ body: { packIds: [w.nextPack()] } }), 'for themselves'],
  ['POST', '/api/claims/several', { ...captains, member: 403 }, (w) => ({ body: { packIds: [w.nextPack()], memberId: w.ben.id } }), 'for somebody else'],
  ['POST', '/api/claims/:id/confirm', captains, async (w) => withId(await w.claimOf(w.ann), { version: 1 })],
  ['POST', '/api/claims/:id/refuse', captains, async (w) => withId(await w.claimOf(w.ann), { version: 1 })],
  ['POST', '/api/claims/:id/move', captains, async (w) => withId(await w.claimOf(w.ann), { version: 1, toMemberId: w.ben.id })],
  ['POST', '/api/claims/:id/withdraw', members, async (w, who) => withId(await w.claimOf(who.id ? who : w.ann), { version: 1 }), 'their own'],
  // Crew and captains read every claim, so they are told that it is not theirs; a member does not learn that it exists.
  ['POST', '/api/claims/:id/withdraw', { ...captains, member: 404, captain: 403 }, async (w) => withId(await w.claimOf(w.ann), { version: 1 }), 'somebody else’s'],

  ['GET', '/api/hand-overs', members],
  ['POST', '/api/hand-overs', crew, (w) => ({ body: { packIds: [w.nextPack()], to: { memberId: w.ben.id } } })],
  ['POST', '/api/hand-overs/:id/undo', captains, (w) => withId(w.handOverId, { version: 7, reason: 'Wrong person' })],
  ['POST', '/api/gifts', members, async (w, who) => ({ body: { packId: await w.handedTo(who.id ? who : w.ann), to: { name: 'A neighbour' } } }), 'of a pack that they have'],
  ['POST', '/api/gifts', { ...captains, captain: 403 }, (w) => ({ body: { packId: w.packOfAnn, to: { name: 'A neighbour' } } }), 'of somebody else’s pack'],

  ['GET', '/api/label-layouts', crew],
  ['POST', '/api/label-layouts', crew, () => ({ body: { name: `Sheet ${randomUUID()}`, geometry: sheet } })],
  ['PATCH', '/api/label-layouts/:id', crew, (w) => withId(w.layoutId, { version: 7, name: 'Sheet' })],
  ['POST', '/api/label-runs', crew, (w) => ({ body: { packIds: [w.packOfAnn], layoutId: w.layoutId, markHeld: true } })],
  ['GET', '/api/label-runs/:id/pdf', crew, () => withId(randomUUID())],

  ['GET', '/api/public/packs/:code', anyone, () => ({ params: { code: 'NOSUCHCODE' } })],
  ['GET', '/api/today', members],
  ['GET', '/api/record', crew],

  ...[
    'brine-strength', 'brine-of', 'salt-for-water', 'brine-change', 'brine-cooling', 'kitchen-measure', 'grams-of-measure',
    'salt-diffusivity', 'salt-uptake', 'salt-time', 'salt-equalise', 'salt-freshen', 'salt-refit', 'water-phase-salt', 'salt-for-target', 'salt-equilibrium', 'water-activity',
    'weight-after-cure', 'cure-plan', 'cure-layers', 'cure-vessel', 'cure-shopping', 'cure-too-salty', 'cure-formula', 'thermal-properties', 'humid-air', 'slab-series', 'smoke-forecast',
    'lethality', 'hold', 'days-used', 'keeping-time', 'warm-spell', 'listeria-growth',
    'cooling-checks', 'cooling-forecast', 'smoker-fit', 'ice-to-load', 'chilling-time', 'histamine-line', 'warm-exposure',
    'salt-course', 'salt-after-drying', 'salt-before-drying', 'yield-expected', 'yield-question', 'yield-weights', 'advice', 'allergens-found', 'serving', 'mercury-meals',
    'last-day', 'length-weight', 'cure-groups', 'share-out',
  ].map((name): Case => ['POST', `/api/calculations/${name}`, members, () => ({ body: {} })]),
];

const sound = (answer: { status: number; body: any }, what: string) => {
  if (answer.status >= 300) throw new Error(`${what}: ${JSON.stringify(answer.body)}`);
  return answer.body;
};

async function makeWorld() {
  const house = await smokehouse();
  const { club, captain, crew: hand, ann, ben, tripId } = house;
  const landingId = await house.land();
  const batch = await house.make([house.landing(await house.land())]);
  const packs = await house.pack(await house.smoked(batch), Array.from({ length: 80 }, () => 20));
  const open = await house.make([house.landing(await house.land(), 500)]);
  const stage = sound(await house.stage(open, 'cure', '09:00', '10:00', { massOutG: 500 }), 'stage').stages[0];
  const station = sound(await captain.post('/api/stations', { name: 'Smoker', kind: 'smoker', capacityUnit: 'racks', capacity: 4 }), 'station');
  const formula = sound(await captain.post('/api/formulas', { name: 'Our cure', method: 'dry', fishGrams: 1000, items: [{ name: 'Salt', ingredient: 'table-salt', grams: 200 }] }), 'formula');
  const layout = sound(await captain.post('/api/label-layouts', { name: 'Our sheet', geometry: sheet }), 'layout');
  const { invitation } = sound(await captain.post('/api/invitations', { role: 'member' }), 'invitation');
  const { boat } = sound(await captain.get(`/api/trips/${tripId}`), 'trip');
  const { species } = sound(await captain.get(`/api/landings/${landingId}`), 'landing');

  const nextPack = () => {
    const pack = packs.pop();
    if (!pack) throw new Error('The test needs more packs');
    return pack.id;
  };
  const handOver = async (packId: string, to: Person) => sound(await hand.post('/api/hand-overs', { packIds: [packId], to: { memberId: to.id } }), 'hand-over').items[0].id as string;
  const handedTo = async (person: Person) => {
    const packId = nextPack();
    await handOver(packId, person);
    return packId;
  };
  const claimOf = async (person: Person) => sound(await person.post('/api/claims', { packId: nextPack() }), 'claim').id as string;
  const somebody = async () => (await club.person('member')).id;
  const packOfAnn = nextPack();
  const handOverId = await handOver(packOfAnn, ann);
  return {
    club, ann, ben, tripId, landingId, packOfAnn, handOverId, nextPack, handedTo, claimOf, somebody,
    batchId: batch.id as string, openBatchId: open.id as string, drawId: open.draws[0].id as string, stageId: stage.id as string, stationId: station.id as string,
    layoutId: layout.id as string, invitationId: invitation.id as string, boatId: boat.id as string, formulaId: formula.id as string, speciesCode: species.code as string,
  };
}

let world: World;
beforeAll(async () => { world = await makeWorld(); });
afterAll(() => world.club.close());

/** Sends the case as one of the five, somebody new each time. */
async function ask(who: Who, [method, pattern, , fill]: Case) {
  const { club } = world;
  const person = who === 'stranger' ? club.stranger : await club.person(who === 'left' ? 'captain' : who);
  const { params = {}, query = '', body } = (await fill?.(world, person)) ?? {};
  if (who === 'left') await club.database.query('', 'update member set left_at = now() where id = $1', [person.id]);
  const url = pattern.replace(/:(\w+)/g, (_all, key: string) => params[key] ?? randomUUID()) + query;
  const key = method === 'POST' ? { 'idempotency-key': randomUUID() } : {};
  const send = (verb: string) => club.send(verb, url, person.cookie, body, key as Record<string, string>);
  return { answer: await send(method), head: method === 'GET' ? await send('HEAD') : null };
}

const codes: Record<number, string> = { 401: 'not-signed-in', 403: 'not-allowed', 404: 'not-found' };

function judge(expected: Outcome, status: number): Outcome | number {
  if (expected !== 'allowed') return status;
  return status === 401 || status === 403 || status >= 500 ? status : 'allowed';
}

test('the table names every route of the API, and none that is gone', () => {
  const named = [...new Set(cases.map(([method, pattern]) => `${method} ${pattern}`))].sort();
  const served = routesOf(world.club.app).filter((route) => !route.startsWith('HEAD ')).sort();
  expect(served.length).toBeGreaterThan(50);
  expect(named).toEqual(served);
});

test('every route that is served to HEAD is served to GET', () => {
  const served = new Set(routesOf(world.club.app));
  for (const route of served) if (route.startsWith('HEAD ')) expect(served.has(route.replace('HEAD', 'GET')), route).toBe(true);
});

describe.each(cases.map((it) => ({ it, title: `${it[0]} ${it[1]}${it[4] ? `, ${it[4]}` : ''}` })))('$title', ({ it }) => {
  test.each(everybody)('%s', async (who) => {
    const expected = it[2][who];
    const { answer, head } = await ask(who, it);
    expect(judge(expected, answer.status), JSON.stringify(answer.body)).toBe(expected);
    if (head) expect(judge(expected, head.status)).toBe(expected);
    if (expected !== 'allowed') expect(answer.body.code).toBe(codes[expected]);
  });
});
