import { expect, test } from 'vitest';
import type { Landing } from '../../server/contract/catch.ts';
import { chillChecks } from '../../web/src/lib/fish/chill.ts';

const landing = (changes: Partial<Landing>): Landing => ({
  id: 'a', trip: { id: 't', day: '2026-06-01', area: 'North ledge', boatName: 'Grey Plover' }, catcher: { kind: 'boat', memberId: null, name: 'Grey Plover' },
  species: { code: 'atlantic-mackerel', name: 'Atlantic mackerel', sharing: 'ok', scombrotoxin: true }, fishCount: 4, grams: 2000, weightSource: 'weighed', estimate: null, form: 'whole', lengthsCm: [],
  lengthKind: null, caughtAt: null, guttedAt: null, icedAt: null, landedAt: null, coreC: null, airC: null, waterC: null, note: '', pooling: 'apart', drawnGrams: 0, leftGrams: 2000, withdrawn: false,
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

test('says that air or water was not recorded where it is judged as warm for that, and nothing where it was warm', () => {
  const found = (changes: Partial<Landing>) => chillChecks(landing({ caughtAt: '2026-06-01T04:00:00Z', icedAt: '2026-06-01T09:00:00Z', ...changes })).map((check) => [check.ruleId, check.state, check.found.replace(/^.*?; /, '')]);
  expect(found({})).toEqual([['chill.hot', 'met', 'air and water not recorded, so judged as warm']]);
  expect(found({ airC: 2 })).toEqual([['chill.hot', 'met', 'water not recorded, so judged as warm']]);
  expect(found({ icedAt: null, waterC: 4 })).toEqual([['chill.hot', 'not-recorded', 'air not recorded, so judged as warm']]);
  for (const known of [{ airC: 30, waterC: 20 }, { airC: 2, waterC: 4 }]) expect(found(known)[0]![2]).not.toContain('not recorded');
});

test('the club’s own limits count where they are tighter', () => {
  const caughtAt = '2026-06-01T04:00:00Z';
  const cold = landing({ caughtAt, icedAt: '2026-06-01T11:00:00Z', landedAt: '2026-06-02T05:00:00Z', coreC: 4, airC: 14, waterC: 11 });
  const told = (club: Record<string, number>) => chillChecks(cold, '', club).map((check) => check.state);
  expect([told({}), told({ 'chill.mild.hours': 6 }), told({ 'chill.internal.24h.celsius': 3 }), told({ 'chill.mild.hours': 12, 'chill.internal.24h.celsius': 9 })]).toEqual([['met', 'met'], ['not-met', 'met'], ['met', 'not-met'], ['met', 'met']]);
});

test('a fish that forms no histamine asks for nothing here', () => {
  expect(states({ species: { code: 'pollack', name: 'Pollack', sharing: 'ok', scombrotoxin: false } })).toEqual([]);
});

test('gutted first counts 12 hours with the club’s own source alone, and the core by when it landed (chill.gutted, chill.internal)', () => {
  const late = { caughtAt: '2026-06-01T04:00:00Z', guttedAt: '2026-06-01T05:00:00Z', icedAt: '2026-06-01T15:00:00Z', form: 'gutted', airC: 14, waterC: 11 } as const;
  expect(states(late)).toEqual(['not-met']);
  expect(chillChecks(landing(late), 'County health department, letter of 3 May 2026').map((check) => [check.ruleId, check.state])).toEqual([['chill.gutted', 'met']]);
  expect(states({ ...late, coreC: 9 })[1]).toBe('not-recorded');
  expect([states({ ...late, coreC: 9, landedAt: '2026-06-01T20:00:00Z' })[1], states({ ...late, coreC: 9, landedAt: '2026-06-02T04:00:00Z' })[1]]).toEqual(['met', 'not-met']);
});
