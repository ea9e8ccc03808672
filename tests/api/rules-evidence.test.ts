import { afterAll, beforeAll, expect, test } from 'vitest';
import { RULES } from '../../server/domain/rules/registry.ts';
import { limitFunctionBody } from '../../server/features/rules/limit-constraint.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const fresh = async (more: Parameters<Smokehouse['land']>[0] = {}) => s.make([s.landing(await s.land(more), 5000)]);
const record = (batch: { id: string }, body: object) => s.crew.post(`/api/batches/${batch.id}/readings`, body);
const of = (batch: any, ruleId: string) => batch.checks.filter((c: any) => c.ruleId === ruleId).map((c: any) => [c.state, c.means]);
const release = (batch: { id: string }, ruleId: string) => s.captain.post(`/api/batches/${batch.id}/releases`, { ruleId, reason: 'Looked at it together' });
/** Every ten minutes at one temperature, from one time of 10 June to another. */
const flat = (from: string, to: string, celsius: number) => {
  const [start, end] = [Date.parse(s.at(from)), Date.parse(s.at(to))];
  return Array.from({ length: Math.floor((end - start) / 600_000) + 1 }, (_, i) => ({ at: new Date(start + i * 600_000).toISOString(), celsius }));
};
/** Smoked late, after a long day: 12:30 to 16:30. */
const smokedLate = (batch: { id: string }) => s.stage(batch, 'smoke', '12:30', '16:30', { massOutG: 2500, maxCoreC: 66, holdMinutes: 35, cooledTo21At: s.at('18:00'), cooledAt: s.at('19:00') });

test('fish that a log shows warm for more than 4 hours, some of it above 21.1 C, is not shared, claimed, handed over or released (chill.exposure HG ch. 7, memory)', async () => {
  const batch = await fresh();
  const { body: smoked } = await smokedLate(batch);
  expect([smoked.verdict, of(smoked, 'chill.exposure')]).toEqual(['clear', [['not-recorded', 'nothing']]]);
  const [pack] = await s.pack(batch, [250], { packedAt: s.at('19:30') });
  const short = await record(batch, { place: 'core', probe: 'box', readings: flat('06:00', '09:50', 22) });
  expect([short.body.verdict, of(short.body, 'chill.exposure')]).toEqual(['clear', [['not-recorded', 'nothing']]]);
  const long = await record(batch, { place: 'core', probe: 'box', readings: flat('10:00', '11:00', 22) });
  expect([long.body.verdict, of(long.body, 'chill.exposure'), of(long.body, 'smoke.core').map((c: any) => c[0])]).toEqual(['do-not-share', [['not-met', 'do-not-share']], ['met', 'met']]);
  expect((await s.ann.post('/api/claims', { packId: pack!.id })).body.code).toBe('on-hold');
  expect((await s.captain.post('/api/hand-overs', { packIds: [pack!.id], to: { name: 'Old Sel' } })).body.code).toBe('on-hold');
  expect((await s.crew.get(`/api/packs/${pack!.id}`)).body).toMatchObject({ verdict: 'do-not-share', holdReason: expect.stringContaining('above 4.4 C') });
  expect((await release(batch, 'chill.exposure')).body.code).toBe('not-allowed');
  const gone = await s.crew.patch(`/api/reading-lists/${long.body.list.id}`, { version: 1, withdrawn: true, reason: 'The bait box' });
  expect(gone.body.verdict).toBe('clear');
});

test('what the fish went through before it was split off goes with it; what the rest went through later does not (chill.exposure)', async () => {
  const whole = await fresh();
  await record(whole, { place: 'core', probe: 'box', readings: flat('06:00', '11:00', 22) });
  const part = await s.make([s.fromBatch(whole.id, 2000)]);
  expect(part.verdict).toBe('do-not-share');
  s.club.clock.now = new Date(s.at('08:00'));
  const other = await s.make([s.landing(await s.land(), 5000)]);
  const early = await s.make([s.fromBatch(other.id, 2000)]);
  s.club.clock.now = new Date(s.at('20:00'));
  const later = await record(other, { place: 'core', probe: 'box', readings: flat('09:00', '14:00', 22) });
  expect([later.body.verdict, (await s.page(early)).verdict]).toEqual(['do-not-share', 'hold']);
});

