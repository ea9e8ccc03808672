import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { catcherKey, checkDraw } from '../../server/domain/pooling.ts';
import type { PlacedFish } from '../../server/domain/pooling.ts';
import type { Pooling } from '../../server/domain/working.ts';

const fish = (who: string, pooling: Pooling, trayNo = 1): PlacedFish => ({ catcherKey: who, pooling, trayNo });

describe('checkDraw (product.md: fish stays apart unless its owner agreed to pool it)', () => {
  it('puts the first fish on tray 1', () => {
    for (const pooling of ['apart', 'tray', 'pooled'] as const) expect(checkDraw([], { catcherKey: 'a', pooling })).toEqual({ trayNo: 1 });
  });

  it('lets fish kept apart share only with its own catcher', () => {
    expect(checkDraw([fish('a', 'apart')], { catcherKey: 'a', pooling: 'apart' })).toEqual({ trayNo: 1 });
    for (const pooling of ['apart', 'tray', 'pooled'] as const) {
      expect(() => checkDraw([fish('a', 'apart')], { catcherKey: 'b', pooling })).toThrow(/kept apart/);
      expect(() => checkDraw([fish('a', pooling)], { catcherKey: 'b', pooling: 'apart', trayNo: 2 })).toThrow(/kept apart/);
    }
  });

  it('gives tray fish a tray of its own catcher', () => {
    expect(checkDraw([fish('a', 'tray', 1)], { catcherKey: 'b', pooling: 'tray' })).toEqual({ trayNo: 2 });
    expect(checkDraw([fish('a', 'tray', 1), fish('b', 'tray', 2)], { catcherKey: 'b', pooling: 'tray' })).toEqual({ trayNo: 2 });
    expect(() => checkDraw([fish('a', 'tray', 1)], { catcherKey: 'b', pooling: 'tray', trayNo: 1 })).toThrow(/tray of its own/);
    expect(() => checkDraw([fish('a', 'tray', 1)], { catcherKey: 'b', pooling: 'pooled', trayNo: 1 })).toThrow(/tray of its own/);
    expect(() => checkDraw([fish('a', 'pooled', 1)], { catcherKey: 'b', pooling: 'tray', trayNo: 1 })).toThrow(/tray of its own/);
  });

  it('lets pooled fish lie with other pooled fish, and prefers such a tray', () => {
    expect(checkDraw([fish('a', 'pooled', 1)], { catcherKey: 'b', pooling: 'pooled' })).toEqual({ trayNo: 1 });
    expect(checkDraw([fish('b', 'tray', 1), fish('a', 'pooled', 3)], { catcherKey: 'b', pooling: 'pooled' })).toEqual({ trayNo: 3 });
    expect(checkDraw([fish('a', 'tray', 1)], { catcherKey: 'b', pooling: 'pooled' })).toEqual({ trayNo: 2 });
  });

  it.each([0, -1, 1.5, Number.NaN, 1000])('refuses tray %d', (trayNo) => {
    expect(() => checkDraw([], { catcherKey: 'a', pooling: 'pooled', trayNo })).toThrow(/1 to 999/);
  });

  it('never mixes fish of two catchers without both having pooled it, whatever the order (property)', () => {
    const draws = fc.array(fc.record({ catcherKey: fc.constantFrom('a', 'b', 'c'), pooling: fc.constantFrom<Pooling>('apart', 'tray', 'pooled'), trayNo: fc.option(fc.integer({ min: 1, max: 3 }), { nil: undefined }) }), { maxLength: 12 });
    fc.assert(fc.property(draws, (list) => {
      const batch: PlacedFish[] = [];
      for (const next of list) {
        try {
          batch.push({ ...next, ...checkDraw(batch, next) });
        } catch {
          continue;
        }
      }
      for (const one of batch) {
        for (const other of batch.filter((fishThere) => fishThere.catcherKey !== one.catcherKey)) {
          expect(one.pooling).not.toBe('apart');
          if (one.trayNo === other.trayNo) expect([one.pooling, other.pooling]).toEqual(['pooled', 'pooled']);
        }
      }
    }));
  });
});

describe('catcherKey', () => {
  it('tells members, guests and the boat apart, and a guest by name whatever the case and spacing', () => {
    expect(catcherKey({ memberId: '7' })).toBe('member:7');
    expect(catcherKey({ boatId: '7' })).toBe('boat:7');
    expect(catcherKey({ guestName: ' Ola   Nordfjell ' })).toBe(catcherKey({ guestName: 'ola nordfjell' }));
  });
});
