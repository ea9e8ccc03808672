import type { BatchDetail } from '$contract/batches.ts';

/** A new batch of the same product from part of one. A name that the service gave is left to it, so that it goes on following the fish. */
export function splitBody(batch: Pick<BatchDetail, 'id' | 'productKind' | 'name' | 'nameTyped'>, v: { name: string; grams: number | null }): Record<string, unknown> {
  const typed = v.name.trim();
  return {
    productKind: batch.productKind, name: typed === '' || (typed === batch.name && !batch.nameTyped) ? undefined : typed,
    draws: [{ source: { kind: 'batch', id: batch.id }, grams: v.grams }],
  };
}
