import { describe, expect, it } from 'vitest';
import { findSpecies, searchSpecies, SPECIES } from '../../server/domain/species/index.ts';
import { HAZARDS, LENGTH_WEIGHT, MERCURY } from '../../server/domain/species/hazards.ts';
import { CONVERSION, EDIBLE_YIELD, PROXIMATE } from '../../server/domain/species/published.ts';
import { table } from '../support/table.ts';

describe('the published tables, row by row', () => {
  it('raw flesh (proximate.csv, USDA SR27)', () => {
    const rows = table('proximate').map(([name, water, protein, fat, ash, source]) => [name, { waterG: Number(water), proteinG: Number(protein), fatG: Number(fat), ashG: Number(ash), source }]);
    expect(PROXIMATE).toEqual(Object.fromEntries(rows));
  });

  it('edible flesh (edible-yield.csv, FAO FTP 309)', () => {
    const rows = table('edible-yield').map(([name, percent, source]) => [name, { percentOfWhole: Number(percent), source }]);
    expect(EDIBLE_YIELD).toEqual(Object.fromEntries(rows));
  });

  it('conversion factors (conversion-factors.csv, EU 404/2011 and FAO CWP)', () => {
    const number = (text: string | undefined) => (text ? Number(text) : null);
    const rows = table('conversion-factors').map(([name, gutted, headed, skinOn, skinless, source]) => [name, {
      gutted: number(gutted), guttedHeaded: number(headed), filletSkinOn: number(skinOn), filletSkinless: number(skinless), source,
    }]);
    expect(CONVERSION).toEqual(Object.fromEntries(rows));
  });

  it('mercury (mercury.csv, FDA monitoring 1990-2012)', () => {
    const rows = table('mercury').map(([name, ppm, advice, source]) => [name, { meanPpm: Number(ppm), advice, source }]);
    expect(MERCURY).toEqual(Object.fromEntries(rows));
  });

  it('hazards (hazards.csv, FDA hazards guidance chapters 3 and 7)', () => {
    const rows = table('hazards').map(([name, , scombrotoxin, ciguatera, note]) => [name, { scombrotoxin: scombrotoxin === 'yes', ciguatera: ciguatera === 'yes', note }]);
    expect(HAZARDS).toEqual(Object.fromEntries(rows));
  });

  it('length and weight (length-weight.csv, NOAA NEFSC and standard-weight equations)', () => {
    const forms: Record<string, string> = { 'exp(a)*L^b': 'exp', 'a*L^b': 'power', '10^(a+b log10 L)': 'log10' };
    const rows = table('length-weight').map(([name, form, a, b, length, weightUnit, source]) => {
      const [lengthKind, lengthUnit] = length!.split(' ');
      return [name, { form: forms[form!], a: Number(a), b: Number(b), lengthKind, lengthUnit, weightUnit, source }];
    });
    expect(LENGTH_WEIGHT).toEqual(Object.fromEntries(rows));
  });
});

describe('the species list', () => {
  it('leaves no published row unused, except farmed fish and the lower of two mercury figures', () => {
    const unused = (rows: Record<string, object>, used: (row: object) => boolean) => Object.keys(rows).filter((name) => !used(rows[name]!));
    expect(unused(PROXIMATE, (row) => SPECIES.some((s) => s.proximate === row))).toEqual(['Atlantic salmon farmed', 'rainbow trout farmed']);
    expect(unused(EDIBLE_YIELD, (row) => SPECIES.some((s) => s.edibleYield === row))).toEqual([]);
    expect(unused(CONVERSION, (row) => SPECIES.some((s) => s.conversion === row))).toEqual([]);
    expect(unused(MERCURY, (row) => SPECIES.some((s) => s.mercury === row))).toEqual(['Spanish mackerel (S Atlantic)', 'tilefish (Atlantic)']);
    expect(unused(LENGTH_WEIGHT, (row) => SPECIES.some((s) => s.lengthWeight === row))).toEqual([]);
  });

  it('has a figure wherever a species points at a table', () => {
    for (const species of SPECIES) {
      for (const key of ['proximate', 'lengthWeight', 'edibleYield', 'conversion', 'mercury'] as const) {
        if (key in species) expect(species[key], `${species.code} ${key}`).toBeDefined();
      }
      expect(species.maxFishGrams).toBeGreaterThan(0);
      expect(Number.isInteger(species.maxFishGrams)).toBe(true);
    }
  });

  it('has codes and names that are used once', () => {
    expect(new Set(SPECIES.map((s) => s.code)).size).toBe(SPECIES.length);
    expect(new Set(SPECIES.map((s) => s.name)).size).toBe(SPECIES.length);
    for (const { code } of SPECIES) expect(code).toMatch(/^[a-z]+(-[a-z]+)*$/);
  });

  it('refuses pufferfish, escolar and oilfish for sharing, and no other (hazards.csv notes)', () => {
    expect(SPECIES.filter((s) => s.sharing === 'refuse').map((s) => s.code)).toEqual(['escolar', 'oilfish', 'pufferfish']);
    expect(findSpecies('pufferfish')!.sharingReason).toMatch(/Tetrodotoxin/);
  });

  it('marks scombrotoxin and ciguatera as hazards.csv does', () => {
    expect(findSpecies('atlantic-mackerel')).toMatchObject({ scombrotoxin: true, ciguatera: false });
    expect(findSpecies('king-mackerel')).toMatchObject({ scombrotoxin: true, ciguatera: true });
    expect(findSpecies('pollack')).toMatchObject({ scombrotoxin: false, ciguatera: false });
    expect(findSpecies('barracuda')).toMatchObject({ scombrotoxin: false, ciguatera: true });
    for (const species of SPECIES) expect(species.hazardSource).not.toBe('');
  });

  it('classes fat from raw flesh (classes from memory), and takes an unknown fish as fatty', () => {
    expect(findSpecies('atlantic-mackerel')!.fat).toBe('fatty');
    expect(findSpecies('bluefish')!.fat).toBe('medium');
    expect(findSpecies('haddock')!.fat).toBe('lean');
    expect(findSpecies('arctic-char')).toMatchObject({ fat: 'fatty', fatSource: expect.stringContaining('not known') });
  });

  it('takes the higher mercury figure where two waters differ (mercury.csv)', () => {
    expect(findSpecies('tilefish')!.mercury!.meanPpm).toBe(1.123);
    expect(findSpecies('spanish-mackerel')!.mercury!.meanPpm).toBe(0.454);
  });
});

describe('searchSpecies', () => {
  it('finds names by their start first, whatever the case and accents', () => {
    expect(searchSpecies('POLL').map((s) => s.code).slice(0, 1)).toEqual(['pollack']);
    expect(searchSpecies('pollock').map((s) => s.code)).toEqual(['pollack', 'alaska-pollock', 'saithe']);
    expect(searchSpecies('sea tróut')[0]!.code).toBe('sea-trout');
    expect(searchSpecies('mackerel').map((s) => s.code)).toContain('king-mackerel');
    expect(searchSpecies('Scomber scombrus')[0]!.code).toBe('atlantic-mackerel');
  });

  it('finds nothing for other text and everything for none', () => {
    expect(searchSpecies('kraken')).toEqual([]);
    expect(searchSpecies('x'.repeat(10_000))).toEqual([]);
    expect(searchSpecies(' ')).toHaveLength(SPECIES.length);
    expect(findSpecies('kraken')).toBeUndefined();
    expect(findSpecies('__proto__')).toBeUndefined();
  });
});
