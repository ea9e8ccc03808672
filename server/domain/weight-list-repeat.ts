import { readWeight } from './measure.ts';
import type { Token, WeightUnit } from './measure.ts';

export type Repeat = { grams: number; count: number; used: number } | { remedy: string; used: number };

const MOST_REPEATS = 500;

/** How to write a weight that repeats so that it reads one way only, in the unit of the list: "250 g x3". */
export const repeatExample = (unit: WeightUnit): string => `${{ g: '250', kg: '0.25', lb: '1.5', oz: '8' }[unit]} ${unit} x3`;

/**
 * Reads "250 x3", "3 x 250" or "3 x 0.25 kg" starting at `list[at]`; null when no
 * repeat stands there. The side with a unit or decimals is the weight. With neither, a
 * sign that touches one number only marks that one as the count ("250 x3", "3x 250");
 * else the smaller one is, if it is below 100 and the other is not; of two that are
 * equal either. "20 x 30" is left for the person to decide.
 */
export function readRepeat(line: string, list: readonly Token[], at: number, defaultUnit: WeightUnit): Repeat | null {
  const first = readWeight(list, at, defaultUnit);
  if (list[at + 1]?.kind === 'times' && list[at + 2]?.kind === 'number') return betweenNumbers(line, list, at, defaultUnit);
  if ('problem' in first || list[at + first.used]?.kind !== 'times') return null;
  const counted = list[at + first.used + 1];
  if (counted?.kind !== 'number') return { remedy: `write the count after x, such as ${repeatExample(defaultUnit)}`, used: first.used + 1 };
  return repeat(first.grams, counted.text, first.used + 2);
}

function betweenNumbers(line: string, list: readonly Token[], at: number, defaultUnit: WeightUnit): Repeat {
  const [left, sign, right] = [list[at]!, list[at + 1]!, list[at + 2]!];
  const after = readWeight(list, at + 2, defaultUnit);
  const countFirst = () => ('problem' in after ? { remedy: after.remedy, used: 2 + after.used } : repeat(after.grams, left.text, 2 + after.used));
  const alone = readWeight([left], 0, defaultUnit);
  const countLast = () => ('problem' in alone ? { remedy: alone.remedy, used: 3 } : repeat(alone.grams, right.text, 3));
  if ('hasUnit' in after ? after.hasUnit : after.used > 1) return countFirst();
  const [leftWhole, rightWhole] = [left, right].map((token) => /^\d+$/.test(token.text)) as [boolean, boolean];
  if (leftWhole !== rightWhole) return leftWhole ? countFirst() : countLast();
  const touchesLeft = left.end === sign.at;
  const touchesRight = sign.end === right.at;
  if (touchesLeft !== touchesRight) return touchesLeft ? countFirst() : countLast();
  const [a, b] = [Number(left.text), Number(right.text)];
  if (a < 100 && b >= 100) return countFirst();
  if (b < 100 && a >= 100) return countLast();
  // Two like numbers come to the same either way.
  if (left.text === right.text) return countFirst();
  return { remedy: `which is the count? write it like ${repeatExample(defaultUnit)}`, used: 3 };
}

function repeat(grams: number, countText: string, used: number): Repeat {
  const count = /^\d+$/.test(countText) ? Number(countText) : 0;
  if (count < 1 || count > MOST_REPEATS) return { remedy: `repeat a weight 1 to ${MOST_REPEATS} times`, used };
  return { grams, count, used };
}
