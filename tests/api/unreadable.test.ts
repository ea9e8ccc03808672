import { connect } from 'node:net';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { TestClub } from '../support/app.ts';

let club: TestClub;
let port: number;
beforeAll(async () => {
  club = await testClub();
  await club.app.listen({ host: '127.0.0.1', port: 0 });
  port = (club.app.server.address() as AddressInfo).port;
});
afterAll(() => club.close());

const ofSecurity = ['content-security-policy', 'x-content-type-options', 'x-frame-options', 'referrer-policy', 'x-dns-prefetch-control'];
async function usual() {
  const { headers } = await club.app.inject('/api/health');
  return Object.fromEntries(ofSecurity.map((name) => [name, headers[name]]));
}

test.each([['/%E0%A4%A', 400, 'invalid-input'], ['/api/landings/%zz', 400, 'invalid-input'], [`/api/landings/${'x'.repeat(300)}`, 404, 'not-found']])('%s carries the headers of every answer', async (url, status, code) => {
  const answer = await club.app.inject(url);
  expect(Object.values(await usual()).every((value) => typeof value === 'string')).toBe(true);
  expect(answer.headers).toMatchObject({ ...(await usual()), 'content-type': 'application/problem+json; charset=utf-8' });
  expect([answer.statusCode, answer.json().code]).toEqual([status, code]);
});

/** What comes back for bytes sent as they are. */
const raw = (bytes: string) =>
  new Promise<string>((resolve, reject) => {
    const socket = connect(port, '127.0.0.1', () => socket.write(bytes));
    let text = '';
    socket.setEncoding('utf8').on('data', (part: string) => (text += part)).on('end', () => resolve(text)).on('error', reject);
  });

test.each([['no HTTP at all', 'HELLO\r\n\r\n', 400, 'invalid-input'], ['endless headers', `GET / HTTP/1.1\r\nhost: x\r\nx: ${'y'.repeat(20_000)}\r\n\r\n`, 413, 'too-large']])('%s is answered with the headers and a problem too', async (_what, bytes, status, code) => {
  const text = await raw(bytes);
  const [head, body] = text.split('\r\n\r\n') as [string, string];
  const headers = Object.fromEntries(head.split('\r\n').slice(1).map((line) => [line.slice(0, line.indexOf(':')), line.slice(line.indexOf(':') + 2)]));
  expect(headers).toMatchObject({ ...(await usual()), 'content-type': 'application/problem+json; charset=utf-8' });
  expect(head).toMatch(new RegExp(`^HTTP/1.1 ${status} `));
  expect(JSON.parse(body)).toMatchObject({ status, code });
});
