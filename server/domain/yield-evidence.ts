import { rounded, within } from './bounds.ts';
import { DomainError, MAX_GRAMS } from './working.ts';
import type { Grams, StageKind, Working } from './working.ts';
import { expectedYield } from './yield.ts';
import type { ExpectedYield, YieldQuestion } from './yield.ts';
import { questionYield } from './yield-question.ts';
import type { WeightQuestion } from './yield-question.ts';
import { fromOwnAlone, updated } from './yield-update.ts';
import type { LogUpdate } from './yield-update.ts';

/** One of the club's own batches at the stage in question. */
export type OwnBatch = { id: string; massInG: Grams; massOutG: Grams };

export type YieldEstimate = {
  known: boolean;
  /** Why not; empty when known. */
  reason: string;
  lowPct: number | null;
  likelyPct: number | null;
  highPct: number | null;
  /** Of the club's own batches, how many count, and how much of the answer is theirs. */
  batches: number;
  ownWeightPct: number;
  /** Batches left out because they are far from the others: look at them. */
  leftOut: string[];
  /** What it rests on, to follow the range: "from 6 of your batches and the published range". */
  evidence: string;
  /** In one sentence. */
  words: string;
  working: Working;
};

const MOST_BATCHES = 2000;
/** Nothing yields more than this: only a cure, a rinse and a mix take anything up. */
const MOST_PCT: Readonly<Partial<Record<StageKind | 'overall', number>>> = { cure: 120, rinse: 110 };

/**
 * The yield to expect from the published range and the club's own batches, the published
 * value outweighed as they come in. Range: up to 2,000 batches with weights above zero.
 * Throws DomainError outside. Source: yield.ts for the published range; conjugate normal
 * on the logarithm of the yield.
 */
export function estimateYield(input: { question: YieldQuestion; batches: readonly OwnBatch[] }): YieldEstimate {
  const { question, batches } = input;
  const published = expectedYield(question);
  const values = logYields(batches, question.stage);
  const update = published.known
    ? updated({ low: Math.log(published.lowPct / 100), likely: Math.log(published.likelyPct / 100), high: Math.log(published.highPct / 100) }, values)
    : fromOwnAlone(values);
  const shared = { batches: update?.used ?? 0, ownWeightPct: rounded(100 * (update?.weight ?? 0), 1), leftOut: (update?.leftOut ?? []).map((index) => batches[index]!.id), working: estimateWorking(published, update) };
  if (!update) {
    const reason = `${published.known ? '' : published.reason} Three batches of your own would tell.`.trim();
    return { known: false, reason, lowPct: null, likelyPct: null, highPct: null, evidence: '', words: reason, ...shared };
  }
  const most = Math.min(MOST_PCT[question.stage] ?? 100, published.highPct !== null && !published.known ? published.highPct : Infinity);
  const pct = (log: number) => rounded(Math.min(most, 100 * Math.exp(log)), 2);
  const range = { lowPct: pct(update.low), likelyPct: pct(update.likely), highPct: pct(update.high) };
  return { known: true, reason: '', ...range, evidence: evidenceFor(shared.batches, published.known), words: wordsFor(range, shared.batches, shared.ownWeightPct, published.known), ...shared };
}

export type StageQuestion = WeightQuestion & { expected: YieldEstimate };

/**
 * A stage's weights held against what is to be expected: a yield outside the interval is
 * questioned, never refused. Range: weights above zero. Throws DomainError outside.
 */
export function questionStage(input: { question: YieldQuestion; batches: readonly OwnBatch[]; massInG: Grams; massOutG: Grams }): StageQuestion {
  const expected = estimateYield(input);
  return { ...questionYield({ ...input, expected }), expected };
}

/** Whether a stage of the club's own can be evidence at all: weights on both sides, and not more out than the stage can make. */
export function countsAsEvidence(stage: StageKind | 'overall', { massInG, massOutG }: Omit<OwnBatch, 'id'>): boolean {
  return massInG >= 1 && massInG <= MAX_GRAMS && massOutG >= 1 && massOutG <= MAX_GRAMS && (100 * massOutG) / massInG <= (MOST_PCT[stage] ?? 100);
}

function logYields(batches: readonly OwnBatch[], stage: StageKind | 'overall'): number[] {
  within(batches.length, { field: 'batches', label: 'number of batches', min: 0, max: MOST_BATCHES });
  return batches.map((batch, index) => {
    const part = grams(batch.massOutG, `batches.${index}.massOutG`, 1) / grams(batch.massInG, `batches.${index}.massInG`, 1);
    if (100 * part <= (MOST_PCT[stage] ?? 100)) return Math.log(part);
    throw new DomainError({ code: 'yield.more-out-than-in', field: `batches.${index}.massOutG`, label: 'weight out', value: batch.massOutG, shown: `${batch.massOutG} g`, problem: `is more than the ${stage} stage can make of ${batch.massInG} g`, remedy: 'correct one of the two weights' });
  });
}

function grams(value: number, field: string, min: number): number {
  return within(value, { field, label: 'weight', min, max: MAX_GRAMS, unit: 'g', remedy: 'enter the weight on the scale' });
}

function evidenceFor(batches: number, isPublished: boolean): string {
  if (batches === 0) return 'from the published range';
  const own = batches === 1 ? 'from one of your batches' : `from ${batches} of your batches`;
  return isPublished ? `${own} and the published range` : `${own}; nothing is published`;
}

function wordsFor(range: { lowPct: number; likelyPct: number; highPct: number }, batches: number, ownWeightPct: number, isPublished: boolean): string {
  const usual = `${rounded(range.likelyPct, 0)} %, from ${rounded(range.lowPct, 0)} to ${rounded(range.highPct, 0)} %`;
  if (batches === 0) return `${usual}: the published range. Your own batches will narrow it.`;
  const own = batches === 1 ? 'one batch of your own' : `${batches} batches of your own`;
  return isPublished ? `${usual}: ${own} count for ${rounded(ownWeightPct, 0)} %, the published range for the rest.` : `${usual}: from ${own} alone, nothing is published.`;
}

function estimateWorking(published: ExpectedYield, update: LogUpdate | null): Working {
  const inputs: Working['inputs'] = published.known
    ? [{ name: 'published low', value: rounded(published.lowPct, 2), unit: '%' }, { name: 'published likely', value: rounded(published.likelyPct, 2), unit: '%' }, { name: 'published high', value: rounded(published.highPct, 2), unit: '%' }]
    : [{ name: 'published', value: 'nothing' }];
  return {
    inputs: [...inputs, { name: 'own batches', value: update?.used ?? 0 }, { name: 'their weight', value: rounded(100 * (update?.weight ?? 0), 1), unit: '%' }],
    model: 'yield', formula: published.known
      ? 'ln likely = (1 - w) ln published + w mean of ln own; w = (n/s^2)/(n/s^2 + 1/v), v half the published variance, s^2 the batches\' own mixed with it; the interval is two standard deviations of the next batch'
      : 'mean of ln own, two standard deviations of the next batch either way; their spread is mixed with a usual 5 %',
    source: published.known ? `${published.working.source}; the club's own batches by a conjugate normal` : 'the club\'s own batches', range: 'one species, form, product and stage',
    uncertainty: 'about one batch in twenty falls outside', certainty: 'arithmetic',
  };
}
