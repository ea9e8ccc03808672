import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { networkOf } from '../../server/platform/auth/attempts.ts';
import { testClub } from '../support/app.ts';
import type { TestClub } from '../support/app.ts';
import { browser, goodPassword, joined } from '../support/browser.ts';
import type { Browser } from '../support/browser.ts';

let club: TestClub;
let captain: { id: string; own: Browser };
let login = '';
let count = 0;
beforeAll(async () => { club = await testClub(); });
afterAll(() => club.close());
beforeEach(async () => {
  login = `skipper${++count}`;
  captain = await joined(club, 'captain', login, '192.0.2.1');
  later(3 * 3600);
});

const later = (seconds: number) => { club.clock.now = new Date(club.clock.now.getTime() + seconds * 1000); };
/** An address that no other test uses. */
const address = (n: number) => `10.${count}.${Math.floor(n / 250)}.${1 + (n % 250)}`;
async function guess(from: Browser, times: number, name = login): Promise<number[]> {
  const answers: number[] = [];
  for (let i = 0; i < times; i++) answers.push((await from.signIn(name, `guess number ${i}`)).status);
  return answers;
}

describe('tries to sign in', () => {
  it('from one address to one account: five in 15 minutes, then a plain sentence and when to try again', async () => {
    const guesser = browser(club, address(1));
    expect(await guess(guesser, 5)).toEqual([401, 401, 401, 401, 401]);
    later(60);
    const blocked = await guesser.signIn(login, goodPassword);
    expect([blocked.status, blocked.body.code, blocked.headers['retry-after']]).toEqual([429, 'too-many-tries', '840']);
    expect(blocked.body.detail).toBe('Too many tries. Wait 14 minutes and try again.');
    later(839);
    expect((await guesser.signIn(login, goodPassword)).headers['retry-after']).toBe('1');
    later(1);
    expect((await guesser.signIn(login, goodPassword)).status).toBe(200);
  });

  it('by user name and by e-mail count as the same account', async () => {
    const guesser = browser(club, address(1));
    await guess(guesser, 3);
    await guess(guesser, 2, `${login}@example.org`);
    expect(await guess(guesser, 1, login.toUpperCase())).toEqual([429]);
  });

  it('many at once are no way around the count', async () => {
    const guesser = browser(club, address(1));
    const answers = await Promise.all(Array.from({ length: 20 }, (_, i) => guesser.tab().signIn(login, `guess number ${i}`)));
    expect(answers.filter((a) => a.status === 401)).toHaveLength(5);
    expect(answers.filter((a) => a.status === 429)).toHaveLength(15);
  });

  it('that go well begin the count anew', async () => {
    const own = browser(club, address(1));
    await guess(own, 4);
    expect((await own.signIn(login, goodPassword)).status).toBe(200);
    own.cookies.clear();
    expect(await guess(own, 6)).toEqual([401, 401, 401, 401, 401, 429]);
  });

  it('from one address to any accounts: thirty in 15 minutes, unknown names as well', async () => {
    const guesser = browser(club, address(1));
    for (let i = 0; i < 30; i++) expect(await guess(guesser, 1, `someone-${count}-${i}`)).toEqual([401]);
    expect(await guess(guesser, 1, `someone-${count}-31`)).toEqual([429]);
    expect((await browser(club, address(2)).signIn(login, goodPassword)).status).toBe(200);
  });

  it('of a whole clubhouse behind one address are not held against it when they go well', async () => {
    for (let i = 0; i < 32; i++) expect((await browser(club, address(1)).signIn(login, goodPassword)).status).toBe(200);
  });

  it('to one account from devices that never signed in: fifty an hour, from any number of addresses', async () => {
    for (let n = 0; n < 10; n++) expect(await guess(browser(club, address(n)), 5)).toEqual([401, 401, 401, 401, 401]);
    const refused = await browser(club, address(99)).signIn(login, goodPassword);
    expect([refused.status, refused.headers['retry-after']]).toEqual([429, '3600']);
    later(3600);
    expect((await browser(club, address(100)).signIn(login, goodPassword)).status).toBe(200);
  });

  it('by a stranger, a hundred of them from twenty addresses and from the captain\'s own, do not lock the captain\'s device out', async () => {
    for (let n = 0; n < 19; n++) await guess(browser(club, address(n)), 5);
    expect(await guess(browser(club, '192.0.2.1'), 5)).toEqual([429, 429, 429, 429, 429]);
    await captain.own.del('/api/session');
    expect((await captain.own.signIn(login, goodPassword)).status).toBe(200);
  });

  it('on a known device are counted too: ten in 15 minutes', async () => {
    expect(await guess(captain.own, 10)).toEqual(Array(10).fill(401));
    const blocked = await captain.own.signIn(login, goodPassword);
    expect([blocked.status, blocked.headers['retry-after']]).toEqual([429, '900']);
    // Another address is no way around; the count is the device's.
    expect((await captain.own.from(address(1)).signIn(login, goodPassword)).status).toBe(429);
  });

  it('with the device of another member, or a forged one, count as a stranger\'s', async () => {
    const other = await joined(club, 'member', `deckhand${count}`, address(1));
    expect(await guess(other.own, 6)).toEqual([401, 401, 401, 401, 401, 429]);
    const real = captain.own.cookies.get('tl_device')!.value;
    const otherReal = other.own.cookies.get('tl_device')!.value;
    const forged = real.split('.').slice(0, 3).concat(otherReal.split('.')[3]!).join('.');
    const forger = browser(club, address(2), new Map([['tl_device', { value: forged, path: '/api/session' }]]));
    expect(await guess(forger, 6)).toEqual([401, 401, 401, 401, 401, 429]);
  });

  it('leave no name and no address in the database', async () => {
    await guess(browser(club, address(1)), 2);
    const rows = JSON.stringify(await club.database.query('', `select * from attempt_count`));
    expect(rows).toContain('account-address');
    for (const word of [login, address(1), captain.id]) expect(rows).not.toContain(word);
  });
});

describe('what counts as one address', () => {
  it.each([
    ['192.0.2.7', '192.0.2.7'],
    ['::ffff:192.0.2.7', '192.0.2.7'],
    ['2001:db8:1:2:3:4:5:6', '2001:db8:1:2'],
    ['2001:0db8:0001:0002::9', '2001:db8:1:2'],
    ['2001:db8::1', '2001:db8:0:0'],
    ['fe80::1%eth0', 'fe80:0:0:0'],
    ['::1', '0:0:0:0'],
  ])('%s is counted as %s (a household\'s IPv6 network is a /64, RFC 4291 section 2.5.1)', (given, counted) => {
    expect(networkOf(given)).toBe(counted);
  });
});
