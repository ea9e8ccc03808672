import type { BatchDetail } from '$contract/batches.ts';
import type { StageKind } from '$domain/working.ts';

type Printed = BatchDetail['printed'];

/** Where the words for ingredients come from; empty when somebody typed them all. */
export const sourceWords: Record<NonNullable<Printed['source']>, string> = {
  typed: '', cure: 'From the cure', fish: 'From the landing', mixed: 'As typed on other lots, and from the record',
};

/** What was not written down, so that no ingredients are printed; null where they are. */
export function untoldWords({ missing }: Printed): string | null {
  if (missing === null) return null;
  const { what, lot } = missing;
  if (what === 'cure-untold') return `How ${lot === null ? 'it' : `lot ${lot}`} was cured was not written down.`;
  if (what === 'mix-untold') return `What was mixed ${lot === null ? 'in' : `into lot ${lot}`} was not written down.`;
  return what === 'no-cure' ? 'No cure was written down.' : 'No fish was drawn into it.';
}

const AFTER_CURE: readonly StageKind[] = ['smoke', 'cool', 'pack'];

/** The same once it is late to have none: a batch that is empty, or not smoked yet, has its cure before it. */
export function untoldByNow({ printed, lastStage }: Pick<BatchDetail, 'printed' | 'lastStage'>): string | null {
  const what = printed.missing?.what;
  if (what === 'no-fish' || (what === 'no-cure' && (lastStage === null || !AFTER_CURE.includes(lastStage)))) return null;
  return untoldWords(printed);
}
