import { describe, expect, it } from 'vitest';
import { estimateGrams, lengthKindOf } from '../../server/domain/length-weight.ts';
import { SPECIES } from '../../server/domain/species/index.ts';
import { DomainError } from '../../server/domain/working.ts';
import { compare, expectedYield } from '../../server/domain/yield.ts';
import type { YieldQuestion } from '../../server/domain/yield.ts';

const ask = (change: Partial<YieldQuestion>) => expectedYield({ species: 'atlantic-mackerel', form: 'whole', product: 'hot-smoked', stage: 'prepare', ...change });
const range = (change: Partial<YieldQuestion>) => {
  const answer = ask(change);
  if (!answer.known) throw new Error(answer.reason);
  return [answer.lowPct, answer.likelyPct, answer.highPct].map((pct) => Math.round(pct * 10) / 10);
};

describe('preparing', () => {
  it('mackerel to fillets: 1/2.60 skinless, 1/1.95 skin on (FAO CWP), at most 61 % flesh (FAO FTP 309)', () => {
    expect(range({})).toEqual([38.5, 51.3, 61]);
  });

  it('cod to fillets: 1/2.60 (EU 404/2011), 1/2.45 (FAO CWP), at most 47 % (FAO FTP 309)', () => {
    expect(range({ species: 'atlantic-cod' })).toEqual([38.5, 40.8, 47]);
  });

  it('gutted haddock counts from 1.17 (EU 404/2011)', () => {
    expect(range({ species: 'haddock', form: 'gutted' })).toEqual([40.2, 42.2, 56.2]);
  });

  it('whole saithe to gutted: 1/1.15 (FAO CWP), give or take 5 % (common practice)', () => {
    expect(range({ species: 'saithe', to: 'gutted' })).toEqual([82.6, 87, 91.3]);
  });

  it('says why when nothing is published, with the upper bound where there is one (FAO FTP 309)', () => {
    expect(ask({ species: 'pollack' })).toMatchObject({ known: false, highPct: null });
    expect(ask({ species: 'plaice' })).toMatchObject({ known: false, highPct: 49, reason: expect.stringContaining('upper bound') });
    expect(ask({ form: 'fillet' })).toMatchObject({ known: false });
    expect(ask({ form: 'fillet', to: 'gutted' })).toMatchObject({ known: false });
    expect(ask({ species: 'kraken' })).toMatchObject({ known: false });
  });

  it('keeps low, likely and high in order and below 100 for every species', () => {
    for (const { code } of SPECIES) {
      for (const form of ['whole', 'gutted', 'headed-gutted'] as const) {
        const answer = ask({ species: code, form });
        if (!answer.known) continue;
        expect(answer.lowPct).toBeLessThanOrEqual(answer.likelyPct);
        expect(answer.likelyPct).toBeLessThanOrEqual(answer.highPct);
        expect(answer.lowPct).toBeGreaterThan(0);
        expect(answer.highPct, code).toBeLessThanOrEqual(100);
      }
    }
  });
});

