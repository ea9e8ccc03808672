import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { scaleFormula } from '../../server/domain/cure/formula.ts';
import type { CureFormula } from '../../server/domain/cure/formula.ts';
import { CUP_WEIGHTS, CURE_INGREDIENTS } from '../../server/domain/cure/kitchen-weights.ts';
import { evenLayers, layerPortions } from '../../server/domain/cure/layers.ts';
import { shoppingList } from '../../server/domain/cure/shopping.ts';
import { STOCK_KINDS, STOCK_NAMES, stockKindNamed, stockKindOf } from '../../server/domain/cure/stock.ts';
import { vesselFit } from '../../server/domain/cure/vessel.ts';
import { cureWarnings } from '../../server/domain/cure/warnings.ts';
import type { CureCircumstances } from '../../server/domain/cure/warnings.ts';
import { refused } from '../support/refused.ts';

describe('vesselFit (raw fish 1.05 kg to the litre, computed from composition)', () => {
  it('10.5 kg of fish and 10 litres of brine need 20 litres, with a tenth of headspace left free', () => {
    expect(vesselFit({ fishGrams: 10_500, cureLitres: 10, vesselLitres: 25 })).toMatchObject({ fits: true, needLitres: 20, usableLitres: 22.5, vessels: 1 });
    expect(vesselFit({ fishGrams: 10_500, cureLitres: 10, vesselLitres: 20 })).toMatchObject({ fits: false, vessels: 2, perVessel: [{ fishGrams: 5250, cureLitres: 5 }, { fishGrams: 5250, cureLitres: 5 }] });
    expect(vesselFit({ fishGrams: 10_500, cureLitres: 10, vesselLitres: 20, headspacePercent: 0 }).fits).toBe(true);
  });

  it('what is parted is all there, and each vessel holds its part', () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: 200_000 }), fc.double({ min: 0, max: 200, noNaN: true }), fc.double({ min: 1, max: 100, noNaN: true }), (fishGrams, cureLitres, vesselLitres) => {
      const fit = vesselFit({ fishGrams, cureLitres, vesselLitres });
      expect(fit.perVessel.reduce((sum, vessel) => sum + vessel.fishGrams, 0)).toBe(fishGrams);
      expect(fit.needLitres).toBeLessThanOrEqual(fit.vessels * fit.usableLitres + 0.01 * fit.vessels);
    }));
  });

  it.each([[-1, 1, 10, 'fishGrams'], [1000, -1, 10, 'cureLitres'], [1000, 1, 0, 'vesselLitres']])('refuses %d g, %d l in %d l', (fishGrams, cureLitres, vesselLitres, field) => {
    expect(refused(() => vesselFit({ fishGrams, cureLitres, vesselLitres })).field).toBe(field);
  });
});

describe('layerPortions (rule cure.parts, common practice)', () => {
  it('a bed, the layers by their fish, more on top, to the gram', () => {
    const { layers } = layerPortions({ cureGrams: 1000, layersFishGrams: [2000, 1000, 1000] });
    expect(layers.map((layer) => layer.cureGrams)).toEqual([125, 375, 187, 313]);
    expect(layers.map((layer) => layer.leftGrams)).toEqual([875, 500, 313, 0]);
  });

  it('never runs short: every layer has its part and the last takes what is left', () => {
    fc.assert(fc.property(fc.integer({ min: 200, max: 50_000 }), fc.array(fc.integer({ min: 100, max: 5000 }), { minLength: 1, maxLength: 20 }), (cureGrams, layersFishGrams) => {
      const { layers } = layerPortions({ cureGrams, layersFishGrams });
      expect(layers.reduce((sum, layer) => sum + layer.cureGrams, 0)).toBe(cureGrams);
      expect(layers.at(-1)!.leftGrams).toBe(0);
      expect(layers.every((layer) => layer.leftGrams >= 0)).toBe(true);
      const fish = layersFishGrams.reduce((a, b) => a + b, 0);
      for (const layer of layers.slice(1)) expect(layer.cureGrams).toBeGreaterThanOrEqual(Math.floor((cureGrams * layer.fishGrams) / (fish * 2)));
    }));
  });

  it('parts fish evenly, and refuses what is no layer', () => {
    expect(evenLayers(1000, 3)).toEqual([334, 333, 333]);
    expect(refused(() => evenLayers(1000, 0)).field).toBe('layers');
    expect(refused(() => layerPortions({ cureGrams: -1, layersFishGrams: [1000] })).field).toBe('cureGrams');
    expect(refused(() => layerPortions({ cureGrams: 10, layersFishGrams: [] })).field).toBe('layersFishGrams');
    expect(refused(() => layerPortions({ cureGrams: 10, layersFishGrams: [100, -5] })).field).toBe('layersFishGrams.1');
  });
});

