import { afterAll, beforeAll, expect, test } from 'vitest';
import { SPECIES } from '../../server/domain/species/index.ts';
import { applyRules, judgeLapsed, rulesVersion } from '../../server/features/batches/rules.service.ts';
import { testClub } from '../support/app.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const cleared = async (species: string) => s.smoked(await s.make([s.landing(await s.land({ species_code: species, pooling: 'pooled' }), 5000)]));
const refuse = (code: string) => s.club.database.query('t-refuse', `update species set sharing = 'refuse' where code = $1`, [code]);
const verdictEntries = async (id: string) =>
  (await s.captain.get(`/api/record?subjectKind=batch&subjectId=${id}`)).body.items.filter((e: any) => e.fields.some((f: any) => f.field === 'verdict' && f.before === 'clear'));

test('a species that later tables refuse (tables/hazards.csv) holds what was made of it, at the next start, once, with the reason in the record', async () => {
  const [bad, good] = [await cleared('sprat'), await cleared('pollack')];
  const [pack, other] = await s.pack(bad, [200, 200]);
  const dip = await s.make([s.fromPack(other!.id)], { productKind: 'dip' });
  const mixed = (await s.stage(dip, 'mix', '18:00', '18:30', { massOutG: 200, cooledAt: s.at('18:30') })).body;
  expect([bad.verdict, mixed.verdict]).toEqual(['clear', 'clear']);
  await applyRules(s.club.context, 'as before');

  await refuse('sprat');
  expect((await applyRules(s.club.context, 'the next release')).judged).toBeGreaterThanOrEqual(3);
  expect((await s.page(good)).verdict).toBe('clear');
  for (const id of [bad.id, dip.id]) {
    const page = await s.page({ id });
    expect(page.verdict).toBe('do-not-share');
    expect(page.checks[0]).toMatchObject({ ruleId: 'species.sharing', state: 'not-met', found: 'Sprat' });
    expect(await verdictEntries(id)).toMatchObject([{ by: null, reason: 'Judged anew: the rules changed with a new version' }]);
  }
  expect((await s.ann.post('/api/claims', { packId: pack!.id })).body.code).toBe('on-hold');

  const revision = (await s.crew.get(`/api/batches/${bad.id}`)).headers['etag'];
  expect(await applyRules(s.club.context, 'the next release')).toEqual({ judged: 0 });
  expect((await s.crew.get(`/api/batches/${bad.id}`)).headers['etag']).toBe(revision);
  expect(await verdictEntries(bad.id)).toHaveLength(1);
});

test('a service that has no club yet starts with nothing to judge', async () => {
  const empty = await testClub({ withClub: false });
  try {
    expect([await applyRules(empty.context), await judgeLapsed(empty.context)]).toEqual([{ judged: 0 }, { judged: 0 }]);
  } finally {
    await empty.close();
  }
});

test('two processes that start at once judge once', async () => {
  const both = await Promise.all([1, 2].map(() => applyRules(s.club.context, 'yet another')));
  expect(both.filter(({ judged }) => judged > 0)).toHaveLength(1);
});

test('a closed batch whose packs may still be eaten is judged too', async () => {
  const batch = await cleared('haddock');
  await s.pack(batch, [2500]);
  const { body } = await s.crew.patch(`/api/stages/${(await s.page(batch)).stages.at(-1).id}`, { version: (await s.page(batch)).stages.at(-1).version, finishedAt: s.at('17:30') });
  expect(body.closed).toBe(true);
  await refuse('haddock');
  await applyRules(s.club.context, 'one that refuses it');
  expect((await s.page(batch)).verdict).toBe('do-not-share');
});

test('the version of the rules changes with a species, and with what judge() makes of it', () => {
  const present = rulesVersion();
  expect(rulesVersion([...SPECIES].reverse())).toBe(present);
  expect(rulesVersion(SPECIES.map((one) => (one.code === 'sprat' ? { ...one, sharing: 'refuse' as const } : one)))).not.toBe(present);
  expect(rulesVersion(SPECIES, 99)).not.toBe(present);
});

test('a lot packed, closed and all thrown away, on hold from before its hold was told apart, is judged anew once at the start: a missing record is not "not met"', async () => {
  const batch = await s.smoked(await s.make([s.landing(await s.land(), 5000)]), { ...s.good, holdMinutes: null });
  const packs = await s.pack(batch, [2500]);
  const stage = (await s.page(batch)).stages.find((x: any) => x.kind === 'pack');
  expect((await s.crew.patch(`/api/stages/${stage.id}`, { version: stage.version, finishedAt: s.at('18:00') })).status).toBe(200);
  for (const { id } of packs) expect((await s.crew.patch(`/api/packs/${id}`, { version: (await s.crew.get(`/api/packs/${id}`)).body.version, discarded: true })).status).toBe(200);
  const told = async () => (await s.club.database.query<{ verdict: string; not_met: boolean; judged: boolean }>('', 'select verdict, not_met, judged_at is not null as judged from batch where id = $1', [batch.id]))[0];
  expect(await told()).toEqual({ verdict: 'hold', not_met: false, judged: true });
  // As the migration left what stood before.
  await s.club.database.query('', 'update batch set not_met = true, judged_at = null where id = $1', [batch.id]);
  await applyRules(s.club.context, 'that tells them apart');
  expect(await told()).toEqual({ verdict: 'hold', not_met: false, judged: true });
  await s.club.database.query('', 'update batch set not_met = true where id = $1', [batch.id]);
  await applyRules(s.club.context, 'and one more');
  expect(await told()).toEqual({ verdict: 'hold', not_met: true, judged: true });
});
