import { differenceOf } from './types.ts';
import type { ModelCheck } from './types.ts';

const MOST_DECIMALS = 4;

/** As many decimals as a figure is printed with, at most four. */
function decimalsOf(value: number): number {
  return Math.min(MOST_DECIMALS, String(Number(value.toPrecision(6))).split('.')[1]?.length ?? 0);
}

export type CheckWords = { published: string; found: string; difference: string; allowed: string };

/** A check as it stands in the table: every figure with the same decimals, so that they can be compared by eye. */
export function showCheck(check: ModelCheck): CheckWords {
  const { published, found, unit } = check;
  const withUnit = (text: string) => (unit === '' ? text : `${text} ${unit}`);
  const difference = differenceOf(check);
  if (difference === null || typeof published !== 'number' || typeof found !== 'number') {
    return { published: withUnit(String(published)), found: withUnit(String(found)), difference: published === found ? 'same' : 'differs', allowed: '' };
  }
  const digits = Math.min(MOST_DECIMALS, Math.max(decimalsOf(published), decimalsOf(check.within)));
  const show = (value: number) => value.toLocaleString('en', { minimumFractionDigits: digits, maximumFractionDigits: digits }).replace(/^-/, '−');
  const shown = show(difference);
  // What rounds to nothing is written as nothing, whatever its sign.
  const nothing = /^−?0(\.0+)?$/.test(shown);
  return { published: withUnit(show(published)), found: withUnit(show(found)), difference: nothing ? '0' : difference > 0 ? `+${shown}` : shown, allowed: check.within === 0 ? '' : `may be ${show(check.within)}` };
}