describe('shoppingList', () => {
  it('names what is short and buys what leaves the least over', () => {
    const list = shoppingList({
      needs: [{ ingredient: 'Table salt', grams: 1765 }, { ingredient: 'brown sugar', grams: 300 }, { ingredient: 'bay', grams: 4 }],
      stock: [{ ingredient: 'table SALT ', grams: 400 }, { ingredient: 'brown sugar', grams: 500 }],
      packages: [{ ingredient: 'table salt', packageGrams: 1000 }, { ingredient: 'table salt', packageGrams: 750 }],
    });
    expect(list).toMatchObject({ enough: false, short: ['Table salt', 'bay'], words: 'Short of Table salt (1365 g), bay (4 g).' });
    expect(list.lines[0]).toMatchObject({ shortGrams: 1365, buy: [{ packageGrams: 750, packages: 2 }], leftOverGrams: 135 });
    expect(list.lines[1]).toMatchObject({ shortGrams: 0, buy: [], leftOverGrams: 200 });
    expect(list.lines[2]).toMatchObject({ buy: [], leftOverGrams: -4 });
  });

  it('brown sugar is one, loose or packed, whatever it is called', () => {
    const list = shoppingList({
      needs: [{ ingredient: 'brown-sugar-packed', grams: 300 }, { ingredient: 'Brown sugar, loose', grams: 250 }],
      stock: [{ ingredient: 'brown-sugar-unpacked', grams: 200 }, { ingredient: 'brown-sugar', grams: 100 }, { ingredient: 'BROWN SUGAR ', grams: 50 }], packages: [{ ingredient: 'brown sugar', packageGrams: 500 }],
    });
    expect(list.lines).toEqual([expect.objectContaining({ needGrams: 550, haveGrams: 350, shortGrams: 200, buy: [{ packageGrams: 500, packages: 1 }], leftOverGrams: 300 })]);
    expect(shoppingList({ needs: [{ ingredient: 'granulated-sugar', grams: 1 }], stock: [{ ingredient: 'brown-sugar', grams: 9 }], packages: [] }).enough).toBe(false);
  });

  it('every kind of salt and sugar is on the shelf once, under a name of its own', () => {
    expect(CURE_INGREDIENTS.map(stockKindOf).filter((kind) => !STOCK_KINDS.includes(kind))).toEqual([]);
    expect([STOCK_KINDS.length, new Set(STOCK_KINDS.map((kind) => STOCK_NAMES[kind])).size]).toEqual([CURE_INGREDIENTS.length - 1, CURE_INGREDIENTS.length - 1]);
    for (const kind of CURE_INGREDIENTS) expect([kind, stockKindNamed(kind), stockKindNamed(CUP_WEIGHTS[kind].name.toUpperCase())]).toEqual([kind, stockKindOf(kind), stockKindOf(kind)]);
    expect(stockKindNamed('bay leaf')).toBeNull();
  });

  it('what is bought always covers what is short, and one package less would not', () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: 60_000 }), fc.uniqueArray(fc.integer({ min: 1, max: 5000 }), { minLength: 1, maxLength: 4 }), (grams, sizes) => {
      const [line] = shoppingList({ needs: [{ ingredient: 'salt', grams }], stock: [], packages: sizes.map((packageGrams) => ({ ingredient: 'salt', packageGrams })) }).lines;
      expect(line!.leftOverGrams).toBeGreaterThanOrEqual(0);
      const smallest = Math.min(...line!.buy.map((row) => row.packageGrams));
      expect(line!.leftOverGrams).toBeLessThan(smallest);
    }), { numRuns: 60 });
  });

  it('says so when everything is there, and refuses weights below zero', () => {
    expect(shoppingList({ needs: [{ ingredient: 'salt', grams: 5 }], stock: [{ ingredient: 'salt', grams: 5 }], packages: [] }).words).toBe('Everything is there.');
    expect(refused(() => shoppingList({ needs: [{ ingredient: 'salt', grams: -5 }], stock: [], packages: [] })).field).toBe('needs.0.grams');
    expect(refused(() => shoppingList({ needs: [], stock: [{ ingredient: ' ', grams: 5 }], packages: [] })).field).toBe('stock.0.ingredient');
    expect(refused(() => shoppingList({ needs: [], stock: [], packages: [{ ingredient: 'salt', packageGrams: 0 }] })).field).toBe('packages.0.packageGrams');
  });
});

