import { DomainError } from './working.ts';
import type { Working } from './working.ts';

/** One party's part of a division, with what led to it. */
export type ShareRow = {
  weight: number;
  /** The exact due, for showing; the division itself is reckoned in whole numbers. */
  due: number;
  /** The whole part of the due. */
  whole: number;
  /** 1 when the party got one of the units left over, else 0. */
  extra: 0 | 1;
  share: number;
};

const SCALE = 1_000_000;

/**
 * Divides a whole number by weights with the largest-remainder method (Hamilton):
 * everyone gets the whole part of what is due, and the units left over go to the
 * largest fractions, ties to whoever stands first. The parts always sum to the
 * total. Weights: finite, zero or more, read to six decimals. Throws DomainError
 * on a bad total or weight, and when all weights are zero but there is something
 * to divide. Source: models.md, Sharing.
 */
export function largestRemainder(total: number, weights: readonly number[]): number[] {
  return divide(total, weights).shares;
}

/**
 * The same division with each party's due, whole part and extra unit, so that a
 * screen can explain it: one unit more to divide can leave a party with less
 * (the Alabama paradox).
 */
export function largestRemainderRows(total: number, weights: readonly number[]): ShareRow[] {
  const { shares, wholes } = divide(total, weights);
  const sum = weights.reduce((a, b) => a + b, 0);
  return weights.map((weight, i) => ({
    weight,
    due: sum === 0 ? 0 : (total * weight) / sum,
    whole: wholes[i]!,
    extra: shares[i]! > wholes[i]! ? 1 : 0,
    share: shares[i]!,
  }));
}

/** The division by largestRemainderRows with its working. Range and errors: as largestRemainder. */
export function shareOut({ total, weights }: { total: number; weights: readonly number[] }): { rows: ShareRow[]; working: Working } {
  return {
    rows: largestRemainderRows(total, weights),
    working: {
      inputs: [{ name: 'to divide', value: total }, { name: 'shares', value: weights.join(', ') }],
      model: 'sharing', formula: 'due = total x share / sum of the shares; everyone gets the whole part of it, and what is left over goes to the largest fractions, the first of equals',
      source: 'largest remainder (Hamilton)', range: 'whole amounts; shares of zero or more, read to six decimals', certainty: 'arithmetic',
    },
  };
}

function divide(total: number, weights: readonly number[]): { shares: number[]; wholes: number[] } {
  checkTotal(total);
  // Whole numbers of any size: a fraction kept as binary could move a gram to the wrong person.
  const exact = exactWeights(weights);
  const sum = exact.reduce((a, b) => a + b, 0n);
  if (sum === 0n) {
    if (total === 0) return { shares: weights.map(() => 0), wholes: weights.map(() => 0) };
    throw new DomainError({
      code: 'share.no-weight', field: 'weights', label: 'shares', value: weights.join(', '),
      problem: 'add up to nothing', remedy: 'give at least one share above zero',
    });
  }
  const dues = exact.map((weight) => BigInt(total) * weight);
  const wholes = dues.map((due) => Number(due / sum));
  const shares = [...wholes];
  const left = total - wholes.reduce((a, b) => a + b, 0);
  const order = dues.map((due, index) => ({ index, rest: due % sum })).sort((a, b) => (a.rest === b.rest ? a.index - b.index : a.rest > b.rest ? -1 : 1));
  for (const { index } of order.slice(0, left)) shares[index]! += 1;
  return { shares, wholes };
}

function checkTotal(total: number): void {
  if (Number.isSafeInteger(total) && total >= 0) return;
  throw new DomainError({
    code: 'share.bad-total', field: 'total', value: total,
    problem: 'is not a whole number, zero or more', remedy: 'give the whole amount to divide',
  });
}

function exactWeights(weights: readonly number[]): bigint[] {
  for (const weight of weights) {
    if (Number.isFinite(weight) && weight >= 0 && weight <= Number.MAX_SAFE_INTEGER) continue;
    throw new DomainError({
      code: 'share.bad-weight', field: 'weights', label: 'share', value: weight,
      problem: 'is not a number, zero or more', remedy: 'give a share such as 1 or 0.5',
    });
  }
  if (weights.every(Number.isSafeInteger)) return weights.map(BigInt);
  return weights.map((weight) => BigInt(Math.trunc(weight)) * BigInt(SCALE) + BigInt(Math.round((weight % 1) * SCALE)));
}
