import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cureAmounts } from '../../server/domain/cure/amounts.ts';
import type { CureAmountsInput } from '../../server/domain/cure/amounts.ts';
import { knownPieces } from '../../server/domain/cure/pieces.ts';
import type { CurePiece } from '../../server/domain/cure/pieces.ts';
import { planCure } from '../../server/domain/cure/planner.ts';
import type { CurePlanInput } from '../../server/domain/cure/planner.ts';
import { groupPieces } from '../../server/domain/cure/thickness-groups.ts';
import { saltAfterDrying } from '../../server/domain/salt/drying.ts';
import { putTooSaltyRight } from '../../server/domain/cure/too-salty.ts';
import { refused } from '../support/refused.ts';

const loin: CurePiece = { id: 'loin', grams: 4000, thicknessMm: 25, skin: true, form: 'fillet', species: 'atlantic-mackerel' };
const tail: CurePiece = { id: 'tail', grams: 1000, thicknessMm: 10, skin: true, form: 'fillet', species: 'atlantic-mackerel', part: 'tail' };

describe('knownPieces', () => {
  it('reads water from raw flesh made to sum to 100 (USDA SR27, king mackerel 75.85 of 99.41)', () => {
    expect(knownPieces([{ ...loin, species: 'king-mackerel' }])[0]).toMatchObject({ waterPercent: 76.3, openFaces: 1, fat: 'medium', certainty: 'published' });
    expect(knownPieces([{ id: 'a', grams: 1000, thicknessMm: 20, skin: false, form: 'fillet', fat: 'lean' }])[0]).toMatchObject({ waterPercent: 78, openFaces: 2, certainty: 'from memory' });
    expect(knownPieces([{ ...loin, waterPercent: 65 }])[0]!.waterGrams).toBe(2600);
  });

  it.each([
    [{ grams: -1 }, 'pieces.0.grams'], [{ grams: 0 }, 'pieces.0.grams'], [{ thicknessMm: 0 }, 'pieces.0.thicknessMm'], [{ thicknessMm: 500 }, 'pieces.0.thicknessMm'], [{ form: 'whole' as const }, 'pieces.0.form'],
    [{ species: 'kraken' }, 'pieces.0.species'], [{ species: undefined }, 'pieces.0.fat'], [{ fat: 'greasy' as never }, 'pieces.0.fat'], [{ waterPercent: 120 }, 'pieces.0.waterPercent'], [{ part: 'fin' as never }, 'pieces.0.part'],
  ])('refuses %j', (change, field) => {
    expect(refused(() => knownPieces([{ ...loin, ...change } as CurePiece])).field).toBe(field);
  });

  it('refuses none at all', () => {
    expect(refused(() => knownPieces([])).field).toBe('pieces');
  });
});

const amounts = (change: Partial<CureAmountsInput>) => cureAmounts({ method: 'dry', fishGrams: 10_000, fishWaterGrams: 7000, targetPercent: 3.5, saltKind: 'table-salt', ...change });

