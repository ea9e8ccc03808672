import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { syncSpecies } from '../../server/features/species/species.service.ts';
import { applyRules } from '../../server/features/batches/rules.service.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => void (s = await smokehouse()));
afterAll(() => s.club.close());

const none = { scombrotoxin: false, scombrotoxinSource: 'Harbour Laboratory, letter of May' };
const add = (name: string, more: object = {}, by = s.captain) => by.post('/api/species', { name, maxFishGrams: 30_000, ...more });
/** Of fish that nobody knows anything about: no time, no temperature. */
const smokedOf = async (code: string) => s.smoked(await s.make([s.landing(await s.land({ species_code: code, caught_at: null, iced_at: null, core_c: null }))]));
const chill = (page: any) => page.checks.filter((c: any) => c.ruleId.startsWith('chill.')).length;

describe('a club’s own species forms histamine until a source says that it does not (tables/hazards.csv; HG ch. 3 and 7)', () => {
  test('"no" without a source is refused, in one step or in two', async () => {
    for (const scombrotoxinSource of [undefined, '', '  ']) expect(await add('Ballan wrasse', { scombrotoxin: false, scombrotoxinSource })).toMatchObject({ status: 422, body: { errors: [{ field: 'scombrotoxinSource' }] } });
    const { body } = await add('Ballan wrasse');
    expect(await s.captain.patch(`/api/species/${body.code}`, { version: 1, scombrotoxin: false })).toMatchObject({ status: 422, body: { errors: [{ field: 'scombrotoxinSource' }] } });
    expect((await s.captain.patch(`/api/species/${body.code}`, { version: 1, ...none })).body).toMatchObject(none);
    expect((await s.captain.patch(`/api/species/${body.code}`, { version: 2, scombrotoxinSource: '' })).status).toBe(422);
    // Not known again, and then no: the source is named anew.
    expect((await s.captain.patch(`/api/species/${body.code}`, { version: 2, scombrotoxin: null })).body).toMatchObject({ scombrotoxin: null, scombrotoxinSource: '' });
    expect((await s.captain.patch(`/api/species/${body.code}`, { version: 3, scombrotoxin: false })).status).toBe(422);
  });

  test('a captain says so; crew neither say it nor carry it over to another name', async () => {
    expect((await add('Cuckoo wrasse', none, s.crew)).status).toBe(403);
    const { body } = await add('Cuckoo wrasse', none);
    for (const patch of [{ name: 'Rock cook' }, { scientificName: 'Centrolabrus exoletus' }, { scombrotoxinSource: 'A book' }]) expect((await s.crew.patch(`/api/species/${body.code}`, { version: 1, ...patch })).status).toBe(403);
    expect((await s.crew.patch(`/api/species/${body.code}`, { version: 1, maxFishGrams: 900 })).status).toBe(200);
  });

  test('no source says it of a fish whose name is that of one that does, however it is written, and renamed later neither', async () => {
    for (const name of ['Skipjack', 'Our yellowfin tuna', 'Mackerel (small)', 'MACKERELS of the bay', 'Màkrell', 'Sild']) expect(await add(name, none), name).toMatchObject({ status: 422, body: { errors: [{ field: 'scombrotoxin' }] } });
    expect(await add('Little one', { ...none, scientificName: 'Katsuwonus pelamis' })).toMatchObject({ status: 422, body: { errors: [{ field: 'scombrotoxin' }] } });
    const { body } = await add('Goldsinny', none);
    for (const patch of [{ name: 'Skipjack' }, { scientificName: 'Scomber scombrus' }]) expect(await s.captain.patch(`/api/species/${body.code}`, { version: 1, ...patch })).toMatchObject({ status: 422, body: { errors: [{ field: 'scombrotoxin' }] } });
    expect((await s.captain.patch(`/api/species/${body.code}`, { version: 1, name: 'Skipjack', scombrotoxin: null })).status).toBe(200);
  });

  test('landed without times it holds its batch; with a source it does not', async () => {
    const batch = await smokedOf((await add('Corkwing wrasse')).body.code);
    expect([batch.verdict, chill(batch)]).toEqual(['hold', 2]);
    expect((await smokedOf((await add('Sea scorpion', none)).body.code)).verdict).toBe('clear');
  });

  test('the database takes no "no" without a source', async () => {
    await expect(s.club.database.query('t-own-no', `insert into species (code, name, own, scombrotoxin, max_fish_grams) values ('own-bare', 'Bare fish', true, false, 100)`)).rejects.toThrow(/species_no_histamine_has_source/);
    await expect(s.club.database.query('t-own-blank', `insert into species (code, name, own, scombrotoxin, scombrotoxin_source, max_fish_grams) values ('own-bare', 'Bare fish', true, false, '    ', 100)`)).rejects.toThrow(/species_no_histamine_has_source/);
  });
});

describe('fish that is never for sharing is no club’s own (tables/hazards.csv: gempylotoxin, tetrodotoxin)', () => {
  test('neither added nor renamed to', async () => {
    for (const name of ['Fugu pufferfish', 'PUFFERS', 'Escolár', 'Oil-fish steaks', 'Blow fish']) for (const more of [{}, { scombrotoxin: true }]) expect(await add(name, more), name).toMatchObject({ status: 422, body: { errors: [{ field: 'name' }] } });
    expect(await add('Round one', { scientificName: 'Lagocephalus sceleratus' })).toMatchObject({ status: 422, body: { errors: [{ field: 'scientificName' }] } });
    const { body } = await add('Lumpfish of the skerries');
    expect(await s.captain.patch(`/api/species/${body.code}`, { version: 1, name: 'Fugu of the bay' })).toMatchObject({ status: 422, body: { errors: [{ field: 'name' }] } });
  });
});

test('species of the club’s own from before are read as strictly, and their batches judged anew', async () => {
  const { query } = s.club.database;
  const codes = [(await add('First fish', none)).body.code, (await add('Second fish', none)).body.code];
  const [mackerel, puffer] = [await smokedOf(codes[0]), await smokedOf(codes[1])];
  expect([mackerel.verdict, puffer.verdict]).toEqual(['clear', 'clear']);
  await query('t-own-first', `update species set name = 'Small mackerel' where code = $1`, [codes[0]]);
  await query('t-own-second', `update species set name = 'Grey puffer' where code = $1`, [codes[1]]);
  await applyRules(s.club.context, 'names alone');
  expect([(await s.page(mackerel)).verdict, (await s.page(puffer)).verdict]).toEqual(['hold', 'do-not-share']);
  await syncSpecies(s.club.database);
  const rows = await query('t-own-after', 'select scombrotoxin, sharing from species where code = any($1) order by code', [codes]);
  expect(rows).toEqual([{ scombrotoxin: null, sharing: 'ok' }, { scombrotoxin: null, sharing: 'refuse' }].map((row, i) => (i === 1 ? { ...row, scombrotoxin: false } : row)));
});