test('a cure of more than 4 hours is on hold until it is typed how warm its place was, in the batch that was split off as well (brine.cold NY262.5)', async () => {
  const whole = await fresh({ caught_at: '2026-06-09T23:00:00Z', iced_at: '2026-06-09T23:30:00Z' });
  expect((await s.stage(whole, 'prepare', '01:00', '02:00', { massOutG: 5000, maxPlaceC: 3 })).body.errors[0].field).toBe('maxPlaceC');
  const inFahrenheit = await s.stage(whole, 'cure', '02:00', '08:00', { massOutG: 5000, maxPlaceC: 60 });
  expect([inFahrenheit.status, inFahrenheit.body.errors[0].field, inFahrenheit.body.errors[0].message]).toEqual([422, 'maxPlaceC', expect.stringContaining('Fahrenheit')]);
  const cured = (await s.stage(whole, 'cure', '02:00', '08:00', { massOutG: 5000 })).body;
  const part = await s.make([s.fromBatch(whole.id, 2000)]);
  const own = (await smokedLate(whole)).body;
  expect([own.verdict, of(own, 'brine.cold')]).toEqual(['hold', [['not-recorded', 'hold']]]);
  const smokedPart = (await s.stage(part, 'smoke', '12:30', '16:30', { massOutG: 1500, maxCoreC: 66, holdMinutes: 35, cooledTo21At: s.at('18:00'), cooledAt: s.at('19:00') })).body;
  expect([smokedPart.verdict, smokedPart.checks.find((c: any) => c.ruleId === 'brine.cold')]).toEqual(['hold', expect.objectContaining({ state: 'not-recorded', found: `lot ${whole.lot}: not recorded`, evidenceAt: 'contents' })]);
  const cure = cured.stages.at(-1);
  const typed = async (version: number, maxPlaceC: number | null) => (await s.crew.patch(`/api/stages/${cure.id}`, { version, maxPlaceC })).body;
  const cold = await typed(cure.version, 3.3);
  expect([cold.verdict, cold.stages.find((x: any) => x.id === cure.id).maxPlaceC, of(cold, 'brine.cold'), (await s.page(part)).verdict]).toEqual(['clear', 3.3, [['met', 'nothing']], 'clear']);
  const warm = await typed(cure.version + 1, 3.4);
  expect([warm.verdict, (await s.page(part)).verdict]).toEqual(['hold', 'hold']);
  // Each lot is let go by itself.
  expect([(await release(whole, 'brine.cold')).body.verdict, (await s.page(part)).verdict, (await release(part, 'brine.cold')).body.verdict]).toEqual(['clear', 'hold', 'clear']);
  // Six hours at up to 25 C may be too many hours in the warm, which nobody lets go; in the part as well.
  const hot = await typed(cure.version + 2, 25);
  expect([hot.verdict, of(hot, 'chill.exposure')]).toEqual(['hold', [['not-recorded', 'hold']]]);
  expect([(await release(whole, 'brine.cold')).body.verdict, (await release(whole, 'chill.exposure')).body.code, (await release(part, 'brine.cold')).body.verdict]).toEqual(['hold', 'not-allowed', 'hold']);
  await expect(s.club.database.query('', `update stage set max_place_c = 3 where kind = 'smoke' and batch_id = $1`, [whole.id])).rejects.toThrow();
});

test('the time of landing is recorded, corrected and judged by; none before the catch (chill.internal HG ch. 7, memory)', async () => {
  const body = { catcher: { kind: 'boat' }, speciesCode: 'atlantic-mackerel', grams: 5000, caughtAt: s.at('04:00'), icedAt: s.at('05:00'), airC: 14, waterC: 12, coreC: 9 };
  const early = await s.crew.post(`/api/trips/${s.tripId}/landings`, { ...body, landedAt: s.at('03:00') });
  expect([early.status, early.body.errors[0].field]).toEqual([422, 'landedAt']);
  const { body: landing } = await s.crew.post(`/api/trips/${s.tripId}/landings`, { ...body, landedAt: s.at('11:00') });
  expect(landing.landedAt).toBe(s.at('11:00'));
  const batch = await s.smoked(await s.make([s.landing(landing.id, 5000)]));
  // Seven hours after death it has to be clearly below air and water: 9 C at most.
  expect([batch.verdict, of(batch, 'chill.internal')]).toEqual(['clear', [['met', 'nothing']]]);
  const corrected = await s.crew.patch(`/api/landings/${landing.id}`, { version: 1, coreC: 9.1, reason: 'Read again' });
  expect([corrected.status, (await s.page(batch)).verdict]).toEqual([200, 'do-not-share']);
  await s.crew.patch(`/api/landings/${landing.id}`, { version: 2, landedAt: null });
  expect(of(await s.page(batch), 'chill.internal')).toEqual([['not-recorded', 'nothing']]);
  const { items } = (await s.crew.get(`/api/record?subjectKind=landing&subjectId=${landing.id}`)).body;
  expect(items[0].fields).toEqual([{ field: 'landedAt', before: s.at('11:00'), after: null }]);
  await expect(s.club.database.query('', `update landing set landed_at = caught_at - interval '1 minute' where id = $1`, [landing.id])).rejects.toThrow();
});