describe('cureAmounts', () => {
  it('dry: 7 kg of water to 3.5 % takes 254 g (models.md, w m/(100 - w)), by weight and in cups of the kind', () => {
    const table = amounts({});
    expect(table).toMatchObject({ measured: false, saltGrams: 254, waterGrams: 0, strength: null });
    expect(table.equilibriumPercent).toBeCloseTo(3.5, 1);
    expect(table.ingredients[0]!.text).toBe('3/4 cup + 2 tbsp');
    // The same weight of flakes is about twice the cups (cup-weights.csv, from memory).
    expect(amounts({ saltKind: 'kosher-salt-flake' }).ingredients[0]!.cups).toBeGreaterThan(2 * table.ingredients[0]!.cups);
  });

  it('brine: 10 kg of water to 15 % takes 1,765 g, 57 degrees (rule brine.strong, WSU extension)', () => {
    const brine = amounts({ method: 'brine', brinePercent: 15, waterGrams: 10_000 });
    expect(brine.saltGrams).toBe(1765);
    expect(Math.round(brine.strength!.degreesSaturated)).toBe(57);
    expect(brine.equilibriumPercent).toBeCloseTo((100 * 1765) / (1765 + 17_000), 2);
    expect(brine.surfacePercent).toBeCloseTo(15, 1);
    expect(brine.brinePerFishWater).toBeCloseTo(11_765 / 7000, 3);
  });

  it('equilibrium brine ends at the target (models.md, equilibrium)', () => {
    fc.assert(fc.property(fc.double({ min: 1, max: 10, noNaN: true }), fc.integer({ min: 8000, max: 40_000 }), (targetPercent, waterGrams) => {
      expect(amounts({ method: 'equilibrium-brine', targetPercent, waterGrams }).equilibriumPercent).toBeCloseTo(targetPercent, 1);
    }));
  });

  it('sugar goes by the salt and its kind', () => {
    expect(amounts({ sugarKind: 'brown-sugar-packed', sugarPer100Salt: 75 })).toMatchObject({ sugarGrams: 191, cureGrams: 445 });
    expect(refused(() => amounts({ sugarPer100Salt: 75 })).field).toBe('sugarKind');
    expect(refused(() => amounts({ sugarPer100Salt: 75, sugarKind: 'table-salt' })).field).toBe('sugarKind');
  });

  it('a dry cure with salt to spare keeps the surface saturated', () => {
    expect(amounts({ saltPercentOfFish: 40 })).toMatchObject({ brinePerFishWater: null, surfacePercent: 26.395 });
    expect(amounts({}).brinePerFishWater).toBeGreaterThan(0.1);
  });

  it('more salt is never less salty', () => {
    fc.assert(fc.property(fc.double({ min: 0.5, max: 100, noNaN: true }), fc.double({ min: 0.5, max: 100, noNaN: true }), (a, b) => {
      const [less, more] = [Math.min(a, b), Math.max(a, b)].map((saltPercentOfFish) => amounts({ saltPercentOfFish }));
      expect(more!.saltGrams).toBeGreaterThanOrEqual(less!.saltGrams);
      expect(more!.equilibriumPercent).toBeGreaterThanOrEqual(less!.equilibriumPercent);
    }));
  });

  it.each([
    [{ fishGrams: -5 }, 'fishGrams'], [{ fishWaterGrams: 0 }, 'fishWaterGrams'], [{ targetPercent: 30 }, 'targetPercent'], [{ method: 'brine', brinePercent: 30 }, 'brinePercent'], [{ method: 'brine' }, 'brinePercent'],
    [{ saltKind: 'granulated-sugar' }, 'saltKind'], [{ saltKind: undefined }, 'saltKind'], [{ saltKind: '__proto__' }, 'saltKind'], [{ method: 'equilibrium-brine', targetPercent: 14, waterGrams: 1000 }, 'waterGrams'],
    [{ method: 'magic' }, 'method'], [{ method: 'brine', brinePercent: 10, waterGrams: -1 }, 'waterGrams'],
  ])('refuses %j', (change, field) => {
    const error = refused(() => amounts(change as Partial<CureAmountsInput>));
    expect(error.field).toBe(field);
    expect(error.remedy).not.toBe('');
  });
});

