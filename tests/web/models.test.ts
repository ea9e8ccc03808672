import { describe, expect, it } from 'vitest';
import { model } from '../../server/contract/common.ts';
import { MODELS } from '../../server/domain/working.ts';
import { GROUPS, PAGES, modelNamed } from '../../web/src/lib/models/index.ts';
import { FUNCTIONS, frac, maths } from '../../web/src/lib/models/maths.ts';
import type { MathNode } from '../../web/src/lib/models/maths.ts';
import { showCheck } from '../../web/src/lib/models/show-check.ts';
import { agrees, differenceOf } from '../../web/src/lib/models/types.ts';
import type { Equation, ModelCheck } from '../../web/src/lib/models/types.ts';

/** What needs no explanation: operators of analysis, counting letters, and numbers that have a letter. */
const PLAIN = new Set([...FUNCTIONS, 'd', '∂', 'Δ', 'π', '∞', '…', 'n', 'i', 'j', 'b', 'p']);
const linesOf = (equation: Equation): readonly MathNode[] => ('tag' in equation.maths ? [equation.maths] : equation.maths);

/** The letters that stand for something, without their indices. */
function signsOf(node: MathNode): string[] {
  if (node.tag === 'mi') return [node.text!];
  const children = node.children ?? [];
  if (node.tag === 'munder' || node.tag === 'munderover') return [];
  return (node.tag === 'msub' || node.tag === 'msubsup' ? children.slice(0, 1) : children).flatMap(signsOf);
}

const text = (node: MathNode): string => node.text ?? (node.children ?? []).map(text).join(' ');

it('the contract and the domain know the same models, each with a page and a place in the list', () => {
  expect(model.options).toEqual([...MODELS]);
  expect(Object.keys(PAGES).sort()).toEqual([...MODELS].sort());
  expect(GROUPS.flatMap((group) => group.models).sort()).toEqual([...MODELS].sort());
  expect(modelNamed('toString')).toBeNull();
});

describe.each(MODELS)('the page of %s', (slug) => {
  it('gives every published figure within what it allows', async () => {
    const { page } = await PAGES[slug].load();
    const checks = page.checks();
    expect(checks.length).toBeGreaterThanOrEqual(3);
    for (const check of checks) {
      expect(agrees(check), `${check.what}: published ${check.published}, found ${check.found}, may differ by ${check.within}`).toBe(true);
      // An allowance as wide as the figure itself would check nothing.
      if (typeof check.published === 'number' && check.published !== 0) expect(check.within, check.what).toBeLessThan(Math.abs(check.published) / 2);
    }
    expect(new Set(checks.map((check) => check.what)).size).toBe(checks.length);
  });

  it('says what it is for, where its figures come from, where it holds and what it is not', async () => {
    const { page } = await PAGES[slug].load();
    expect(page.slug).toBe(slug);
    for (const said of [page.purpose, page.range.holds, page.range.outside, page.never, ...page.limits, ...page.equations.map((e) => e.words)]) expect(said.trim()).toMatch(/^\S.{10,}[.:]$/s);
    for (const list of [page.equations, page.symbols, page.figures, page.limits]) expect(list.length).toBeGreaterThan(0);
    const signs = page.symbols.map((symbol) => text(symbol.sign));
    expect(new Set(signs).size).toBe(signs.length);
    for (const equation of page.equations) expect(linesOf(equation).map(text).join(' ')).toMatch(/[=≤≥→]/);
  });

  it('explains every letter of its equations', async () => {
    const { page } = await PAGES[slug].load();
    const explained = new Set(page.symbols.flatMap((symbol) => signsOf(symbol.sign)));
    const used = page.equations.flatMap((equation) => linesOf(equation).flatMap(signsOf)).filter((sign) => !PLAIN.has(sign));
    expect([...new Set(used)].filter((sign) => !explained.has(sign))).toEqual([]);
  });
});

describe('a check', () => {
  const check: ModelCheck = { what: 'salt', source: 'a table', published: 10, found: 10.5, unit: 'g', within: 0.5 };

  it('agrees up to what it allows and no further', () => {
    expect(differenceOf(check)).toBeCloseTo(0.5, 9);
    expect(agrees(check)).toBe(true);
    expect(agrees({ ...check, found: 10.51 })).toBe(false);
    expect(agrees({ ...check, found: 9.4 })).toBe(false);
    expect(agrees({ ...check, found: Number.NaN })).toBe(false);
  });

  it('agrees with words to the letter', () => {
    expect(agrees({ ...check, published: 'met', found: 'met' })).toBe(true);
    expect(agrees({ ...check, published: 'met', found: 'not met' })).toBe(false);
    expect(agrees({ ...check, published: '10', found: 10 })).toBe(false);
  });
});

describe('mathematics', () => {
  it('reads indices, powers, numbers and words', () => {
    expect(maths("ζ_n^2 = 8 L^2 T_ref 'so much'").children).toEqual([
      { tag: 'msubsup', children: [{ tag: 'mi', text: 'ζ' }, { tag: 'mi', text: 'n' }, { tag: 'mn', text: '2' }] }, { tag: 'mo', text: '=' }, { tag: 'mn', text: '8' },
      { tag: 'msup', children: [{ tag: 'mi', text: 'L' }, { tag: 'mn', text: '2' }] }, { tag: 'msub', children: [{ tag: 'mi', text: 'T' }, { tag: 'mi', text: 'ref' }] }, { tag: 'mtext', text: 'so much' },
    ]);
  });

  it('gives a fraction the two children it takes', () => {
    expect(frac('p', '100 − p').children).toEqual([{ tag: 'mi', text: 'p' }, { tag: 'mrow', children: [{ tag: 'mn', text: '100' }, { tag: 'mo', text: '−' }, { tag: 'mi', text: 'p' }] }]);
  });
});

describe('a check in the table', () => {
  const check: ModelCheck = { what: 'salt', source: 'a table', published: 1338, found: 1337.95, unit: 'g', within: 1 };

  it('shows both figures with the same decimals, and no difference where it rounds away', () => {
    expect(showCheck(check)).toEqual({ published: '1,338 g', found: '1,338 g', difference: '0', allowed: 'may be 1' });
    expect(showCheck({ ...check, published: 0.98, found: 0.9801, within: 0.002, unit: '' })).toEqual({ published: '0.980', found: '0.980', difference: '0', allowed: 'may be 0.002' });
    expect(showCheck({ ...check, published: 4.4, found: 4.44, within: 0.05, unit: 'days' })).toEqual({ published: '4.40 days', found: '4.44 days', difference: '+0.04', allowed: 'may be 0.05' });
    expect(showCheck({ ...check, published: 3, found: 2.5, within: 0.25 }).difference).toBe('−0.50');
  });

  it('compares words', () => {
    expect(showCheck({ ...check, published: 'met', found: 'not met', unit: '' })).toEqual({ published: 'met', found: 'not met', difference: 'differs', allowed: '' });
  });
});
