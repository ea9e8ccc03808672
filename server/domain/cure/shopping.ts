import { within } from '../bounds.ts';
import { DomainError } from '../working.ts';
import type { Grams, Working } from '../working.ts';
import { stockKindNamed } from './stock.ts';

/** An ingredient by any name that the three lists share, such as 'table-salt' or 'bay leaf'. */
export type IngredientGrams = { ingredient: string; grams: Grams };
export type PackageSize = { ingredient: string; packageGrams: Grams };

export type ShoppingLine = {
  ingredient: string;
  needGrams: Grams;
  haveGrams: Grams;
  shortGrams: Grams;
  /** What to buy, the biggest first; empty when nothing is short or no package is known. */
  buy: { packageGrams: Grams; packages: number }[];
  /** Left over after curing, with what was bought. Below zero: short, and no package is known. */
  leftOverGrams: Grams;
};

export type Shopping = {
  /** Everything is there already. */
  enough: boolean;
  /** The ingredients that are short. */
  short: string[];
  /** In one sentence, for the top of the page. */
  words: string;
  lines: ShoppingLine[];
  working: Working;
};

const MOST_LINES = 200;
/** Packages are fitted gram by gram up to here; above it in so many steps. */
const STEPS = 10_000;
/** Above it a package has to be worth so many steps, so that steps cost no more than a fiftieth. */
const LEAST_STEPS = 50;

/**
 * Stock against need before the fish goes in: what is short, and which packages leave the
 * least over. Names match whatever their case; brown sugar is one, loose or packed. Range: 0 to 1 t a line, packages from 1 g.
 * Throws DomainError outside. Source: arithmetic.
 */
export function shoppingList(input: { needs: readonly IngredientGrams[]; stock: readonly IngredientGrams[]; packages: readonly PackageSize[] }): Shopping {
  const needs = summed(input.needs, 'needs');
  const stock = summed(input.stock, 'stock');
  const sizes = sizesOf(input.packages);
  const lines = [...needs].map(([key, need]) => lineOf(need.name, need.grams, stock.get(key)?.grams ?? 0, sizes.get(key) ?? []));
  const short = lines.filter((line) => line.shortGrams > 0);
  return {
    enough: short.length === 0, short: short.map((line) => line.ingredient), words: wordsFor(short), lines,
    working: {
      inputs: lines.map((line) => ({ name: line.ingredient, value: `${line.needGrams} of ${line.haveGrams}`, unit: 'g' })),
      formula: 'short = need - stock; the packages that leave the least over, then the fewest', source: 'arithmetic', certainty: 'arithmetic',
    },
  };
}

function summed(rows: readonly IngredientGrams[], field: string): Map<string, { name: string; grams: number }> {
  within(rows.length, { field, label: `lines in ${field}`, min: 0, max: MOST_LINES });
  const sums = new Map<string, { name: string; grams: number }>();
  rows.forEach((row, index) => {
    const key = keyOf(row.ingredient, `${field}.${index}.ingredient`);
    const grams = within(row.grams, { field: `${field}.${index}.grams`, label: row.ingredient, min: 0, max: 1e6, unit: 'g', remedy: 'weigh it' });
    sums.set(key, { name: sums.get(key)?.name ?? row.ingredient.trim(), grams: (sums.get(key)?.grams ?? 0) + grams });
  });
  return sums;
}

function sizesOf(packages: readonly PackageSize[]): Map<string, number[]> {
  within(packages.length, { field: 'packages', label: 'lines in packages', min: 0, max: MOST_LINES });
  const sizes = new Map<string, number[]>();
  packages.forEach((row, index) => {
    const key = keyOf(row.ingredient, `packages.${index}.ingredient`);
    const size = within(row.packageGrams, { field: `packages.${index}.packageGrams`, label: 'package', min: 1, max: 1e6, unit: 'g' });
    sizes.set(key, [...(sizes.get(key) ?? []), size]);
  });
  return sizes;
}

function keyOf(ingredient: string, field: string): string {
  const key = ingredient.trim().toLowerCase();
  if (key !== '' && key.length <= 80) return stockKindNamed(key) ?? key;
  throw new DomainError({ code: 'shopping.name', field, label: 'ingredient', value: ingredient, problem: 'is no name', remedy: 'name the ingredient in up to 80 characters' });
}

function lineOf(ingredient: string, need: number, have: number, sizes: readonly number[]): ShoppingLine {
  const shortGrams = Math.max(0, Math.ceil(need - have));
  const buy = shortGrams > 0 ? packagesFor(shortGrams, sizes) : [];
  const bought = buy.reduce((sum, row) => sum + row.packageGrams * row.packages, 0);
  return { ingredient, needGrams: Math.round(need), haveGrams: Math.round(have), shortGrams, buy, leftOverGrams: Math.round(have + bought - need) };
}

/** The least weight of packages that covers what is short: for each part of it, the best that ends in each size. */
function packagesFor(short: number, sizes: readonly number[]): ShoppingLine['buy'] {
  if (sizes.length === 0) return [];
  const step = short / Math.min(STEPS, short);
  const usable = sizes.filter((size) => step === 1 || size >= LEAST_STEPS * step);
  // Far more packages than anybody carries: as many of the biggest as it takes.
  if (usable.length === 0) return [{ packageGrams: Math.max(...sizes), packages: Math.ceil(short / Math.max(...sizes)) }];
  const count = Math.round(short / step);
  const before = (part: number, size: number) => Math.max(0, part - Math.floor(size / step + 1e-9));
  const best: { grams: number; packages: number; last: number }[] = [{ grams: 0, packages: 0, last: 0 }];
  for (let part = 1; part <= count; part++) {
    const ways = usable.map((size) => ({ grams: best[before(part, size)]!.grams + size, packages: best[before(part, size)]!.packages + 1, last: size }));
    best.push(ways.reduce((a, b) => (b.grams < a.grams || (b.grams === a.grams && b.packages < a.packages) ? b : a)));
  }
  const counts = new Map<number, number>();
  for (let part = count; part > 0; part = before(part, best[part]!.last)) counts.set(best[part]!.last, (counts.get(best[part]!.last) ?? 0) + 1);
  return withoutSpare([...counts], short);
}

/** Steps are coarse for a big need: what they made one package too many is put back, the smallest first. */
function withoutSpare(counts: [number, number][], short: number): ShoppingLine['buy'] {
  let grams = counts.reduce((sum, [size, packages]) => sum + size * packages, 0);
  const kept = counts.sort((a, b) => a[0] - b[0]).map(([packageGrams, packages]) => {
    const spare = Math.min(packages, Math.floor((grams - short) / packageGrams));
    grams -= spare * packageGrams;
    return { packageGrams, packages: packages - spare };
  });
  return kept.filter((row) => row.packages > 0).reverse();
}

function wordsFor(short: readonly ShoppingLine[]): string {
  if (short.length === 0) return 'Everything is there.';
  return `Short of ${short.map((line) => `${line.ingredient} (${line.shortGrams} g)`).join(', ')}.`;
}
