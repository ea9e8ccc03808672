import type { PublicPack } from '../../contract/packs.ts';
import { CAUTIONS } from '../../domain/cautions.ts';
import { unrecorded } from '../../domain/rules/unrecorded.ts';
import { localDay } from '../../domain/time.ts';
import type { Day } from '../../domain/working.ts';
import type { Context } from '../../platform/context.ts';
import { notFound } from '../../platform/errors/problem-error.ts';
import { loadLineage } from '../batches/lineage.ts';
import { packFacts } from '../packs/pack-facts.ts';
import * as store from './public-page.store.ts';

/** What a stranger with the code sees: the food, never a person. A code that is none is answered like one that is not there. */
export async function readPublicPack(context: Context, code: string): Promise<PublicPack> {
  const { query } = context.database;
  const row = await store.findByCode(query, code);
  if (!row) {
    // The same reading as for a pack that is there, so that the time taken tells nothing.
    await loadLineage(query, '00000000-0000-7000-8000-000000000000').catch(() => null);
    throw notFound('This pack');
  }
  const facts = await packFacts(query, row.timeZone)(row);
  const { state, stateWords } = stateOf(row, localDay(context.clock(), row.timeZone));
  return {
    clubName: row.clubName, product: row.product, productKind: row.productKind, species: facts.species, lot: row.lot, packNo: row.packNo, grams: row.grams,
    smokeDay: row.smokeDay, lastDay: row.lastDay, dateKind: row.dateKind, state, stateWords, notRecorded: state === 'good' ? unrecorded(facts.checks) : [], storage: row.storage,
    // How to keep it is no advice for what must not be eaten.
    storageWords: row.recalled ? '' : facts.storageWords, labelWords: row.recalled ? [] : facts.labelWords,
    recallReason: row.recalled && row.recallReason ? publicReason(row.recallReason, await store.knownNames(query)) : null, contactWords: row.contactWords,
    ingredients: facts.ingredients, allergens: facts.allergens, saleWords: row.saleWords,
    cautions: CAUTIONS.map((caution) => caution.text), advice: facts.advice, timeZone: row.timeZone,
  };
}

/**
 * The reason of a recall as a stranger may read it; null when a word of it is the first, last or whole name of somebody,
 * since the page tells of the food and never of a person. A recipient such as "Harbour kitchen" counts only as it is written.
 */
export function publicReason(reason: string, known: readonly store.Known[]): string | null {
  const wordsOf = (text: string) => text.split(/[^\p{L}\p{N}]+/u).filter((word) => word.length > 2);
  const written = new Set(wordsOf(reason));
  const lower = new Set([...written].map((word) => word.toLocaleLowerCase()));
  const named = known.some(({ name, recipient }) => wordsOf(name).some((word) => (recipient ? written.has(word) : lower.has(word.toLocaleLowerCase()))));
  return named ? null : reason;
}

/** The worst that is known comes first; nothing here reads as an approval. */
export function stateOf(row: store.PublicRow, today: Day): Pick<PublicPack, 'state' | 'stateWords'> {
  if (row.recalled) return { state: 'recalled', stateWords: 'Recalled. Do not eat it or pass it on. Tell the club that you have it.' };
  if (row.status === 'discarded' || row.status === 'used') return { state: 'hold', stateWords: 'The club took this pack back. Do not eat it. Tell the club that you have it.' };
  if (row.verdict === 'do-not-share') return { state: 'hold', stateWords: 'Do not eat it or pass it on: it was not chilled, heated, cooled or kept as it must be. Tell the club that you have it.' };
  if (row.verdict !== 'clear') return { state: 'hold', stateWords: 'On hold. Do not eat it or pass it on until the club says so.' };
  if (row.lastDay === null) return { state: 'unknown', stateWords: 'No last day can be told from the records. Do not eat it. Ask the club.' };
  // The page shows that day right above.
  if (row.lastDay < today) return { state: 'past', stateWords: 'Its last day is over. Do not eat it.' };
  return { state: 'good', stateWords: 'Only if it was kept as written here all the time.' };
}
