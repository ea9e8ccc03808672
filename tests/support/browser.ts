import { randomUUID } from 'node:crypto';
import type { TestClub } from './app.ts';

type Sent = { headers?: Record<string, string>; key?: string };

/**
 * A browser: keeps the cookies it is given, by path, and comes from an address. `tab()` is another one with the same
 * cookies at that moment, as a second tab that sends before the first has its answer.
 */
export function browser(club: TestClub, address = '192.0.2.10', cookies = new Map<string, { value: string; path: string }>()) {
  async function send(method: string, url: string, body?: unknown, { headers = {}, key }: Sent = {}) {
    const sent = [...cookies].filter(([, c]) => url.startsWith(c.path)).map(([name, c]) => `${name}=${c.value}`).join('; ');
    const answer = await club.app.inject({
      method: method as 'GET', url, remoteAddress: address,
      headers: {
        ...(sent ? { cookie: sent } : {}),
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
        ...(key === undefined ? {} : { 'idempotency-key': key }),
        ...headers,
      },
      ...(body === undefined ? {} : { payload: JSON.stringify(body) }),
    });
    for (const c of answer.cookies) {
      const gone = c.maxAge === 0 || (c.expires !== undefined && c.expires.getTime() <= 0);
      if (gone) cookies.delete(c.name);
      else cookies.set(c.name, { value: c.value, path: c.path ?? '/' });
    }
    const json = String(answer.headers['content-type'] ?? '').includes('json') && answer.payload;
    return { status: answer.statusCode, body: (json ? JSON.parse(answer.payload) : null) as any, headers: answer.headers, cookies: answer.cookies };
  }
  return {
    cookies,
    tab: () => browser(club, address, new Map(cookies)),
    from: (other: string) => browser(club, other, cookies),
    get: (url: string, sent?: Sent) => send('GET', url, undefined, sent),
    post: (url: string, body?: unknown, sent?: Sent) => send('POST', url, body, { key: randomUUID(), ...sent }),
    patch: (url: string, body: unknown, sent?: Sent) => send('PATCH', url, body, sent),
    put: (url: string, body: unknown, sent?: Sent) => send('PUT', url, body, sent),
    del: (url: string, sent?: Sent) => send('DELETE', url, undefined, sent),
    signIn: (login: string, password: string, sent?: Sent) => send('POST', '/api/session', { login, password }, sent),
  };
}
export type Browser = ReturnType<typeof browser>;

export const goodPassword = 'herring under lantern';

/** A captain's invitation, and its link's token. */
export async function invitationToken(captain: { post(url: string, body: unknown): Promise<{ status: number; body: any }> }, role = 'member'): Promise<string> {
  const made = await captain.post('/api/invitations', { role });
  if (made.status !== 201) throw new Error(`No invitation was made: ${JSON.stringify(made.body)}`);
  return String(made.body.link).split('/').at(-1)!;
}

/** Somebody who joined by invitation, with a password, in their own browser. */
export async function joined(club: TestClub, role: 'captain' | 'crew' | 'member', userName: string, address?: string) {
  const token = await invitationToken(await club.person('captain'), role);
  const own = browser(club, address);
  const answer = await own.post(`/api/invitations/by-token/${token}/accept`, { name: `Name of ${userName}`, userName, email: `${userName}@example.org`, password: goodPassword });
  if (answer.status !== 201) throw new Error(`${userName} could not join: ${JSON.stringify(answer.body)}`);
  return { id: answer.body.me.id as string, own };
}