describe('groupPieces', () => {
  const group = (pieces: CurePiece[], change = {}) => groupPieces({ pieces, targetPercent: 3.5, surfacePercent: 15, brinePerFishWater: 2, temperatureC: 3, ...change }).groups;

  it('puts tails and bellies apart, the thickest first, each with its clock (common practice)', () => {
    const groups = group([tail, loin, { ...loin, id: 'thin', thicknessMm: 15 }, { ...tail, id: 'belly', part: 'belly', thicknessMm: 12 }, { ...loin, id: 'nearly', thicknessMm: 23 }]);
    expect(groups.map((one) => one.ids)).toEqual([['loin', 'nearly'], ['thin'], ['belly'], ['tail']]);
    expect(groups[0]).toMatchObject({ name: 'Pieces of 23 to 25 mm, skin on', grams: 8000, thinnestMm: 23, thickestMm: 25 });
    expect(groups[0]!.first.time.minutes!).toBeLessThan(groups[0]!.last.time.minutes!);
    expect(groups[0]!.takeOutMinutes).toBe(groups[0]!.last.time.minutes);
    expect(groups[0]!.firstThenPercent!).toBeGreaterThan(3.5);
    expect(groups[0]!.firstThenLowPercent!).toBeLessThan(groups[0]!.firstThenHighPercent!);
  });

  it('counts a skinned piece by both faces and a lean one as faster', () => {
    expect(group([loin, { ...loin, id: 'skinned', skin: false }])).toHaveLength(2);
    expect(group([{ ...loin, fat: 'lean' }])[0]!.takeOutMinutes!).toBeLessThan(group([loin])[0]!.takeOutMinutes!);
  });

  it('thicker is never faster', () => {
    fc.assert(fc.property(fc.double({ min: 2, max: 80, noNaN: true }), fc.double({ min: 0, max: 40, noNaN: true }), (thicknessMm, more) => {
      const time = (mm: number) => group([{ ...loin, thicknessMm: mm }])[0]!.takeOutMinutes ?? Infinity;
      expect(time(thicknessMm + more)).toBeGreaterThanOrEqual(time(thicknessMm));
    }), { numRuns: 40 });
  });

  it('every piece is in one group, whatever comes', () => {
    const piece = fc.record({ thicknessMm: fc.double({ min: 1, max: 150, noNaN: true }), skin: fc.boolean(), fat: fc.constantFrom('lean' as const, 'fatty' as const), part: fc.constantFrom('loin' as const, 'belly' as const, 'tail' as const) });
    fc.assert(fc.property(fc.array(piece, { minLength: 1, maxLength: 20 }), (list) => {
      const pieces = list.map((one, index): CurePiece => ({ ...one, id: String(index), grams: 500, form: 'fillet' }));
      expect(group(pieces).flatMap((one) => one.ids).sort()).toEqual(pieces.map((one) => one.id).sort());
    }), { numRuns: 30 });
  });

  it('runs to 95 % of a target that the cure ends at', () => {
    const ends = groupPieces({ pieces: [{ ...loin, thicknessMm: 15 }], targetPercent: 5, surfacePercent: 10, brinePerFishWater: 1, temperatureC: 3 });
    expect(ends.clockPercent).toBe(4.75);
    expect(ends.groups[0]!.takeOutMinutes).not.toBeNull();
    expect(group([loin], { surfacePercent: 3 })[0]).toMatchObject({ takeOutMinutes: null, firstThenPercent: null });
  });

  it('refuses warm places', () => {
    expect(refused(() => group([loin], { temperatureC: 40 })).field).toBe('temperatureC');
  });
});