test('12 hours for gutted fish need the club’s own source, which a captain enters; without it nothing is looser (chill.gutted HG ch. 7, memory)', async () => {
  const body = { catcher: { kind: 'boat' }, speciesCode: 'atlantic-mackerel', grams: 5000, form: 'gutted', caughtAt: '2026-06-09T18:00:00Z', guttedAt: '2026-06-09T19:00:00Z', icedAt: s.at('05:00'), airC: 14, waterC: 12 };
  expect((await s.crew.post(`/api/trips/${s.tripId}/landings`, { ...body, form: 'whole' })).body.errors[0]).toMatchObject({ field: 'guttedAt', message: 'A whole fish is not gutted.' });
  const { body: landing } = await s.crew.post(`/api/trips/${s.tripId}/landings`, body);
  const batch = await s.smoked(await s.make([s.landing(landing.id, 5000)]));
  expect([batch.verdict, of(batch, 'chill.mild')]).toEqual(['do-not-share', [['not-met', 'do-not-share']]]);
  const { version } = (await s.captain.get('/api/club')).body;
  const source = 'Harbour health office, letter of 3 May 2026';
  expect((await s.crew.patch('/api/club', { version, guttedSource: source })).status).toBe(403);
  expect((await s.captain.patch('/api/club', { version, guttedSource: 'yes' })).status).toBe(400);
  await expect(s.club.database.query('', `update club set gutted_source = 'yes'`)).rejects.toThrow();
  const set = await s.captain.patch('/api/club', { version, guttedSource: source });
  expect(set.body.guttedSource).toBe(source);
  expect(await s.page(batch)).toMatchObject({ verdict: 'clear' });
  expect((await s.page(batch)).checks[0]).toMatchObject({ ruleId: 'chill.gutted', state: 'met', limit: 'in ice or slurry at or below 4.4 C within 12 h of death' });
  expect((await release(batch, 'chill.gutted')).body.code).toBe('not-allowed');
  const back = await s.captain.patch('/api/club', { version: set.body.version, guttedSource: '' });
  expect([back.status, (await s.page(batch)).verdict]).toEqual([200, 'do-not-share']);
  expect((await s.captain.get('/api/record?subjectKind=club&subjectId=1')).body.items.slice(0, 2).map((e: any) => e.fields.map((f: any) => f.field))).toEqual([['guttedSource'], ['guttedSource']]);
});

test('raw fish from the freezer: its own hours in the warm, its thawing and the place where it waits (thaw NY262, raw.cold NY262.3)', async () => {
  const batch = await s.make([s.landing(await s.land({ caught_at: '2026-06-08T04:00:00Z', iced_at: '2026-06-08T05:00:00Z' }), 3000)]);
  expect((await s.stage(batch, 'cure', '02:00', '08:00', { massOutG: 3000, fromFrozen: true })).body.errors[0].field).toBe('fromFrozen');
  const fresh_ = (await s.stage(batch, 'prepare', '02:00', '08:00', { massOutG: 3000 })).body;
  expect(of(fresh_, 'thaw')).toEqual([]);
  const preparing = (await s.crew.patch(`/api/stages/${fresh_.stages.at(-1).id}`, { version: 1, fromFrozen: true })).body.stages.at(-1);
  expect(preparing.fromFrozen).toBe(true);
  const smoked = (await s.stage(batch, 'smoke', '12:30', '16:30', { massOutG: 2000, maxCoreC: 66, holdMinutes: 35, cooledTo21At: s.at('18:00'), cooledAt: s.at('19:00') })).body;
  expect([smoked.verdict, of(smoked, 'thaw')]).toEqual(['clear', [['not-recorded', 'nothing']]]);
  // Nine hours at 10 C are too long for fresh fish; of fish that was frozen 24 are allowed, and its thawing was too warm all the same.
  const warm = await record(batch, { place: 'core', stageId: preparing.id, readings: flat('02:00', '11:00', 10) });
  expect([warm.body.verdict, of(warm.body, 'chill.exposure'), of(warm.body, 'thaw')]).toEqual(['hold', [['not-recorded', 'nothing']], [['not-met', 'hold']]]);
  expect((await release(batch, 'thaw')).body.verdict).toBe('clear');
  const shelf = await record(batch, { place: 'storage', readings: [{ at: s.at('10:00'), celsius: 3.4 }] });
  expect([shelf.body.verdict, of(shelf.body, 'raw.cold'), of(shelf.body, 'hold.cold')]).toEqual(['hold', [['not-met', 'hold']], []]);
  expect((await release(batch, 'raw.cold')).body.verdict).toBe('clear');
});