describe('cureWarnings', () => {
  const rules = (change: Partial<CureCircumstances>) => cureWarnings({
    plannedMinutes: 60, placeTemperatureC: 3, brineTemperatureC: 10, isBrine: true, brineUsedBefore: false, species: ['bluefish', 'bluefish'], ...change,
  }).map((warning) => `${warning.ruleId} ${warning.level}`);

  it('brine.cold: more than 4 h only at 3.3 C (NY262.5, MI569.5)', () => {
    expect(rules({ plannedMinutes: 240, placeTemperatureC: 20 })).toEqual([]);
    expect(rules({ plannedMinutes: 241, placeTemperatureC: 3.4 })).toEqual(['brine.cold must']);
    expect(rules({ plannedMinutes: 1200, placeTemperatureC: 3.3 })).toEqual([]);
    expect(rules({ plannedMinutes: 152, latestMinutes: 304, placeTemperatureC: 12 })).toEqual(['brine.cold must']);
    expect(rules({ plannedMinutes: 152, latestMinutes: 304, placeTemperatureC: 3.3 })).toEqual([]);
    expect(rules({ plannedMinutes: 120, latestMinutes: 240, placeTemperatureC: 12 })).toEqual([]);
    expect(rules({ plannedMinutes: null, placeTemperatureC: 10 })).toEqual(['brine.cold check']);
    expect(rules({ plannedMinutes: 600, placeTemperatureC: null, isBrine: false })).toEqual(['brine.cold check']);
  });

  it('brine.start: at 15.6 C or colder (NY262.5, MI569.5)', () => {
    expect(rules({ brineTemperatureC: 15.6 })).toEqual([]);
    expect(rules({ brineTemperatureC: 15.7 })).toEqual(['brine.start must']);
    expect(rules({ brineTemperatureC: null })).toEqual(['brine.start check']);
  });

  it('goes by a club’s own limits where they are stricter (brine.cold, brine.start)', () => {
    const club = { coldAfterMinutes: 120, coldC: 2, startC: 10 };
    expect(rules({ plannedMinutes: 121, placeTemperatureC: 2.1, club })).toEqual(['brine.cold must']);
    expect(rules({ plannedMinutes: 121, placeTemperatureC: 2, club })).toEqual([]);
    expect(rules({ plannedMinutes: 120, placeTemperatureC: 20, club })).toEqual([]);
    expect(rules({ plannedMinutes: 60, latestMinutes: 130, placeTemperatureC: 3, club })).toEqual(['brine.cold must']);
    expect(rules({ brineTemperatureC: 10.1, club })).toEqual(['brine.start must']);
    expect(rules({ plannedMinutes: 241, placeTemperatureC: 3.4, brineTemperatureC: 15.7, club: { coldAfterMinutes: 600, coldC: 9, startC: 20 } }), 'never looser').toEqual(['brine.cold must', 'brine.start must']);
    const words = (coldAfterMinutes: number) => cureWarnings({ plannedMinutes: 300, placeTemperatureC: 5, brineTemperatureC: null, isBrine: false, brineUsedBefore: false, species: [], club: { coldAfterMinutes } })[0]!.text;
    expect([240, 60, 90, 30, 0].map(words)).toEqual(['More than 4 hours in', 'More than 1 hour in', 'More than 1.5 hours in', 'More than 30 minutes in', 'In'].map((start) => `${start} brine or dry cure only at 3.3 C (38 F) or colder; it is 5 C there.`));
  });

  it('brine.reuse and brine.no-mix (AK34.310, NY262.5); a dry cure has neither', () => {
    expect(rules({ brineUsedBefore: true, species: ['bluefish', 'salmon'] })).toEqual(['brine.reuse must', 'brine.no-mix must']);
    expect(rules({ isBrine: false, brineUsedBefore: true, brineTemperatureC: null, species: ['bluefish', 'salmon'] })).toEqual([]);
  });

  it('refuses Fahrenheit typed as Celsius', () => {
    expect(refused(() => rules({ brineTemperatureC: 68 })).field).toBe('brineTemperatureC');
  });
});

