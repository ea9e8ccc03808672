import { expect, test } from 'vitest';
import { inHand, tally } from '../../web/src/lib/batches/packs.ts';

const packs = (['used', 'ready', 'claimed', 'discarded', 'handed-over', 'ready'] as const).map((status, i) => ({ packNo: i + 1, status }));

test('what is still there stands first, in the order of its numbers', () => {
  expect(inHand(packs).map((p) => p.packNo)).toEqual([2, 3, 5, 6, 1, 4]);
});

test('the packs of a batch are told by what became of them; a kind that there is none of is left out', () => {
  expect([tally(packs), tally(packs.slice(1, 2)), tally([])]).toEqual(['2 in the larder, 1 claimed, 1 handed over, 1 used, 1 discarded', '1 in the larder', '']);
});