test('fresh fish that joins after thawing, or was not prepared with it, keeps its 8 hours (chill.exposure HG ch. 7, memory)', async () => {
  const early = { caught_at: '2026-06-08T04:00:00Z', iced_at: '2026-06-08T05:00:00Z' };
  const warm = { place: 'core', probe: 'box', readings: flat('02:00', '11:00', 10) };
  const batch = await s.make([s.landing(await s.land(early), 3000)]);
  await s.stage(batch, 'prepare', '01:00', '02:00', { massOutG: 3000, fromFrozen: true });
  const alone = await record(batch, warm);
  expect(of(alone.body, 'chill.exposure')).toEqual([['not-recorded', 'nothing']]);
  await s.captain.post(`/api/batches/${batch.id}/draws`, { draws: [s.landing(await s.land(early), 1000)] });
  expect(of(await s.page(batch), 'chill.exposure')).toEqual([['not-met', 'do-not-share']]);
  const part = await s.make([s.landing(await s.land(early), 3000)]);
  await s.stage(part, 'prepare', '01:00', '02:00', { massInG: 1000, massOutG: 1000, fromFrozen: true });
  expect(of((await record(part, warm)).body, 'chill.exposure')).toEqual([['not-met', 'do-not-share']]);
});

test('a dip is on hold until it is known to have been at 5 C, and is not shared when that took more than 4 hours (cool.ambient FC 3-501.14(B))', async () => {
  const batch = await s.smoked(await fresh());
  const [one, two] = await s.pack(batch, [250, 250]);
  const dip = await s.make([s.fromPack(one!.id)], { productKind: 'dip' });
  const mixed = (await s.stage(dip, 'mix', '14:00', '14:30', { massOutG: 250 })).body;
  expect([mixed.verdict, of(mixed, 'cool.ambient')]).toEqual(['hold', [['not-recorded', 'hold']]]);
  const stage = mixed.stages.at(-1);
  const before = await s.crew.patch(`/api/stages/${stage.id}`, { version: 1, cooledAt: s.at('13:59') });
  expect([before.status, before.body.errors[0].field]).toEqual([422, 'cooledAt']);
  expect((await s.crew.patch(`/api/stages/${stage.id}`, { version: 1, maxCoreC: 60 })).body.errors[0].field).toBe('maxCoreC');
  expect((await s.crew.patch(`/api/stages/${stage.id}`, { version: 1, cooledAt: s.at('18:00') })).body.verdict).toBe('clear');
  const late = (await s.crew.patch(`/api/stages/${stage.id}`, { version: 2, cooledAt: s.at('18:01') })).body;
  expect([late.verdict, (await release(dip, 'cool.ambient')).body.code]).toEqual(['do-not-share', 'not-allowed']);
  const logged = await s.make([s.fromPack(two!.id)], { productKind: 'dip' });
  const bowl = (await s.stage(logged, 'mix', '14:00', '14:30', { massOutG: 250 })).body.stages.at(-1);
  const read = await record(logged, { place: 'core', stageId: bowl.id, readings: Array.from({ length: 25 }, (_, i) => ({ at: new Date(Date.parse(s.at('14:00')) + i * 600_000).toISOString(), celsius: 20 - i * 0.64 })) });
  expect(read.body.verdict).toBe('clear');
});

test('the database itself refuses a club’s limit that is looser than the rule or makes no sense, by a function made from the registry', async () => {
  const { query } = s.club.database;
  const [row] = await query<{ source: string }>('', `select prosrc as source from pg_proc where proname = 'club_limit_allowed'`);
  expect(row!.source).toBe(limitFunctionBody());
  const put = (id: string, value: number) => query('', `insert into club_limit (id, value, set_by_id, set_at) values ($1, $2, $3, now())`, [id, value, s.captain.id]);
  const refused = (id: string, value: number) => expect(put(id, value), `${id} ${value}`).rejects.toMatchObject({ message: expect.stringContaining('club_limit_within_rule') });
  for (const { id, value, tightest, direction } of RULES.flatMap((rule) => rule.limits)) {
    const step = direction === 'at-most' ? -0.01 : 0.01;
    for (const no of [value - step, tightest + step, Number.NaN]) await refused(id, no);
    for (const yes of [value, tightest]) {
      await put(id, yes);
      await query('', `delete from club_limit where id = $1`, [id]);
    }
  }
  await refused('date.seven.days', 6.5);
  await refused('smoke.core.seconds', 1);
});