describe('scaleFormula', () => {
  const formula: CureFormula = {
    name: 'House brine', method: 'brine', fishGrams: 5000,
    items: [{ name: 'Salt', ingredient: 'table-salt', grams: 880 }, { name: 'Sugar', ingredient: 'brown-sugar-packed', grams: 220 }, { name: 'Water', ingredient: 'water', grams: 5000 }, { name: 'Bay', ingredient: null, grams: 3 }],
  };

  it('scales every item and keeps its strength (proportion)', () => {
    const scaled = scaleFormula({ formula, fishGrams: 12_500 });
    expect(scaled.items.map((item) => item.grams)).toEqual([2200, 550, 12_500, 7.5]);
    expect(scaled.items[1]!.kitchen!.text).toBe('2 1/2 cups');
    expect(scaled.strength!.percentByWeight).toBeCloseTo(14.97, 2);
    expect(scaled.saltPercentOfFish).toBe(17.6);
  });

  it('scaled there and back is itself', () => {
    fc.assert(fc.property(fc.integer({ min: 2000, max: 100_000 }), (fishGrams) => {
      const there = scaleFormula({ formula, fishGrams });
      const back = scaleFormula({ formula: { ...formula, fishGrams, items: there.items.map(({ name, ingredient, grams }) => ({ name, ingredient, grams })) }, fishGrams: 5000 });
      back.items.forEach((item, index) => expect(Math.abs(item.grams - formula.items[index]!.grams)).toBeLessThanOrEqual(3));
    }), { numRuns: 50 });
  });

  it.each(['Sodium nitrite', 'E250', 'Curing salt', 'saltpetre', 'Pink salt'])('reckons no dose of %s (rule nitrite)', (name) => {
    expect(refused(() => scaleFormula({ formula: { ...formula, items: [...formula.items, { name, ingredient: null, grams: 10 }] }, fishGrams: 5000 })).code).toBe('formula.nitrite');
  });

  it('refuses a formula without salt, with too much of it, or no fish', () => {
    const items = (grams: number) => [{ name: 'Salt', ingredient: 'table-salt' as const, grams }, { name: 'Water', ingredient: 'water' as const, grams: 1000 }];
    expect(refused(() => scaleFormula({ formula: { ...formula, items: items(0) }, fishGrams: 5000 })).code).toBe('formula.no-salt');
    expect(refused(() => scaleFormula({ formula: { ...formula, items: items(400) }, fishGrams: 5000 })).code).toBe('formula.too-strong');
    expect(refused(() => scaleFormula({ formula, fishGrams: -5 })).field).toBe('fishGrams');
    expect(refused(() => scaleFormula({ formula: { ...formula, name: ' ' }, fishGrams: 5000 })).code).toBe('formula.name');
  });
});
