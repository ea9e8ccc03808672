import { randomUUID } from 'node:crypto';
import { afterEach, describe, expect, it } from 'vitest';
import { setupCode } from '../../server/features/setup/setup-code.ts';
import { testClub } from '../support/app.ts';
import type { TestClub } from '../support/app.ts';
import { browser, goodPassword } from '../support/browser.ts';

let club: TestClub;
afterEach(() => club.close());

const emptyClub = async () => {
  club = await testClub({ withClub: false });
  const code = setupCode(club.context.config);
  const body = (over: object = {}) => ({
    code, clubName: 'Skerrywick Boat Club', timeZone: 'Europe/Oslo', units: 'metric',
    captain: { name: 'Ebba Holm', userName: 'Ebba', email: 'Ebba@Example.org', password: goodPassword }, ...over,
  });
  return { code, body, count: async (table: 'club' | 'member') => (await club.database.query('', `select 1 from ${table}`)).length };
};

describe('setting up', () => {
  it('makes the club and a captain who is signed in, once', async () => {
    const { body } = await emptyClub();
    const first = browser(club);
    expect((await first.get('/api/setup')).body).toEqual({ needed: true });
    const made = await first.post('/api/setup', body());
    expect(made.status).toBe(201);
    expect(made.body.me).toMatchObject({ name: 'Ebba Holm', userName: 'ebba', email: 'ebba@example.org', role: 'captain' });
    expect(made.body.club).toEqual({ name: 'Skerrywick Boat Club', timeZone: 'Europe/Oslo', units: 'metric', saleWords: 'Sport caught, not for resale', contactWords: '', guttedSource: '', version: 1 });
    expect((await first.get('/api/setup')).body).toEqual({ needed: false });
    expect((await first.get('/api/session')).body.me.userName).toBe('ebba');
    const again = await browser(club).post('/api/setup', body({ clubName: 'Another' }));
    expect([again.status, again.body.code]).toEqual([409, 'conflict']);
  });

  it('names the new captain in the record, with no password and no e-mail', async () => {
    const { body } = await emptyClub();
    const made = await browser(club).post('/api/setup', body());
    const rows = await club.database.query<{ actor_id: string; kind: string; after: object }>('', `select actor_id, subject_kind as kind, after from record_entry where subject_kind in ('club', 'member') order by id`);
    expect(rows.map((r) => [r.kind, r.actor_id])).toEqual([['club', made.body.me.id], ['member', made.body.me.id]]);
    expect(JSON.stringify(rows)).not.toMatch(/argon2|ebba@example/i);
  });

  it('takes the code in any case, with or without dashes', async () => {
    const { code, body } = await emptyClub();
    expect(code).toMatch(/^[ABCDEHKMNPRTUWXY]{4}(-[ABCDEHKMNPRTUWXY]{4}){2}$/);
    expect((await browser(club).post('/api/setup', body({ code: ` ${code.toLowerCase().replaceAll('-', ' ')} ` }))).status).toBe(201);
  });

  it('refuses a wrong code, naming the field and the remedy, and after ten tries from one address the right one too', async () => {
    const { body, count } = await emptyClub();
    const guesser = browser(club, '198.51.100.7');
    const wrong = await guesser.post('/api/setup', body({ code: 'AAAA-AAAA-AAAA' }));
    expect(wrong.status).toBe(422);
    expect(wrong.body.errors[0]).toMatchObject({ field: 'code', remedy: expect.stringContaining('where the service was started') });
    for (let i = 0; i < 9; i++) await guesser.post('/api/setup', body({ code: 'AAAA-AAAA-AAAA' }));
    const blocked = await guesser.post('/api/setup', body());
    expect([blocked.status, blocked.headers['retry-after']]).toEqual([429, '900']);
    expect(await count('club')).toBe(0);
    // Somebody else's guesses are no obstacle to the person at the console.
    expect((await browser(club, '192.0.2.1').post('/api/setup', body())).status).toBe(201);
  });

  it('makes one club of two set-ups at once', async () => {
    const { body, count } = await emptyClub();
    const answers = await Promise.all(['ebba', 'tor'].map((userName) =>
      browser(club).post('/api/setup', body({ clubName: `Club of ${userName}`, captain: { name: userName, userName, password: goodPassword } }))));
    expect(answers.map((a) => a.status).sort()).toEqual([201, 409]);
    expect([await count('club'), await count('member')]).toEqual([1, 1]);
  });

  it('answers the same set-up sent again the same, signed in, without making a second captain', async () => {
    const { body, count } = await emptyClub();
    const key = randomUUID();
    const made = await browser(club).post('/api/setup', body(), { key });
    const moved = browser(club, '203.0.113.9');
    const again = await moved.post('/api/setup', body(), { key });
    expect(again.status).toBe(201);
    expect(again.body.me).toEqual(made.body.me);
    expect((await moved.get('/api/members')).body.items).toHaveLength(1);
    expect(await count('member')).toBe(1);
  });

  it.each([
    ['timeZone', { timeZone: 'Europe/Atlantis' }, 422],
    ['clubName', { clubName: '' }, 400],
    ['clubName', { clubName: 'x'.repeat(10_000) }, 400],
    ['units', { units: 'stones' }, 400],
    ['captain.password', { captain: { name: 'E', userName: 'ebba', password: 'short' } }, 400],
    ['captain.userName', { captain: { name: 'E', userName: '🐟', password: goodPassword } }, 400],
    ['captain.email', { captain: { name: 'E', userName: 'ebba', email: 'nobody', password: goodPassword } }, 400],
    ['captain.admin', { captain: { name: 'E', userName: 'ebba', password: goodPassword, admin: true } }, 400],
  ])('refuses a bad %s, naming it, with a remedy and nothing written', async (field, over, status) => {
    const { body, count } = await emptyClub();
    const refused = await browser(club).post('/api/setup', body(over));
    expect(refused.status).toBe(status);
    const error = refused.body.errors.find((e: { field: string }) => e.field === field);
    expect(error?.message).toBeTruthy();
    expect(error?.remedy).toBeTruthy();
    expect(JSON.stringify(refused.body)).not.toContain('short');
    expect([await count('club'), await count('member')]).toEqual([0, 0]);
  });
});
