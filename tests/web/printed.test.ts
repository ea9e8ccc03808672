import { describe, expect, test } from 'vitest';
import type { BatchDetail } from '$contract/batches.ts';
import { untoldByNow, untoldWords } from '$lib/batches/printed.ts';

const none = (what: NonNullable<BatchDetail['printed']['missing']>['what'], lot: string | null = null): BatchDetail['printed'] => ({ ingredients: '', source: null, missing: { what, lot }, allergens: ['fish'], fromCure: [] });

describe('why labels name no ingredients', () => {
  test('is said of the lot where it is missing', () => {
    expect(untoldWords(none('cure-untold'))).toBe('How it was cured was not written down.');
    expect(untoldWords(none('cure-untold', '9T4-9FRT'))).toBe('How lot 9T4-9FRT was cured was not written down.');
    expect(untoldWords(none('mix-untold', '9T4-9FRT'))).toBe('What was mixed into lot 9T4-9FRT was not written down.');
    expect(untoldWords({ ...none('no-fish'), missing: null })).toBeNull();
  });

  test('is no reproach to a batch whose cure is still before it', () => {
    const at = (lastStage: BatchDetail['lastStage'], what: Parameters<typeof none>[0] = 'no-cure') => untoldByNow({ printed: none(what), lastStage });
    expect([at(null), at('prepare'), at('dry'), at(null, 'no-fish')]).toEqual([null, null, null, null]);
    expect([at('smoke'), at('cool'), at('pack')]).toEqual(Array(3).fill('No cure was written down.'));
    expect(at('cure', 'cure-untold')).toBe('How it was cured was not written down.');
  });
});