test('every rule of the trade that a batch is held against, its guidance and its advice are told with their source', async () => {
  const { items } = (await s.ann.get('/api/rules')).body;
  const kind = (k: string) => items.filter((r: any) => r.kind === k).map((r: any) => r.id);
  expect(kind('advice')).toEqual(['people.listeria', 'people.mercury', 'people.servings', 'people.raw-basis', 'people.ciguatera', 'people.allergens']);
  expect(kind('guidance')).toEqual(['chill.unknown', 'chill.no-rescue', 'brine.reuse', 'smoke.first-half', 'smoke.not-botulinum', 'smoke.stall', 'record.keep', 'date.vacuum-home']);
  expect(kind('check')).toEqual([
    'species.sharing', 'chill.hot', 'chill.mild', 'chill.gutted', 'chill.internal', 'chill.exposure', 'raw.cold', 'thaw', 'brine.start', 'brine.cold', 'brine.no-mix', 'nitrite', 'dry.pellicle', 'smoke.core', 'smoke.lethality',
    'smoke.core-home', 'smoke.cold', 'lot.code', 'lot.no-mix', 'cool.fc', 'cool.hg', 'cool.ambient', 'hold.cold', 'salt.air', 'salt.rop', 'rop.freeze', 'parasite', 'date.dip', 'date.mixed', 'date.seven', 'date.fourteen', 'date.frozen-quality', 'date.raw',
  ]);
  for (const rule of items) {
    expect([rule.id, rule.source.length > 3, rule.kind === 'check' ? rule.evidence.length > 3 : rule.words.length > 20 && rule.evidenceAt === 'nowhere']).toEqual([rule.id, true, true]);
  }
  // The figures of the rules of the trade, as they stand there.
  const words = Object.fromEntries(items.map((r: any) => [r.id, r.words]));
  expect(words['people.listeria']).toContain('74 C (165 F)');
  expect(words['people.servings']).toContain('28 g at 1 to 3 years, 57 g at 4 to 7, 85 g at 8 to 10, 113 g from 11');
});

test('a page that a browser keeps is another once the club’s limits are: even of a batch that is judged no more', async () => {
  const batch = await s.smoked(await fresh());
  await s.club.database.query('', `update batch set closed_at = now(), on_hand_grams = 0, smoke_day = '2026-01-01' where id = $1`, [batch.id]);
  const tag = async () => (await s.crew.get(`/api/batches/${batch.id}`)).headers['etag'];
  const before = await tag();
  expect(await tag()).toBe(before);
  await s.captain.put('/api/rules/limits/smoke.core.minutes', { value: 40, version: 0 });
  expect(await tag()).not.toBe(before);
  await s.captain.put('/api/rules/limits/smoke.core.minutes', { value: null, version: 1 });
});

test('a pack with air is shown no rule for packs without air, and the other way round; what holds the whole batch is shown on both (rop.freeze, salt.air: packages of rules.md)', async () => {
  const batch = await s.smoked(await s.make([s.landing(await s.land(), 5000)]));
  const [tub] = await s.pack(batch, [250]);
  const [vacuum] = await s.pack(batch, [250], { packageKind: 'vacuum', storage: 'frozen' });
  const rules = async (id: string) => (await s.crew.get(`/api/packs/${id}`)).body.checks.map((check: { ruleId: string }) => check.ruleId);
  expect(await rules(tub!.id)).toContain('salt.air');
  expect(await rules(tub!.id)).not.toContain('rop.freeze');
  expect(await rules(vacuum!.id)).toContain('rop.freeze');
  expect(await rules(vacuum!.id)).not.toContain('salt.air');
  // A vacuum pack in the refrigerator with a laboratory's salt; the figure withdrawn, the batch is on hold by it, the tub too.
  const measured = (await s.captain.post(`/api/batches/${batch.id}/measurements`, { kind: 'water-phase-salt', value: 3.6, part: 'loin', laboratory: 'Harbour laboratory', sampledDay: '2026-06-10', reportedDay: '2026-06-10' })).body;
  expect(measured.measurements, JSON.stringify(measured)).toHaveLength(1);
  await s.pack(batch, [250], { packageKind: 'vacuum' });
  expect(await rules(tub!.id)).not.toContain('salt.rop');
  const one = measured.measurements[0];
  expect((await s.captain.patch(`/api/measurements/${one.id}`, { version: one.version, withdrawn: true, reason: 'another sample' })).status).toBe(200);
  expect(await rules(tub!.id)).toContain('salt.rop');
});
