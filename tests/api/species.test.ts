import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { SPECIES } from '../../server/domain/species/index.ts';
import { syncSpecies } from '../../server/features/species/species.service.ts';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';

let club: TestClub;
let captain: Person, crew: Person, member: Person;
beforeAll(async () => {
  club = await testClub();
  [captain, crew, member] = [await club.person('captain'), await club.person('crew'), await club.person('member')];
});
afterAll(() => club.close());

test('the list holds every species of the tables, with what is never for sharing marked', async () => {
  const { status, body } = await member.get('/api/species');
  expect(status).toBe(200);
  expect(body.items.filter((s: { own: boolean }) => !s.own).length).toBe(SPECIES.length);
  const byCode = new Map<string, { sharing: string; hasLengthWeight: boolean }>(body.items.map((s: { code: string }) => [s.code, s]));
  expect(byCode.get('escolar')!.sharing).toBe('refuse');
  expect(byCode.get('atlantic-mackerel')).toMatchObject({ scombrotoxin: true, hasLengthWeight: true, sharing: 'ok' });
  expect(byCode.get('pollack')!.hasLengthWeight).toBe(false);
});

test('crew add a species of the club’s own', async () => {
  const { status, body } = await crew.post('/api/species', { name: 'Lumpsucker 🐡', maxFishGrams: 9000 });
  expect(status).toBe(201);
  expect(body).toMatchObject({ code: 'own-lumpsucker', own: true, scombrotoxin: null, sharing: 'ok', maxFishGrams: 9000, hasLengthWeight: false });
});

test('a name that the tables have is refused whatever its case, an other name of a table species too', async () => {
  const same = await crew.post('/api/species', { name: 'ATLANTIC  mackerel', maxFishGrams: 3000 });
  expect(same.status).toBe(409);
  expect(same.body.errors[0]).toMatchObject({ field: 'name', message: 'Atlantic mackerel is in the list already.' });
  expect((await crew.post('/api/species', { name: 'dorado', maxFishGrams: 3000 })).body.detail).toContain('Choose Mahi-mahi');
});

test('names that differ only in case or accents’ encoding are one; names that only look alike get codes of their own', async () => {
  expect((await crew.post('/api/species', { name: 'Bérgylt', maxFishGrams: 3000 })).body.code).toBe('own-bergylt');
  expect((await crew.post('/api/species', { name: 'BE\u0301RGYLT', maxFishGrams: 3000 })).status).toBe(409);
  expect((await crew.post('/api/species', { name: 'Bergylt', maxFishGrams: 3000 })).body.code).toBe('own-bergylt-2');
  expect((await crew.post('/api/species', { name: 'Треска', maxFishGrams: 3000 })).body.code).toMatch(/^own-[a-z0-9-]+$/);
});

test('two people who add the same name at once make one species', async () => {
  const answers = await Promise.all(['Blue wrasse', 'blue Wrasse', 'BLUE WRASSE', 'Blue wrasse'].map((name) => crew.post('/api/species', { name, maxFishGrams: 2000 })));
  expect(answers.map((a) => a.status).sort()).toEqual([201, 409, 409, 409]);
  const rows = await club.database.query('test-wrasse', `select 1 from species where lower(name) = 'blue wrasse'`);
  expect(rows.length).toBe(1);
});

test('a member adds none, a stranger sees none, and a heaviest fish of 0 g is refused', async () => {
  expect((await member.post('/api/species', { name: 'Garfish', maxFishGrams: 2000 })).status).toBe(403);
  expect((await club.stranger.get('/api/species')).status).toBe(401);
  const zero = await crew.post('/api/species', { name: 'Garfish', maxFishGrams: 0 });
  expect(zero.body.errors[0]).toMatchObject({ field: 'maxFishGrams', value: 0, message: 'Enter a weight above zero' });
});

test('starting twice, or two processes at once, changes nothing', async () => {
  const before = await club.database.query('test-species-entries', `select count(*) as n from record_entry where subject_kind = 'species'`);
  await Promise.all([syncSpecies(club.database), syncSpecies(club.database), syncSpecies(club.database)]);
  expect(await club.database.query('test-species-entries', `select count(*) as n from record_entry where subject_kind = 'species'`)).toEqual(before);
});

