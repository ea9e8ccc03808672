import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { smokedBatch } from '../support/smoked-batch.ts';

let club: TestClub;
let captain: Person;
let member: Person;
beforeAll(async () => {
  club = await testClub();
  [captain, member] = [await club.person('captain'), await club.person('member')];
});
afterAll(() => club.close());

describe('the club', () => {
  it('is shown to members, with an ETag, and to no stranger', async () => {
    const shown = await member.get('/api/club');
    expect(shown.body).toEqual({ name: 'Test Club', timeZone: 'Europe/London', units: 'metric', saleWords: 'Sport caught, not for resale', contactWords: '', guttedSource: '', version: 1 });
    expect((await member.get('/api/club', { 'if-none-match': String(shown.headers['etag']) })).status).toBe(304);
    expect((await club.stranger.get('/api/club')).status).toBe(401);
  });

  it('is a captain\'s to change, field by field', async () => {
    const { version } = (await captain.get('/api/club')).body;
    const changed = await captain.patch('/api/club', { version, timeZone: 'America/Halifax', saleWords: ' Not for sale ' });
    expect(changed.body).toMatchObject({ name: 'Test Club', timeZone: 'America/Halifax', units: 'metric', saleWords: 'Not for sale', version: version + 1 });
    for (const other of [member, await club.person('crew')]) {
      expect((await other.patch('/api/club', { version: version + 1, name: 'Ours' })).status).toBe(403);
    }
    expect((await captain.get('/api/club')).body).toEqual(changed.body);
  });

  it('changed from an older version is refused and says what differs', async () => {
    const { version } = (await captain.get('/api/club')).body;
    const both = await Promise.all(['North', 'South'].map((name) => captain.patch('/api/club', { version, name })));
    expect(both.map((a) => a.status).sort()).toEqual([200, 409]);
    const [won, lost] = [both.find((a) => a.status === 200)!, both.find((a) => a.status === 409)!];
    expect(lost.body.changes).toContainEqual({ field: 'name', yours: won.body.name === 'North' ? 'South' : 'North', theirs: won.body.name });
  });

  it.each([
    ['timeZone', 'Europe/Atlantis', 422, 'Choose one from the list, such as Europe/Oslo.'],
    ['timeZone', '+02:00', 422, 'Choose one from the list, such as Europe/Oslo.'],
    ['units', 'stones', 400, 'Change this and send it again: units.'],
    ['saleWords', '', 400, 'Change this and send it again: words about sale.'],
    ['saleWords', 'x'.repeat(81), 400, 'Change this and send it again: words about sale.'],
    ['name', ' ', 400, 'Change this and send it again: name.'],
  ])('keeps out a bad %s (%s), naming it, its value and the remedy', async (field, value, status, remedy) => {
    const before = (await captain.get('/api/club')).body;
    const refused = await captain.patch('/api/club', { version: before.version, [field]: value });
    expect(refused.status).toBe(status);
    expect(refused.body.errors).toEqual([{ field, value: value.trim() === '' ? expect.any(String) : value, message: expect.any(String), remedy }]);
    expect((await captain.get('/api/club')).body).toEqual(before);
  });
});

it('moved to another time zone takes the smoke days and last days of its packs along (date.seven, FC 3-501.17)', async () => {
  const own = await testClub({ now: '2026-06-10T12:00:00Z' });
  try {
    const [head, crew] = [await own.person('captain'), await own.person('crew')];
    const batch = await smokedBatch(own, crew, { startedAt: new Date('2026-06-09T23:30:00Z') });
    const made = await crew.post(`/api/batches/${batch.id}/packs`, { weightsG: [250], packageKind: 'tub', storage: 'refrigerated', packedAt: '2026-06-10T11:00:00Z' });
    // Half past midnight on the 10th in London is the evening of the 9th in Halifax.
    expect(made.body.items[0].lastDay).toBe('2026-06-16');
    const { version } = (await head.get('/api/club')).body;
    expect((await head.patch('/api/club', { version, timeZone: 'America/Halifax' })).status).toBe(200);
    expect((await crew.get(`/api/packs/${made.body.items[0].id}`)).body).toMatchObject({ smokeDay: '2026-06-09', lastDay: '2026-06-15' });
  } finally {
    await own.close();
  }
});
