import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { packsOf, smokedBatch } from '../support/smoked-batch.ts';

let club: TestClub;
let captain: Person, crew: Person, member: Person;
beforeAll(async () => {
  club = await testClub({ now: '2026-06-10T12:00:00Z' });
  [captain, crew, member] = [await club.person('captain', 'Isla Muir'), await club.person('crew', 'Rob Tait'), await club.person('member', 'Ann Sinclair')];
});
afterAll(() => club.close());

const packing = { weightsG: [250, 260, 255], packageKind: 'tub', storage: 'refrigerated', packedAt: '2026-06-10T11:30:00Z' };
const pack = (batchId: string, more: object = {}, by = crew) => by.post(`/api/batches/${batchId}/packs`, { ...packing, ...more });
const batchRow = async (id: string) =>
  (await club.database.query<{ onHand: number; packed: number; closed: boolean }>('t-batch-row', `select on_hand_grams as "onHand", packed_grams as packed, closed_at is not null as closed from batch where id = $1`, [id]))[0]!;
const packStage = async (id: string) =>
  (await club.database.query<{ id: string; massInG: number; massOutG: number | null; lossG: number; version: number }>('t-pack-stage', `select id, mass_in_g as "massInG", mass_out_g as "massOutG", loss_g as "lossG", version from stage where batch_id = $1 and kind = 'pack' and cancelled_at is null`, [id]))[0]!;