test('a start mends what differs from the tables, and an own species whose name the tables gained steps aside', async () => {
  await club.database.query('test-species-off', `update species set sharing = 'ok', max_fish_grams = 1 where code = 'escolar'`);
  await club.database.query('test-species-gone', `delete from species where code = 'sprat'`);
  await club.database.query('test-species-own', `insert into species (code, name, own, max_fish_grams) values ('own-sprat', 'SPRAT', true, 100)`);
  await syncSpecies(club.database);
  const rows = await club.database.query<{ code: string; name: string; sharing: string }>('test-species-mended', `select code, name, sharing from species where code in ('escolar', 'sprat', 'own-sprat') order by code`);
  expect(rows).toEqual([
    { code: 'escolar', name: 'Escolar', sharing: 'refuse' },
    { code: 'own-sprat', name: 'SPRAT (own-sprat)', sharing: 'ok' },
    { code: 'sprat', name: 'Sprat', sharing: 'ok' },
  ]);
});

test('the same key sent twice at once makes one species', async () => {
  const key = randomUUID();
  const answers = await Promise.all([1, 2].map(() => crew.post('/api/species', { name: 'Wolffish', maxFishGrams: 30_000 }, key)));
  expect(answers.map((a) => a.status)).toEqual([201, 201]);
  expect(answers[0]!.body).toEqual(answers[1]!.body);
});

test('crew change a species of the club’s own; its code stays, a member may not, and the record keeps the earlier value', async () => {
  const { body: made } = await crew.post('/api/species', { name: 'Grey gurnard', maxFishGrams: 900 });
  expect(made).toMatchObject({ code: 'own-grey-gurnard', version: 1 });
  const said = { scombrotoxin: false, scombrotoxinSource: 'Harbour Laboratory, letter of May' };
  const changed = await captain.patch(`/api/species/${made.code}`, { version: 1, name: 'Grey Gurnard', scientificName: 'Eutrigla gurnardus', ...said, maxFishGrams: 1500 });
  expect(changed.body).toEqual({ ...made, name: 'Grey Gurnard', scientificName: 'Eutrigla gurnardus', ...said, maxFishGrams: 1500, version: 2 });
  expect((await crew.patch(`/api/species/${made.code}`, { version: 2, scombrotoxin: null })).body).toMatchObject({ scombrotoxin: null, scombrotoxinSource: '', maxFishGrams: 1500, version: 3 });
  expect((await member.patch(`/api/species/${made.code}`, { version: 3, name: 'Gurnard' })).status).toBe(403);
  const rows = await club.database.query<{ before: { name: string } }>('test-species-before', `select before from record_entry where subject_kind = 'species' and action = 'changed' and after->>'scientific_name' = 'Eutrigla gurnardus' and before->>'scientific_name' = ''`);
  expect(rows[0]!.before.name).toBe('Grey gurnard');
});

test('a stale edit of a species says what changed, and a name that is taken is refused at the field', async () => {
  const { body: made } = await crew.post('/api/species', { name: 'Tub gurnard', maxFishGrams: 5000 });
  await crew.patch(`/api/species/${made.code}`, { version: 1, maxFishGrams: 6000 });
  const late = await crew.patch(`/api/species/${made.code}`, { version: 1, maxFishGrams: 7000 });
  expect(late.status).toBe(409);
  expect(late.body.changes).toEqual([{ field: 'maxFishGrams', yours: 7000, theirs: 6000 }, { field: 'version', yours: 1, theirs: 2 }]);
  const taken = await crew.patch(`/api/species/${made.code}`, { version: 2, name: 'escolar' });
  expect(taken.body).toMatchObject({ code: 'name-taken', errors: [{ field: 'name', message: 'Escolar is in the list already.' }] });
  expect((await crew.patch(`/api/species/${made.code}`, { version: 2, name: 'TUB gurnard' })).status).toBe(200);
});

test('what the tables say is not changed by hand, one that is not there is not found, and a fish of 1,500 kg is refused', async () => {
  const fixed = await crew.patch('/api/species/escolar', { version: 1, maxFishGrams: 5 });
  expect(fixed.status).toBe(409);
  expect(fixed.body.detail).toContain('Escolar comes from the tables');
  expect((await crew.patch('/api/species/own-nothing', { version: 1, maxFishGrams: 5 })).status).toBe(404);
  expect((await crew.post('/api/species', { name: 'Kraken', maxFishGrams: 1_500_000 })).body.errors[0]).toMatchObject({ field: 'maxFishGrams', value: 1_500_000 });
});
