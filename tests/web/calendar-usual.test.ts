import { describe, expect, it } from 'vitest';
import { stagesOnOffer, stationsFor, usualAmount, usualEnd, usualStage, usualStart } from '$lib/calendar/usual.ts';

// The hours a stage usually takes are common practice, no source: only how they are applied is checked here.
const zone = 'Europe/London';
const ms = (text: string) => Date.parse(text);
const smoker = { serves: ['dry', 'smoke'] as ('dry' | 'smoke')[], capacity: 6, capacityUnit: 'racks' as const, opensAt: null, closesAt: null };
const tub = { serves: ['cure', 'rinse'] as ('cure' | 'rinse')[], capacity: 20_000, capacityUnit: 'grams' as const, opensAt: '08:00', closesAt: '20:00' };
const batch = { id: 'b', productKind: 'hot-smoked' as const, onHandGrams: 4_400, running: null, lastStage: null };

describe('the first guess of a booking', () => {
  it('is the next stage that is neither behind the batch nor booked', () => {
    expect(usualStage(['prepare', 'cure', 'dry', 'smoke'], batch)).toBe('cure');
    expect(usualStage(['prepare', 'cure', 'dry', 'smoke'], { ...batch, lastStage: 'cure' })).toBe('dry');
    expect(usualStage(['cure', 'dry', 'smoke'], { ...batch, slots: [{ stageKind: 'cure', endsAt: '2026-06-01T10:00:00Z' }, { stageKind: 'dry', endsAt: '2026-06-01T12:00:00Z' }] })).toBe('smoke');
    expect(usualStage(['dry', 'smoke'], { ...batch, lastStage: 'dry' }), 'a smoker dries too').toBe('smoke');
    expect(usualStage(['dry'], { ...batch, lastStage: 'smoke' }), 'all are behind it').toBe('dry');
    expect(usualStage([], batch)).toBe('');
  });

  it('is what the station is there for, once one is given', () => {
    expect(usualStage(['dry', 'smoke'], null, { kind: 'smoker' })).toBe('smoke');
    expect(usualStage(['cure', 'dry', 'cool'], null, { kind: 'refrigerator' })).toBe('cure');
    expect(usualStage(['cure', 'dry', 'cool'], { ...batch, lastStage: 'smoke' }, { kind: 'refrigerator' }), 'the cure is behind it').toBe('cool');
  });

  it('puts a rack before a smoker for drying', () => {
    const [oven, rack, bench] = [{ kind: 'smoker', serves: ['dry', 'smoke'] }, { kind: 'drying-rack', serves: ['dry'] }, { kind: 'bench', serves: ['prepare'] }] as const;
    const all = [oven, rack, bench].map((s) => ({ ...s, serves: [...s.serves] }));
    expect(stationsFor('dry', all).map((s) => s.kind)).toEqual(['drying-rack', 'smoker']);
  });

  it('starts at the next quarter hour, after the earlier stages that are booked', () => {
    const now = ms('2026-06-01T09:03:00Z');
    expect(usualStart('smoke', batch, smoker, now, zone)).toBe(ms('2026-06-01T09:15:00Z'));
    const booked = { ...batch, slots: [{ stageKind: 'cure' as const, endsAt: '2026-06-01T15:00:00Z' }, { stageKind: 'smoke' as const, endsAt: '2026-06-02T09:00:00Z' }] };
    expect(usualStart('dry', booked, smoker, now, zone), 'not after the later ones').toBe(ms('2026-06-01T15:00:00Z'));
  });

  it('starts when what runs is due', () => {
    const cure = { id: 's', kind: 'cure' as const, startedAt: '2026-06-01T08:00:00Z', dueAt: '2026-06-01T14:20:00Z' };
    const now = ms('2026-06-01T09:03:00Z');
    expect(usualStart('smoke', { ...batch, running: cure }, smoker, now, zone)).toBe(ms('2026-06-01T14:30:00Z'));
    expect(usualStart('cure', { ...batch, running: cure }, smoker, now, zone), 'its own time is now').toBe(ms('2026-06-01T09:15:00Z'));
    expect(usualStart('smoke', { ...batch, running: { ...cure, dueAt: null } }, smoker, now, zone)).toBe(ms('2026-06-01T09:15:00Z'));
  });

  it('offers the stages that a station serves and the product goes through', () => {
    expect(stagesOnOffer([tub, smoker], batch)).toEqual(['cure', 'rinse', 'dry', 'smoke']);
    expect(stagesOnOffer([tub, smoker], { productKind: 'raw' })).toEqual(['rinse']);
    expect(stagesOnOffer([smoker], null)).toEqual(['dry', 'smoke']);
  });

  it('waits until the station opens and ends where it closes', () => {
    // Summer time: 08:00 to 20:00 on the wall is 07:00 to 19:00 UTC.
    expect(usualStart('cure', batch, tub, ms('2026-06-01T20:30:00Z'), zone)).toBe(ms('2026-06-02T07:00:00Z'));
    expect(usualStart('cure', batch, tub, ms('2026-06-01T10:00:00Z'), zone)).toBe(ms('2026-06-01T10:00:00Z'));
    expect(usualEnd('cure', tub, ms('2026-06-01T16:00:00Z'), zone)).toBe(ms('2026-06-01T19:00:00Z'));
    expect(usualEnd('cure', tub, ms('2026-06-01T08:00:00Z'), zone)).toBe(ms('2026-06-01T14:00:00Z'));
  });

  it('takes what the batch holds, never more than the station does, and guesses no litres', () => {
    expect(usualAmount(tub, batch)).toBe(4_400);
    expect(usualAmount(tub, { ...batch, onHandGrams: 90_000 })).toBe(20_000);
    expect(usualAmount(tub, { ...batch, onHandGrams: 0 })).toBeNull();
    expect(usualAmount(smoker, batch)).toBe(1);
    expect(usualAmount({ ...tub, capacityUnit: 'millilitres' }, batch)).toBeNull();
  });
});