describe('curing and smoking (models.md, from memory)', () => {
  it.each([
    [{ kind: 'wet', brinePct: 6 }, [102, 105, 108]], [{ kind: 'wet', brinePct: 8 }, [102, 105, 108]], [{ kind: 'wet', brinePct: 10 }, [102, 105, 108]], [{ kind: 'wet', brinePct: 15 }, [100, 100, 100]], [{ kind: 'wet', brinePct: 20 }, [90, 93.5, 97]],
    [{ kind: 'wet', brinePct: 26 }, [90, 93.5, 97]], [{ kind: 'dry' }, [90, 93.5, 97]], [undefined, [90, 100, 108]],
  ] as const)('weight after %j', (cure, expected) => {
    expect(range({ stage: 'cure', cure })).toEqual(expected);
  });

  it('smoking takes 7 to 20 %', () => {
    expect(range({ stage: 'smoke' })).toEqual([80, 86.5, 93]);
    expect(ask({ stage: 'smoke' })).toMatchObject({ working: { certainty: 'from memory' } });
  });

  it.each([-1, 27, Number.NaN])('refuses brine of %d %%', (brinePct) => {
    expect(() => ask({ stage: 'cure', cure: { kind: 'wet', brinePct } })).toThrow(DomainError);
  });

  it('multiplies them overall (arithmetic on the figures above)', () => {
    expect(range({ stage: 'overall', cure: { kind: 'dry' } })).toEqual([27.7, 41.5, 55]);
    expect(range({ stage: 'overall', product: 'raw' })).toEqual([38.5, 51.3, 61]);
    expect(ask({ stage: 'overall', product: 'dip' })).toMatchObject({ known: false });
    expect(ask({ stage: 'overall', species: 'plaice' })).toMatchObject({ known: false, highPct: null });
    for (const stage of ['rinse', 'dry', 'cool', 'mix', 'pack'] as const) expect(ask({ stage })).toMatchObject({ known: false });
  });

  it('compares a yield with what was expected', () => {
    expect([79.9, 80, 93, 93.1].map((pct) => compare(pct, ask({ stage: 'smoke' })))).toEqual(['below', 'within', 'within', 'above']);
    expect(compare(null, ask({ stage: 'smoke' }))).toBeNull();
    expect(compare(50, ask({ species: 'plaice' }))).toBe('above');
    expect(compare(40, ask({ species: 'plaice' }))).toBeNull();
  });
});

describe('estimateGrams', () => {
  it.each([
    ['striped-bass', 80, 'fork', 6349], ['atlantic-mackerel', 35, 'fork', 417], ['atlantic-cod', 60, 'fork', 2155], ['black-sea-bass', 40, 'total', 852],
  ] as const)('%s of %d cm %s weighs %d g (NOAA NEFSC coefficients, computed independently)', (code, cm, kind, weight) => {
    expect(estimateGrams(code, [cm], kind).grams).toBe(weight);
  });

  it.each([
    ['mahi-mahi', 100, 'fork', 8100], ['rainbow-trout', 40, 'total', 701], ['chinook-salmon', 90, 'total', 8114],
  ] as const)('%s of %d cm %s weighs %d g (Arabian Sea study and standard-weight equations, computed independently)', (code, cm, kind, weight) => {
    expect(estimateGrams(code, [cm], kind).grams).toBe(weight);
  });

  it('adds up fish by fish, with its working', () => {
    const estimate = estimateGrams('atlantic-mackerel', [35, 30.5, 41], 'fork');
    expect(estimate.perFish).toHaveLength(3);
    expect(estimate.grams).toBe(estimate.perFish.reduce((a, b) => a + b, 0));
    expect(estimate.working).toMatchObject({ source: 'NOAA NEFSC', range: expect.stringContaining('No range') });
  });

  it.each([
    ['pollack', [50], 'fork'], ['kraken', [50], 'fork'], ['atlantic-mackerel', [35], 'total'], ['atlantic-mackerel', [], 'fork'], ['atlantic-mackerel', [0], 'fork'],
    ['atlantic-mackerel', [-35], 'fork'], ['atlantic-mackerel', [350], 'fork'], ['atlantic-mackerel', [3], 'fork'], ['atlantic-mackerel', [Number.NaN], 'fork'], ['atlantic-mackerel', Array.from({ length: 1001 }, () => 35), 'fork'],
  ] as const)('refuses %s %j %s', (code, lengths, kind) => {
    expect(() => estimateGrams(code, lengths, kind)).toThrow(DomainError);
  });

  it('tells which length a species is measured by', () => {
    expect([lengthKindOf('atlantic-mackerel'), lengthKindOf('walleye'), lengthKindOf('sea-trout')]).toEqual(['fork', 'total', null]);
  });
});