describe('weighing out', () => {
  test('crew packs; numbers go on; the packing stage runs; the weight comes off what is on hand', async () => {
    const batch = await smokedBatch(club, crew);
    const first = await pack(batch.id);
    expect(first.status).toBe(201);
    expect(first.body.items.map((p: { packNo: number }) => p.packNo)).toEqual([1, 2, 3]);
    expect(first.body.onHandGrams).toBe(8500 - 765);
    expect((await pack(batch.id, { weightsG: [400] })).body.items[0]).toMatchObject({ packNo: 4, lot: batch.lot, status: 'ready', verdict: 'clear', mine: false, claim: null, holder: null });
    expect(await packStage(batch.id)).toMatchObject({ massInG: 8500, massOutG: null });
  });
  test('date.seven: smoked on 10 June, last day 16 June (the smoke day is day 1; FC 3-501.17)', async () => {
    const made = await pack((await smokedBatch(club, crew)).id);
    expect(made.body.items[0]).toMatchObject({ lastDay: '2026-06-16', dateKind: 'use-by' });
  });
  test('date.frozen-quality: frozen on 10 June, best before 10 August (2 months, the stricter)', async () => {
    const made = await pack((await smokedBatch(club, crew)).id, { packageKind: 'vacuum', storage: 'frozen' });
    expect(made.body.items[0]).toMatchObject({ lastDay: '2026-08-10', dateKind: 'best-before', storage: 'frozen' });
    expect((await crew.get(`/api/packs/${made.body.items[0].id}`)).body.frozenDay).toBe('2026-06-10');
  });
  test('rop.freeze: vacuum packs and jars in the refrigerator are refused with the rule and the remedy', async () => {
    const batch = await smokedBatch(club, crew);
    for (const packageKind of ['vacuum', 'jar']) {
      const refused = await pack(batch.id, { packageKind });
      expect(refused.status).toBe(422);
      expect(refused.body.errors[0]).toMatchObject({ field: 'storage', value: 'refrigerated', remedy: 'Freeze it, or use a tub or bag that lets air in.' });
      expect(refused.body.detail).toContain('rop.freeze');
    }
    expect(await batchRow(batch.id)).toMatchObject({ packed: 0 });
  });
  test('40 weights in one go; 501 are too many', async () => {
    const batch = await smokedBatch(club, crew);
    expect((await pack(batch.id, { weightsG: Array.from({ length: 40 }, () => 200) })).body.items).toHaveLength(40);
    expect((await pack(batch.id, { weightsG: Array.from({ length: 501 }, () => 1) })).status).toBe(400);
  });
  test('more than is on hand, nothing on hand, no weight, a tray that is not there, the future: refused, nothing written', async () => {
    const batch = await smokedBatch(club, crew, { grams: 1000 });
    const over = await pack(batch.id, { weightsG: [500, 351] });
    expect(over.body).toMatchObject({ code: 'not-enough-left', errors: [{ field: 'weightsG', value: 851 }] });
    expect((await pack(batch.id, { weightsG: [0] })).status).toBe(400);
    expect((await pack(batch.id, { weightsG: [-5] })).status).toBe(400);
    expect((await pack(batch.id, { trayNo: 2 })).body.errors[0].remedy).toBe('Its trays: 1.');
    expect((await pack(batch.id, { packedAt: '2026-06-11T12:00:00Z' })).body.errors[0].field).toBe('packedAt');
    expect(await batchRow(batch.id)).toMatchObject({ packed: 0, onHand: 850 });
    expect((await pack(batch.id, { weightsG: [850] })).status).toBe(201);
    expect((await pack(batch.id, { weightsG: [1] })).body.code).toBe('not-enough-left');
  });
  test('missing or short evidence puts the packs on hold', async () => {
    for (const evidence of [{ maxCoreC: null, holdMinutes: 40, cooled: true }, { maxCoreC: 66, holdMinutes: 29, cooled: true }, { maxCoreC: 66, holdMinutes: 40, cooled: false }]) {
      const made = await pack((await smokedBatch(club, crew, { evidence })).id);
      expect(made.body.items[0].verdict).toBe('hold');
      const detail = (await crew.get(`/api/packs/${made.body.items[0].id}`)).body;
      expect(detail.holdReason).toMatch(/^Not (met|recorded): /);
      expect(new Set(detail.checks.filter((c: { means: string }) => c.means === 'hold').map((c: { ruleId: string }) => c.ruleId)).size).toBe(1);
    }
  });
  test('the same key packs once', async () => {
    const batch = await smokedBatch(club, crew);
    const key = randomUUID();
    const answers = await Promise.all([1, 2, 3].map(() => crew.post(`/api/batches/${batch.id}/packs`, packing, key)));
    expect(answers.map((a) => a.status)).toEqual([201, 201, 201]);
    expect((await batchRow(batch.id)).packed).toBe(765);
  });
  test('two who pack at once give no number twice and never more than there is', async () => {
    const batch = await smokedBatch(club, crew, { grams: 2000 });
    const answers = await Promise.all(Array.from({ length: 12 }, (_, i) => pack(batch.id, { weightsG: [100, 100] }, i % 2 ? crew : captain)));
    expect(answers.filter((a) => a.status === 201)).toHaveLength(8);
    expect(answers.filter((a) => a.body.code === 'not-enough-left')).toHaveLength(4);
    const nos = answers.filter((a) => a.status === 201).flatMap((a) => a.body.items.map((p: { packNo: number }) => p.packNo));
    expect(nos.sort((a, b) => a - b)).toEqual(Array.from({ length: 16 }, (_, i) => i + 1));
  });
  test('members and strangers pack nothing', async () => {
    const batch = await smokedBatch(club, crew);
    expect((await pack(batch.id, {}, member)).status).toBe(403);
    expect((await pack(batch.id, {}, club.stranger)).status).toBe(401);
    expect((await pack(randomUUID())).status).toBe(404);
  });
});

