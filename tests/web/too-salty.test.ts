import { expect, test } from 'vitest';
import type { BatchDetail, Stage } from '../../server/contract/batches.ts';
import { putTooSaltyRight } from '../../server/domain/cure/too-salty.ts';
import { lastCure, minutesOf, recordedConditions } from '../../web/src/lib/cure/salty.ts';

const brine = { method: 'brine', saltKind: 'table-salt', saltGrams: 882, sugarKind: null, sugarGrams: 0, waterGrams: 5000, brinePercent: null, others: [], thicknessMm: 20, skin: true, temperatureC: 3, onceFrozen: false, fat: 'fatty' };
const stage = (change: object = {}) => ({ id: 's', kind: 'cure', startedAt: '2026-06-03T08:00:00.000Z', finishedAt: '2026-06-03T20:00:00.000Z', massInG: 5000, cure: brine, ...change }) as unknown as Stage;
const origins = [{ speciesCode: 'atlantic-mackerel' }] as BatchDetail['origins'];

test('the help takes what was recorded: 882 g of salt in 5 kg of water is 15 % (882 / 5882), skin leaves one face open', () => {
  const conditions = recordedConditions(stage(), origins, 'lean')!;
  expect(conditions).toMatchObject({ brinePercent: 14.995, openFaces: 1, thicknessMm: 20, temperatureC: 3, fat: 'fatty' });
  const after = (minutes: number) => putTooSaltyRight({ ...conditions, minutes, targetPercent: 3.5, waterTemperatureC: 3 });
  expect(after(minutesOf(stage())! * 3).waterMinutes).toBeGreaterThan(0);
  expect(after(30)).toMatchObject({ isTooSalty: false, waterMinutes: 0 });
});

test('fish of several fat classes is reckoned as said, with the club’s own figures; a cure of which nothing was told is not guessed', () => {
  const mixed = stage({ cure: { ...brine, fat: 'mixed' } });
  const club = { m2PerSAt5C: 4e-10, bandFactor: 1.4 };
  expect(recordedConditions(mixed, origins, 'lean', { lean: club })).toMatchObject({ fat: 'lean', club });
  expect(recordedConditions(stage({ cure: null }), origins, 'lean')).toBeNull();
});

test('the last cure that is finished counts', () => {
  expect(lastCure([])).toBeNull();
  expect(lastCure([stage(), stage({ id: 'second' }), stage({ id: 'third', finishedAt: null })])!.id).toBe('second');
});
