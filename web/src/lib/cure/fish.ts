/** The fish that a cure is planned for: what kinds, and how much of it there is in the cut that goes in. */
import type { BatchDetail } from '$contract/batches.ts';
import { findSpecies } from '$domain/species/index.ts';
import type { Form } from '$domain/working.ts';
import { expectedYield } from '$domain/yield.ts';

export interface FishKind {
  /** null: not said. */
  species: string | null;
  name: string;
  /** Of the whole weight; parts of any sum. */
  share: number;
}

/** How the fish lies in the cure. */
export type Cut = 'fillet-skin' | 'fillet' | 'gutted';
export const cutWords: Record<Cut, string> = { 'fillet-skin': 'Fillets, skin on', fillet: 'Fillets, no skin', gutted: 'Gutted fish' };

export interface CureFish {
  kinds: readonly FishKind[];
  cut: Cut;
  cuts: readonly Cut[];
  /** The form that gutted fish has. */
  guttedForm: Form;
  weightOf: (cut: Cut) => CureWeight;
  /** Whether it still has to be cut, so that it does not go into the cure as it lies there. */
  uncut: (cut: Cut) => boolean;
}
export interface CureWeight {
  /** null: it has to be weighed. */
  grams: number | null;
  /** What the person should know of it; empty when it was weighed. */
  words: string;
}

/** Whether the tables know how fat a fish is and how much water it holds. */
export const isKnown = (kind: FishKind): boolean => kind.species !== null && findSpecies(kind.species) !== undefined;

/** What lies in a batch now: its kinds by the weight that was drawn, its weight by what is on hand. */
export function fishOfBatch(batch: Pick<BatchDetail, 'origins' | 'stages' | 'onHandGrams' | 'draws'>): CureFish {
  const kinds = kindsOf(batch.origins);
  const form = commonest(batch.origins);
  // Fish from another batch was prepared there; fish that was prepared here is no longer what was landed.
  const cutUp = batch.stages.some((s) => s.kind === 'prepare' && s.finishedAt !== null) || batch.draws.some((d) => d.source.kind !== 'landing');
  const asLanded = cutUp ? 'fillet' : form;
  const whole = asLanded === 'gutted' || asLanded === 'headed-gutted';
  const guttedForm: Form = form === 'headed-gutted' ? 'headed-gutted' : 'gutted';
  return {
    kinds, guttedForm,
    cut: whole ? 'gutted' : 'fillet-skin',
    cuts: form === 'fillet' ? ['fillet-skin', 'fillet'] : ['fillet-skin', 'fillet', 'gutted'],
    uncut: (cut) => !cutUp && batch.origins.some((o) => CUT_SO_FAR[o.form] < (cut === 'gutted' ? CUT_SO_FAR.gutted : CUT_SO_FAR.fillet)),
    weightOf: (cut) => (cutUp ? { grams: batch.onHandGrams, words: '' } : weightAfterCutting(kinds, form, cut, guttedForm, batch.onHandGrams)),
  };
}

/** A weight that somebody types in, of one kind of fish. */
export const fishByHand = (species: string | null): CureFish => ({
  kinds: [{ species, name: species === null ? '' : (findSpecies(species)?.name ?? ''), share: 1 }],
  cut: 'fillet-skin', cuts: ['fillet-skin', 'fillet', 'gutted'], guttedForm: 'gutted', weightOf: () => ({ grams: null, words: '' }), uncut: () => false,
});

const CUT_SO_FAR: Readonly<Record<Form, number>> = { whole: 0, gutted: 1, 'headed-gutted': 2, fillet: 3 };
const formOf = (cut: Cut, guttedForm: Form): Form => (cut === 'gutted' ? guttedForm : 'fillet');

function kindsOf(origins: BatchDetail['origins']): FishKind[] {
  const kinds = new Map<string, FishKind>();
  for (const { speciesCode, species, landedGrams } of origins) {
    kinds.set(speciesCode, { species: speciesCode, name: species, share: (kinds.get(speciesCode)?.share ?? 0) + landedGrams });
  }
  const found = [...kinds.values()].filter((kind) => kind.share > 0);
  return found.length > 0 ? found : [{ species: null, name: '', share: 1 }];
}

function commonest(origins: BatchDetail['origins']): Form {
  const grams = new Map<Form, number>();
  for (const { form, landedGrams } of origins) grams.set(form, (grams.get(form) ?? 0) + landedGrams);
  return [...grams].sort((a, b) => b[1] - a[1])[0]?.[0] ?? 'fillet';
}

function weightAfterCutting(kinds: readonly FishKind[], form: Form, cut: Cut, guttedForm: Form, grams: number): CureWeight {
  const to = formOf(cut, guttedForm);
  if (form === to) return { grams, words: '' };
  const sum = kinds.reduce((total, kind) => total + kind.share, 0);
  let after = 0;
  for (const kind of kinds) {
    const expected = kind.species === null ? null : expectedYield({ species: kind.species, form, product: 'hot-smoked', stage: 'prepare', to });
    if (!expected?.known) return { grams: null, words: 'It is not cut yet. Cut it, then enter what it weighs.' };
    after += ((grams * kind.share) / sum) * ((cut === 'fillet' ? expected.lowPct : expected.likelyPct) / 100);
  }
  return { grams: Math.round(after), words: 'An estimate: the fish is not cut yet. Weigh it when it is.' };
}