describe('one pack', () => {
  test('tells its dates with reasons, the fish it stands for and its public address', async () => {
    const batch = await smokedBatch(club, crew);
    const made = await pack(batch.id, { weightsG: [850] });
    const detail = (await member.get(`/api/packs/${made.body.items[0].id}`)).body;
    expect(detail).toMatchObject({ productKind: 'hot-smoked', species: ['Atlantic mackerel'], smokeDay: '2026-06-10', storageWords: 'Keep refrigerated at 38 F (3.3 C) or below', holdReason: null, recallReason: null, handOvers: [] });
    expect(detail.dateReasons[0]).toMatchObject({ ruleId: 'date.seven', source: 'FC 3-501.17' });
    // 20 fish went in with 10 kg; 850 g of the 8.5 kg made is a tenth.
    expect(detail.origins).toMatchObject([{ catcher: 'Ina', landedGrams: 1000, fish: 2 }]);
    expect(detail.publicUrl).toMatch(/^http:\/\/localhost:8080\/p\/[A-Za-z0-9_-]{22,}$/);
    expect((await member.get(`/api/packs/${randomUUID()}`)).status).toBe(404);
  });
});

describe('corrections', () => {
  test('a weight in an open batch changes what is on hand', async () => {
    const batch = await smokedBatch(club, crew);
    const [first] = (await pack(batch.id)).body.items;
    const changed = await crew.patch(`/api/packs/${first.id}`, { version: 1, grams: 300, reason: 'scale was not at zero' });
    expect(changed.body).toMatchObject({ grams: 300, version: 2 });
    expect(await batchRow(batch.id)).toMatchObject({ packed: 815, onHand: 7685 });
    const [entry] = await club.database.query<{ reason: string; before: object }>('t-record', `select reason, before from record_entry where subject_kind = 'pack' and subject_id = $1 and action = 'changed' order by id desc limit 1`, [first.id]);
    expect(entry).toMatchObject({ reason: 'scale was not at zero', before: { grams: 250 } });
    expect((await crew.patch(`/api/packs/${first.id}`, { version: 2, grams: 90_000 })).body.code).toBe('not-enough-left');
  });
  test('a weight in a closed batch changes what packing lost, both ways, and never below nothing', async () => {
    const batch = await smokedBatch(club, crew, { grams: 1000 });
    const [first] = (await pack(batch.id, { weightsG: [400, 400] })).body.items;
    const stage = await packStage(batch.id);
    const finish = await crew.patch(`/api/stages/${stage.id}`, { version: stage.version, finishedAt: '2026-06-10T11:45:00Z', lossReason: 'tasted' });
    expect(finish.status).toBe(200);
    expect(await packStage(batch.id)).toMatchObject({ massOutG: 800, lossG: 50 });
    expect(await batchRow(batch.id)).toMatchObject({ closed: true, onHand: 0 });
    expect((await crew.patch(`/api/packs/${first.id}`, { version: first.version, grams: 430 })).status).toBe(200);
    expect(await packStage(batch.id)).toMatchObject({ massOutG: 830, lossG: 20 });
    expect((await crew.patch(`/api/packs/${first.id}`, { version: first.version + 1, grams: 390 })).status).toBe(200);
    expect(await packStage(batch.id)).toMatchObject({ massOutG: 790, lossG: 60 });
    const over = await crew.patch(`/api/packs/${first.id}`, { version: first.version + 2, grams: 451 });
    expect(over.body.code).toBe('not-enough-left');
    expect(await packStage(batch.id)).toMatchObject({ massOutG: 790, lossG: 60 });
    expect(await batchRow(batch.id)).toMatchObject({ closed: true, onHand: 0, packed: 790 });
  });
  test('date.freeze: smoked 10 June, frozen 12 June, thawed 20 June, last day 24 June (the worked case of NC, moved)', async () => {
    const [first] = (await pack((await smokedBatch(club, crew)).id)).body.items;
    club.clock.now = new Date('2026-06-12T12:00:00Z');
    const frozen = await crew.patch(`/api/packs/${first.id}`, { version: 1, storage: 'frozen' });
    expect(frozen.body).toMatchObject({ storage: 'frozen', dateKind: 'best-before', lastDay: '2026-08-12' });
    club.clock.now = new Date('2026-06-20T12:00:00Z');
    const thawed = await crew.patch(`/api/packs/${first.id}`, { version: frozen.body.version, storage: 'refrigerated', thawedDay: '2026-06-20' });
    expect(thawed.body).toMatchObject({ dateKind: 'use-by', lastDay: '2026-06-24' });
    club.clock.now = new Date('2026-06-10T12:00:00Z');
  });
  test('date.freeze: frozen, put in the refrigerator and frozen again with no day told, the days outside count (the stricter)', async () => {
    const [first] = (await pack((await smokedBatch(club, crew)).id)).body.items;
    const on = (day: string, patch: object) => {
      club.clock.now = new Date(`${day}T12:00:00Z`);
      return crew.patch(`/api/packs/${first.id}`, patch);
    };
    expect((await on('2026-06-11', { version: 1, storage: 'frozen' })).body.lastDay).toBe('2026-08-11');
    expect((await on('2026-06-12', { version: 2, storage: 'refrigerated' })).body.lastDay).toBe('2026-06-16');
    expect((await on('2026-06-15', { version: 3, storage: 'frozen' })).status).toBe(200);
    const thawed = await on('2026-06-20', { version: 4, storage: 'refrigerated', thawedDay: '2026-06-20' });
    // Smoked on the 10th, frozen on the 15th: 2 days of 7 are left, not the 6 of the first freezing.
    expect(thawed.body.lastDay).toBe('2026-06-21');
    // Taken for a slip of the thawing, it is frozen from today, and the count had run out.
    expect((await on('2026-06-22', { version: 5, storage: 'frozen', thawedDay: null })).body).toMatchObject({ storage: 'frozen', lastDay: null });
    club.clock.now = new Date('2026-06-10T12:00:00Z');
  });
  test('rop.freeze: a vacuum pack is not corrected to have been frozen some days after it was packed', async () => {
    const [first] = (await pack((await smokedBatch(club, crew)).id, { packageKind: 'vacuum', storage: 'frozen' })).body.items;
    club.clock.now = new Date('2026-06-13T12:00:00Z');
    const late = await crew.patch(`/api/packs/${first.id}`, { version: 1, frozenDay: '2026-06-13' });
    club.clock.now = new Date('2026-06-10T12:00:00Z');
    expect(late.body.errors[0]).toMatchObject({ field: 'frozenDay', value: '2026-06-13' });
    expect(late.body.detail).toContain('rop.freeze');
    expect((await member.get(`/api/packs/${first.id}`)).body).toMatchObject({ frozenDay: '2026-06-10', version: 1 });
  });
  test('days that cannot be are refused by name', async () => {
    const [first] = (await pack((await smokedBatch(club, crew)).id, { storage: 'frozen' })).body.items;
    const field = async (patch: object) => (await crew.patch(`/api/packs/${first.id}`, { version: 1, ...patch })).body.errors?.[0]?.field;
    expect(await field({ frozenDay: '2026-06-11' })).toBe('frozenDay');
    expect(await field({ frozenDay: '2026-06-09' })).toBe('frozenDay');
    expect(await field({ frozenDay: null })).toBe('frozenDay');
    expect(await field({ thawedDay: '2026-06-10' })).toBe('storage');
    expect(await field({ packageKind: 'jar', storage: 'refrigerated' })).toBe('storage');
  });
  test('thrown away and taken back; its claim ends; one that went to somebody is not', async () => {
    const batch = await smokedBatch(club, crew);
    const [first, second] = (await pack(batch.id)).body.items;
    const claim = (await member.post('/api/claims', { packId: first.id })).body;
    const gone = await crew.patch(`/api/packs/${first.id}`, { version: 2, discarded: true, reason: 'dropped' });
    expect(gone.body).toMatchObject({ status: 'discarded', claim: null });
    expect((await member.get('/api/claims')).body.items.find((c: { id: string }) => c.id === claim.id)).toMatchObject({ status: 'refused', reason: 'dropped' });
    expect((await member.post('/api/claims', { packId: first.id })).status).toBe(409);
    expect((await crew.patch(`/api/packs/${first.id}`, { version: gone.body.version, discarded: false })).body.status).toBe('ready');
    await crew.post('/api/hand-overs', { packIds: [second.id], to: { memberId: member.id } });
    expect((await crew.patch(`/api/packs/${second.id}`, { version: 2, discarded: true })).body.detail).toContain('is with Ann Sinclair');
  });
  test('a stale correction and one by a member are refused', async () => {
    const [first] = (await pack((await smokedBatch(club, crew)).id)).body.items;
    await crew.patch(`/api/packs/${first.id}`, { version: 1, grams: 251 });
    expect((await crew.patch(`/api/packs/${first.id}`, { version: 1, grams: 252 })).body).toMatchObject({ code: 'stale-edit', changes: [{ field: 'grams', yours: 252, theirs: 251 }, { field: 'version' }] });
    expect((await member.patch(`/api/packs/${first.id}`, { version: 2, grams: 1 })).status).toBe(403);
  });
});

