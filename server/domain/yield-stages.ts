import { rounded, within } from './bounds.ts';
import { MAX_GRAMS } from './working.ts';
import type { Form, Grams, ProductKind, StageKind } from './working.ts';
import type { Cure } from './yield.ts';
import { estimateYield } from './yield-evidence.ts';
import type { OwnBatch, YieldEstimate } from './yield-evidence.ts';

export type ExpectedStage = {
  stage: StageKind;
  estimate: YieldEstimate;
  /** Weight after the stage; null from the first stage that nothing is known of, and likely too. */
  lowGrams: Grams | null;
  likelyGrams: Grams | null;
  highGrams: Grams | null;
  note: string;
};

export type ExpectedWeights = {
  stages: ExpectedStage[];
  /** The last weight that is known, as a part of what went in. */
  overall: { lowPct: number; likelyPct: number; highPct: number } | null;
};

const STAGES: Readonly<Record<ProductKind, readonly StageKind[]>> = { 'hot-smoked': ['prepare', 'cure', 'smoke'], raw: ['prepare'], dip: [] };

/**
 * The weight to expect after each stage that changes it, as intervals that add up as
 * independent errors do. Drying is counted with smoking; rinsing, cooling and packing
 * change little and have no published figure. Range: 1 g to 100 t. Throws DomainError
 * outside. Sources: as estimateYield.
 */
export function expectedWeights(input: {
  species: string;
  form: Form;
  product: ProductKind;
  to?: Form;
  cure?: Cure;
  massInG: Grams;
  /** The club's own batches by stage. */
  batches?: Partial<Record<StageKind, readonly OwnBatch[]>>;
}): ExpectedWeights {
  const massInG = within(input.massInG, { field: 'massInG', label: 'weight', min: 1, max: MAX_GRAMS, unit: 'g', remedy: 'enter the weight on the scale' });
  const { batches, massInG: _, ...question } = input;
  const sum = { likely: 0, down: 0, up: 0, known: true };
  const stages = STAGES[input.product].map((stage): ExpectedStage => {
    // Already in the form it is to have: there is nothing to take off but trim.
    const skips = stage === 'prepare' && input.form === (input.to ?? 'fillet');
    const estimate = estimateYield({ question: { ...question, stage }, batches: batches?.[stage] ?? [] });
    if (skips && !estimate.known) return { stage, estimate, ...weights(massInG, sum), note: 'It comes as it stays: only trim is lost.' };
    sum.known &&= estimate.known;
    if (estimate.known) add(sum, estimate);
    return { stage, estimate, ...weights(massInG, sum), note: stage === 'smoke' ? 'Drying before it is counted here.' : '' };
  });
  const last = stages.at(-1);
  const pct = (value: number) => rounded((100 * value) / massInG, 1);
  return { stages, overall: last?.likelyGrams == null ? null : { lowPct: pct(last.lowGrams!), likelyPct: pct(last.likelyGrams), highPct: pct(last.highGrams!) } };
}

type LogSum = { likely: number; down: number; up: number; known: boolean };

/** Logarithms add; independent errors add as squares. */
function add(sum: LogSum, { lowPct, likelyPct, highPct }: YieldEstimate): void {
  sum.likely += Math.log(likelyPct! / 100);
  sum.down = Math.hypot(sum.down, Math.log(likelyPct! / lowPct!));
  sum.up = Math.hypot(sum.up, Math.log(highPct! / likelyPct!));
}

function weights(massInG: Grams, sum: LogSum): Pick<ExpectedStage, 'lowGrams' | 'likelyGrams' | 'highGrams'> {
  if (!sum.known) return { lowGrams: null, likelyGrams: null, highGrams: null };
  const at = (log: number) => Math.round(massInG * Math.exp(log));
  return { lowGrams: at(sum.likely - sum.down), likelyGrams: at(sum.likely), highGrams: at(sum.likely + sum.up) };
}
