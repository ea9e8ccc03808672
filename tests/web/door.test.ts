import { describe, expect, it } from 'vitest';
import { NetworkFailure, Problem } from '../../web/src/lib/api/problem.ts';
import { linkEnded } from '../../web/src/lib/frame/link-ended.ts';
import { zoneOptions } from '../../web/src/lib/frame/zones.ts';
import { leadsOnlyHere } from '../../web/src/lib/labels/only-here.ts';

describe('a link', () => {
  it('that is used, unknown or mistyped lets nobody in', () => {
    expect(linkEnded(new Problem(410, { code: 'link-ended' }))).toBe(true);
    expect(linkEnded(new Problem(404, { code: 'not-found' }))).toBe(true);
    expect(linkEnded(new Problem(400, { code: 'invalid-input' }))).toBe(true);
    expect(linkEnded(null, null, new Problem(410, { code: 'link-ended' }))).toBe(true);
  });

  it('is not over because there is no signal or a field is wrong', () => {
    expect(linkEnded(new NetworkFailure('offline'))).toBe(false);
    expect(linkEnded(null, new Problem(400, { code: 'invalid-input' }))).toBe(false);
    expect(linkEnded(null)).toBe(false);
  });
});

it('every time zone in use can be chosen, also one that the browser does not list', () => {
  const values = (zone: string) => zoneOptions(zone).map((option) => option.value);
  expect(values('Europe/Oslo').filter((zone) => zone === 'UTC')).toHaveLength(1);
  expect(values('Etc/GMT+3')[0]).toBe('Etc/GMT+3');
  expect(values('')).not.toContain('');
});

it('knows the addresses that open on no phone', () => {
  for (const address of ['http://localhost:8080', 'http://127.0.0.1:8120', 'http://[::1]:8080', 'http://fish.localhost']) expect(leadsOnlyHere(address)).toBe(true);
  for (const address of ['https://fish.example.org', 'http://192.0.2.7:8080', 'not an address']) expect(leadsOnlyHere(address)).toBe(false);
});