describe('the member who has it says when it was frozen and thawed (date.freeze, FC 3-501.17)', () => {
  const held = async (more: object = {}, days = 0): Promise<{ id: string; say: (patch: object, by?: Person) => Promise<any> }> => {
    const batch = await smokedBatch(club, crew, { startedAt: new Date(Date.parse('2026-06-10T05:00:00Z') - days * 86_400_000) });
    const [{ id }] = (await pack(batch.id, { weightsG: [250], ...more })).body.items;
    await crew.post('/api/hand-overs', { packIds: [id], to: { memberId: member.id } });
    const say = async (patch: object, by = member) => by.patch(`/api/packs/${id}`, { version: (await crew.get(`/api/packs/${id}`)).body.version, ...patch });
    return { id, say };
  };
  test('made on day 1, frozen on day 3, thawed a week later on day 3: the last day is four days on (NC worked case)', async () => {
    const { say } = await held({}, 2);
    expect((await say({ storage: 'frozen' })).body).toMatchObject({ storage: 'frozen', dateKind: 'best-before', lastDay: '2026-08-10' });
    club.clock.now = new Date('2026-06-17T12:00:00Z');
    try {
      expect((await say({ storage: 'refrigerated', thawedDay: '2026-06-17' })).body).toMatchObject({ storage: 'refrigerated', dateKind: 'use-by', lastDay: '2026-06-21' });
      expect((await say({ thawedDay: '2026-06-16' })).body.lastDay).toBe('2026-06-20');
      expect(await say({ thawedDay: '2026-06-17' })).toMatchObject({ status: 403, body: { errors: [{ field: 'thawedDay' }] } });
      expect((await say({ thawedDay: null })).status).toBe(403);
      expect((await say({ storage: 'frozen', thawedDay: null })).status).toBe(403);
      // Crew correct it with a reason, and it keeps the shorter date.
      expect((await say({ thawedDay: '2026-06-17' }, crew)).body.errors[0].field).toBe('reason');
      expect((await say({ thawedDay: '2026-06-17', reason: 'Asked again' }, crew)).body).toMatchObject({ lastDay: '2026-06-20' });
    } finally {
      club.clock.now = new Date('2026-06-10T12:00:00Z');
    }
  });
  test('their word never makes it keep longer: no earlier freezing, none after the last day, no other day of freezing', async () => {
    const { say } = await held({}, 2);
    expect(await say({ storage: 'frozen', frozenDay: '2026-06-09' })).toMatchObject({ status: 403, body: { errors: [{ field: 'frozenDay' }] } });
    await say({ storage: 'frozen', frozenDay: '2026-06-10' });
    expect((await say({ frozenDay: '2026-06-10' })).status).toBe(200);
    expect((await say({ frozenDay: null, storage: 'refrigerated' })).status).toBe(403);
    const old = await held();
    club.clock.now = new Date('2026-06-17T12:00:00Z');
    try {
      expect((await old.say({ storage: 'frozen' })).status).toBe(403);
    } finally {
      club.clock.now = new Date('2026-06-10T12:00:00Z');
    }
  });
  test('out of the freezer with no day of thawing its count never stopped, and a day told later gives none back', async () => {
    const { id, say } = await held({ storage: 'frozen' });
    expect((await say({ storage: 'refrigerated' })).body.errors[0].field).toBe('thawedDay');
    expect((await say({ storage: 'refrigerated' }, crew)).body.lastDay).toBe('2026-06-16');
    club.clock.now = new Date('2026-06-15T12:00:00Z');
    try {
      expect(await say({ thawedDay: '2026-06-15' })).toMatchObject({ status: 403, body: { errors: [{ field: 'thawedDay' }] } });
      expect((await crew.get(`/api/packs/${id}`)).body.lastDay).toBe('2026-06-16');
      expect((await say({ thawedDay: '2026-06-11' }, crew)).status).toBe(200);
    } finally {
      club.clock.now = new Date('2026-06-10T12:00:00Z');
    }
  });
  test('a pack without air thaws opened (rop.freeze, FC 3-501.13(E)); nothing else is theirs to change', async () => {
    const { id, say } = await held({ packageKind: 'vacuum', storage: 'frozen' });
    const thawed = { storage: 'refrigerated', thawedDay: '2026-06-10' };
    expect((await say({ storage: 'refrigerated', packageKind: 'tub' })).status).toBe(403);
    expect((await say(thawed)).body.errors[0].field).toBe('storage');
    expect((await say({ ...thawed, packageKind: 'bag' })).body).toMatchObject({ packageKind: 'bag', dateKind: 'use-by', lastDay: '2026-06-16' });
    for (const more of [{ grams: 240 }, { discarded: true }]) expect((await say(more)).status).toBe(403);
    const other = await club.person('member');
    expect((await say({ thawedDay: '2026-06-10' }, other)).status).toBe(403);
    await member.post('/api/gifts', { packId: id, to: { memberId: other.id } });
    expect((await say({ thawedDay: '2026-06-10' })).status).toBe(403);
    expect((await say({ thawedDay: '2026-06-10' }, other)).status).toBe(200);
  });
});

