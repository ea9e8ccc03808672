import { beforeAll, describe, expect, it } from 'vitest';
import { drawnSigns, landingSigns } from '$lib/fish/landing-signs.ts';
import { session } from '$lib/session.svelte.ts';

type Known = Parameters<typeof landingSigns>[0][number];
const one = (id: string, more: Partial<Known> = {}): Known => ({
  id, trip: { id: 't', day: '2026-06-10', area: 'Sound', boatName: 'Marram' }, species: { code: 'mackerel', name: 'Mackerel', sharing: 'ok', scombrotoxin: true }, catcher: { kind: 'member', memberId: 'a', name: 'Ann Holm' },
  caughtAt: null, landedAt: null, createdAt: '2026-06-10T18:02:00.000Z', createdBy: { id: 'm', name: 'Moss Hallan' }, ...more,
});

describe('landings of the same fish by the same person are told apart by more than their weight', () => {
  let zone: string;
  beforeAll(() => {
    zone = session.zone;
  });
  /** The clock of the club, which is that of UTC until somebody signs in here. */
  const said = (landings: Known[]) => [...landingSigns(landings).values()];

  it('by when each came ashore, else when it was caught, else when and by whom it was written down', () => {
    expect(zone).toBe('UTC');
    expect(said([one('a', { landedAt: '2026-06-10T14:20:00.000Z', caughtAt: '2026-06-10T09:00:00.000Z' }), one('b', { caughtAt: '2026-06-10T10:00:00.000Z' }), one('c')])).toEqual(['landed 14:20', 'caught 10:00', 'written down 18:02 by Moss Hallan']);
  });

  it('with its day where that is not the day of the trip', () => {
    expect(said([one('a', { landedAt: '2026-06-11T01:10:00.000Z' })])[0]).toMatch(/^landed Thu 11 Jun 2026, 01:10$/);
  });

  it('of what was drawn too, by what the page of the batch tells; lots and packs have their number', () => {
    const drawn = (id: string, landedAt: string | null, writtenAt: string) => ({ id, source: { kind: 'landing' as const, id: `l-${id}`, label: 'Mackerel, Ann Holm, 10 Jun', pooling: null, form: null, landing: { day: '2026-06-10', landedAt, caughtAt: null, writtenAt } } });
    const lot = { id: 'c', source: { kind: 'batch' as const, id: 'b', label: 'AB1-CD23', pooling: null, form: null, landing: null } };
    expect([...drawnSigns([drawn('a', '2026-06-10T14:20:00.000Z', '2026-06-10T18:02:00.000Z'), drawn('b', null, '2026-06-10T18:05:00.000Z'), lot])]).toEqual([['a', 'landed 14:20'], ['b', 'written down 18:05']]);
  });

  it('and where that is alike, by when and by whom each was written down; others stay short', () => {
    const landedAt = '2026-06-10T14:20:00.000Z';
    const [first, second, other] = said([one('a', { landedAt }), one('b', { landedAt, createdAt: '2026-06-10T18:05:00.000Z' }), one('c', { landedAt, catcher: { kind: 'guest', memberId: null, name: 'Olav' } })]);
    expect([first, second, other]).toEqual(['landed 14:20, written down 18:02 by Moss Hallan', 'landed 14:20, written down 18:05 by Moss Hallan', 'landed 14:20']);
  });
});
