import { expect, it } from 'vitest';
import { batchBody } from '../../server/contract/batches.ts';
import { splitBody } from '../../web/src/lib/batches/split.ts';

const batch = { id: '0190f0aa-0000-7000-8000-000000000001', productKind: 'hot-smoked' as const, name: 'Hot-smoked pollack', nameTyped: false };

it('a part split off under the name that the service gave goes on following the fish; a name that somebody chose is sent', () => {
  const name = (of: typeof batch, typed: string) => (splitBody(of, { name: typed, grams: 500 }) as { name?: string }).name;
  expect(name(batch, 'Hot-smoked pollack')).toBe(undefined);
  expect(name(batch, ' ')).toBe(undefined);
  expect(name(batch, 'For the feast ')).toBe('For the feast');
  expect(name({ ...batch, name: 'Midsummer', nameTyped: true }, 'Midsummer')).toBe('Midsummer');
  expect(batchBody.parse(splitBody(batch, { name: 'Hot-smoked pollack', grams: 500 })).draws).toMatchObject([{ source: { kind: 'batch', id: batch.id }, grams: 500 }]);
});
