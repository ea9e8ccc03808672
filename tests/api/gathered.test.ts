import { expect, test } from 'vitest';
import { gathered } from '../../server/platform/gathered.ts';

test('what is asked for in one turn goes in one statement, sent after all of it was asked; each gets its own row', async () => {
  const sent: number[][] = [];
  let state = 'before';
  const read = gathered(async (keys: number[]) => {
    sent.push(keys);
    return keys.map((key) => `${state} ${key}`);
  });
  const asked = [read(1), read(2), read(1)];
  state = 'after';
  expect(await Promise.all(asked)).toEqual(['after 1', 'after 2', 'after 1']);
  expect(await read(3)).toBe('after 3');
  expect(sent).toEqual([[1, 2, 1], [3]]);
});

test('a failure reaches everybody who asked, and nobody who asks later', async () => {
  let fail = true;
  const read = gathered(async (keys: number[]) => {
    if (fail) throw new Error('gone');
    return keys;
  });
  const both = await Promise.allSettled([read(1), read(2)]);
  expect(both.map((r) => r.status)).toEqual(['rejected', 'rejected']);
  fail = false;
  expect(await read(3)).toBe(3);
});
