import { expect, it } from 'vitest';
import { sayStopped } from '../../web/src/lib/rules/limits.ts';

it.each([
  [{ onHold: 1, doNotShare: 0, packsOut: 1 }, '1 lot is now on hold; 1 pack of it is out.'],
  [{ onHold: 2, doNotShare: 0, packsOut: 3 }, '2 lots are now on hold; 3 packs of them are out.'],
  [{ onHold: 2, doNotShare: 1, packsOut: 0 }, '2 lots are now on hold, 1 lot must not be shared now; no pack of them is out.'],
  [{ onHold: 0, doNotShare: 2, packsOut: 1 }, '2 lots must not be shared now; 1 pack of them is out.'],
  [{ onHold: 0, doNotShare: 0, packsOut: 0 }, ''],
])('a tighter limit that stops %j says "%s"', (stopped, words) => {
  expect(sayStopped(stopped)).toBe(words);
});
