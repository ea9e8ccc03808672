import { expect, test } from 'vitest';
import type { Landing } from '../../server/contract/catch.ts';
import { chillChecks } from '../../web/src/lib/fish/chill.ts';

const landing = (changes: Partial<Landing>): Landing => ({
  id: 'a', trip: { id: 't', day: '2026-06-01', area: 'North ledge', boatName: 'Grey Plover' }, catcher: { kind: 'boat', memberId: null, name: 'Grey Plover' },
  species: { code: 'atlantic-mackerel', name: 'Atlantic mackerel', sharing: 'ok', scombrotoxin: true }, fishCount: 4, grams: 2000, weightSource: 'weighed', estimate: null, form: 'whole', lengthsCm: [],
  lengthKind: null, caughtAt: null, icedAt: null, coreC: null, airC: null, waterC: null, note: '', pooling: 'apart', drawnGrams: 0, leftGrams: 2000, withdrawn: false,
  createdBy: { id: 'm', name: 'Moss' }, createdAt: '2026-06-01T12:00:00Z', version: 1, ...changes,
});
const states = (changes: Partial<Landing>) => chillChecks(landing(changes)).map((check) => check.state);

test('mackerel without times is not recorded, never met (rules.md chill.unknown)', () => {
  expect(states({})).toEqual(['not-recorded']);
});

test('on ice within 9 hours in cool air and water is met; within 7 with neither measured is not (chill.mild, chill.hot)', () => {
  const caughtAt = '2026-06-01T04:00:00Z';
  expect(states({ caughtAt, icedAt: '2026-06-01T11:00:00Z', airC: 14, waterC: 11 })[0]).toBe('met');
  expect(states({ caughtAt, icedAt: '2026-06-01T11:00:00Z' })[0]).toBe('not-met');
});

test('a fish that forms no histamine asks for nothing here', () => {
  expect(states({ species: { code: 'pollack', name: 'Pollack', sharing: 'ok', scombrotoxin: false } })).toEqual([]);
});