describe('planCure', () => {
  const plan = (change: Partial<CurePlanInput> = {}) => planCure({ pieces: [loin, tail], method: 'brine', targetPercent: 3.5, saltKind: 'table-salt', brinePercent: 15, placeTemperatureC: 3, ...change });

  it('puts it together for a brine', () => {
    const answer = plan({ vessel: { litres: 10 }, stock: [{ ingredient: 'table-salt', grams: 100 }], packages: [{ ingredient: 'table-salt', packageGrams: 500 }], brineTemperatureC: 10, brineUsedBefore: false });
    expect(answer).toMatchObject({ measured: false, fishGrams: 5000, warnings: [], layers: null, vessel: { fits: false, vessels: 2 } });
    expect(answer.amounts.saltGrams).toBe(882);
    expect(answer.shopping).toMatchObject({ enough: false, short: ['table-salt'], lines: [{ shortGrams: 782, buy: [{ packageGrams: 500, packages: 2 }], leftOverGrams: 218 }] });
    expect(answer.groups.map((group) => group.ids)).toEqual([['loin'], ['tail']]);
    expect(answer.longestMinutes).toBe(answer.groups[0]!.takeOutMinutes);
    expect(answer.note).toContain('never stands in');
  });

  it('puts it together for a dry cure in layers', () => {
    const answer = plan({ method: 'dry', layers: 3, sugarKind: 'brown-sugar-packed', sugarPer100Salt: 50 });
    expect(answer.layers!.reduce((sum, layer) => sum + layer.cureGrams, 0)).toBe(answer.amounts.cureGrams);
    expect(answer.layers).toHaveLength(4);
    expect(answer.longestMinutes).toBeGreaterThan(0);
    expect(answer.weightAfter).toMatchObject({ lowGrams: 4500, highGrams: 4850 });
    expect(answer.warnings).toEqual([]);
  });

  it('aims lower in the cure when the finished fish is to have the salt', () => {
    const [cured, finished] = [plan({ method: 'dry' }), plan({ method: 'dry', finishedKeptPercent: 86.5 })];
    expect(cured.curedTargetPercent).toBe(3.5);
    expect(finished.curedTargetPercent).toBeLessThan(3);
    expect(finished.amounts.saltGrams).toBeLessThan(cured.amounts.saltGrams);
    expect(saltAfterDrying({ curedPercent: finished.curedTargetPercent, keptPercent: 86.5, curedWaterPercent: (100 * finished.fishWaterGrams) / finished.fishGrams }).waterPhaseSaltPercent).toBeCloseTo(3.5, 2);
  });

  it('warns when more than 4 h runs in a warm place, and when nothing was measured (rules brine.cold, brine.start, brine.reuse)', () => {
    const rules = (change: Partial<CurePlanInput>) => plan(change).warnings.map((warning) => `${warning.ruleId} ${warning.level}`);
    expect(rules({ placeTemperatureC: 8 })).toEqual(['brine.cold must', 'brine.start check', 'brine.reuse check']);
    expect(rules({ placeTemperatureC: 8, plannedMinutes: 120, brineTemperatureC: 10, brineUsedBefore: false })).toEqual([]);
    expect(rules({ pieces: [loin, { ...tail, species: 'bluefish' }], brineTemperatureC: 10, brineUsedBefore: false })).toEqual(['brine.no-mix must']);
  });

  it('asks for the cold when the long end of the band runs past 4 h, though the likely time does not (rule brine.cold NY262.5)', () => {
    const warm = plan({ method: 'dry', saltPercentOfFish: 20, placeTemperatureC: 12, pieces: [{ ...tail, thicknessMm: 14 }] });
    expect(warm.longestMinutes).toBeLessThan(240);
    expect(warm.latestMinutes).toBeGreaterThan(240);
    expect(warm.warnings.map(({ ruleId, level, text }) => [ruleId, level, text.slice(0, 31)])).toEqual([['brine.cold', 'must', 'It may take more than 4 hours. ']]);
    // Somebody who says how long it stays is asked by that.
    expect(plan({ method: 'dry', saltPercentOfFish: 20, placeTemperatureC: 12, pieces: [{ ...tail, thicknessMm: 14 }], plannedMinutes: 200 }).warnings).toEqual([]);
    expect(plan({ method: 'dry', placeTemperatureC: 3, pieces: [{ ...loin, thicknessMm: 150 }] }).latestMinutes ?? 0).toBeLessThanOrEqual(20_160);
  });

  it('is plain data that survives being sent', () => {
    const answer = plan({ vessel: { litres: 20 } });
    expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
  });

  it('answers 500 pieces at once', () => {
    const pieces = Array.from({ length: 500 }, (_, index) => ({ ...loin, grams: 900, id: String(index), thicknessMm: 5 + (index % 60) }));
    expect(plan({ pieces }).groups.length).toBeGreaterThan(3);
  });
});

describe('putTooSaltyRight', () => {
  const right = (change = {}) => putTooSaltyRight({ thicknessMm: 20, openFaces: 1, brinePercent: 20, fat: 'fatty', temperatureC: 3, onceFrozen: false, minutes: 1200, targetPercent: 4, waterTemperatureC: 3, ...change });

  it('finds the minutes in water that bring it to the target (slab in fresh water, Crank 1975)', () => {
    const answer = right();
    expect(answer.isTooSalty).toBe(true);
    expect(answer.afterPercent!).toBeLessThanOrEqual(4);
    expect(answer.afterPercent!).toBeGreaterThan(3.9);
    expect(answer.course.at(-1)!.meanPercent).toBeLessThan(answer.course[0]!.meanPercent);
    expect(answer.steps.join(' ')).toMatch(/test piece.*fresh water.*dry again/s);
    expect(answer.measured).toBe(false);
  });

  it('takes longer the saltier it was found, and nothing when it is not', () => {
    expect(right({ nowPercent: 9 }).waterMinutes!).toBeGreaterThan(right({ nowPercent: 6 }).waterMinutes!);
    expect(right({ nowPercent: 3 })).toMatchObject({ isTooSalty: false, waterMinutes: 0, course: [] });
    expect(right({ nowPercent: 26, targetPercent: 0.2, thicknessMm: 80 })).toMatchObject({ waterMinutes: null, afterPercent: null });
  });

  it.each([[{ thicknessMm: 0 }, 'thicknessMm'], [{ thicknessMm: 500 }, 'thicknessMm'], [{ brinePercent: 30 }, 'brinePercent'], [{ waterTemperatureC: 20 }, 'waterTemperatureC'], [{ nowPercent: -1 }, 'nowPercent']])('refuses %j', (change, field) => {
    expect(refused(() => right(change)).field).toBe(field);
  });
});