describe('lists', () => {
  test('pages hold every pack once, whatever they are sorted by', async () => {
    const batch = await smokedBatch(club, crew, { name: 'Paged mackerel' });
    await packsOf(club, crew, batch, Array.from({ length: 7 }, (_, i) => 100 + i));
    await packsOf(club, crew, batch, [200, 201], { lastDay: null });
    for (const filter of [`batchId=${batch.id}`, 'q=paged', 'status=ready', '']) {
      const seen: string[] = [];
      let cursor: string | null = null;
      do {
        const page: { body: { items: { id: string }[]; nextCursor: string | null } } = await member.get(`/api/packs?limit=4&${filter}${cursor ? `&cursor=${cursor}` : ''}`);
        seen.push(...page.body.items.map((p) => p.id));
        cursor = page.body.nextCursor;
      } while (cursor);
      const all = await club.database.query<{ n: number }>(`t-count-${filter}`, `select count(*)::int as n from pack ${filter.startsWith('status') ? `where status = 'ready'` : filter ? `where batch_id = '${batch.id}'` : ''}`);
      expect(new Set(seen).size).toBe(seen.length);
      expect(seen).toHaveLength(all[0]!.n);
    }
    expect((await member.get('/api/packs?cursor=nonsense')).status).toBe(400);
  });
  test('claimable: ready, clear, not recalled, its last day known and not past', async () => {
    const [good, held, recalled] = [await smokedBatch(club, crew), await smokedBatch(club, crew, { evidence: { maxCoreC: 50, holdMinutes: 40, cooled: true } }), await smokedBatch(club, crew)];
    const [yes, , past, unknown] = [...(await packsOf(club, crew, good, [100, 100])), ...(await packsOf(club, crew, good, [100], { lastDay: '2026-06-09' })), ...(await packsOf(club, crew, good, [100], { lastDay: null }))];
    const [today] = await packsOf(club, crew, good, [100], { lastDay: '2026-06-10' });
    const [onHold] = await packsOf(club, crew, held, [100]);
    const [called] = await packsOf(club, crew, recalled, [100]);
    await club.database.query('t-recall', `update batch set recalled_at = now(), recall_reason = 'smelt wrong' where id = $1`, [recalled.id]);
    const ids = (await member.get('/api/packs?claimable=true&limit=100')).body.items.map((p: { id: string }) => p.id);
    expect(ids).toContain(yes);
    expect(ids).toContain(today);
    for (const id of [past, unknown, onHold, called]) expect(ids).not.toContain(id);
  });
  test('packs of one weighing come by number, to whoever looks for one to claim', async () => {
    const batch = await smokedBatch(club, crew, { name: 'Ordered mackerel' });
    expect((await pack(batch.id, { weightsG: Array.from({ length: 12 }, (_, i) => 100 + i) })).status).toBe(201);
    const items: { packNo: number }[] = (await member.get('/api/packs?claimable=true&q=ordered&limit=100')).body.items;
    expect(items.map((p) => p.packNo)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
  });
  test('found by lot, by whole number and by product', async () => {
    const batch = await smokedBatch(club, crew, { name: 'Juniper 100% mackerel' });
    await packsOf(club, crew, batch, [100, 100, 100]);
    const found = async (q: string) => (await member.get(`/api/packs?q=${encodeURIComponent(q)}`)).body.items.length;
    expect(await found(`${batch.lot}-2`)).toBe(1);
    expect(await found(batch.lot.toLowerCase().replace('-', ' '))).toBe(3);
    expect(await found('juniper 100%')).toBe(3);
    expect(await found('juniper 1_0%')).toBe(0);
  });
  test('a member sees that a pack is claimed or gone, and no names of others; crew sees them', async () => {
    const other = await club.person('member', 'Finn Isbister');
    const [claimed, given] = await packsOf(club, crew, await smokedBatch(club, crew), [100, 100]);
    await other.post('/api/claims', { packId: claimed });
    await crew.post('/api/hand-overs', { packIds: [given], to: { memberId: other.id } });
    for (const url of [`/api/packs/${claimed}`, `/api/packs/${given}`, '/api/packs?limit=100', '/api/claims', '/api/hand-overs']) {
      expect((await member.get(url)).raw.toString()).not.toContain('Finn');
    }
    expect((await member.get(`/api/packs/${claimed}`)).body).toMatchObject({ status: 'claimed', claim: null, holder: null, mine: false });
    expect((await crew.get(`/api/packs/${claimed}`)).body.claim.member.name).toBe('Finn Isbister');
    expect((await crew.get(`/api/packs/${given}`)).body).toMatchObject({ holder: 'Finn Isbister', mine: false });
    const mine = (await other.get('/api/packs?mine=true')).body.items;
    expect(mine.map((p: { id: string }) => p.id).sort()).toEqual([claimed, given].sort());
    expect(mine.every((p: { mine: boolean }) => p.mine)).toBe(true);
  });
});

test('a landing weighed by its lengths alone is marked as an estimate behind its packs and batches', async () => {
  const batch = await smokedBatch(club, crew);
  const [pack] = await packsOf(club, crew, batch, [200]);
  const marks = async () => [...(await crew.get(`/api/packs/${pack}`)).body.origins, ...(await crew.get(`/api/batches/${batch.id}`)).body.origins].map((o: { estimated: boolean }) => o.estimated);
  expect(await marks()).toEqual([false, false]);
  await club.database.query('t-estimated', `update landing set weight_source = 'estimated', lengths_mm = '{380}', length_kind = 'fork', fish_count = 1 where id = $1`, [batch.landingId]);
  expect(await marks()).toEqual([true, true]);
});
