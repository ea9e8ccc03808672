import type { StageExpectation } from '$contract/yields.ts';
import type { StageKind } from '$domain/working.ts';
import { questionYield, type WeightQuestion } from '$domain/yield-question.ts';

/** What is expected of a stage; undefined until it is read, or for a stage that nothing is asked of. */
export const expectedAt = (items: readonly StageExpectation[] | undefined, stage: StageKind | 'overall'): StageExpectation | undefined => items?.find((item) => item.stage === stage);

/** "61 to 72 % expected, from 6 of your batches and the published range" */
export const expectedWords = (e: Pick<StageExpectation, 'lowPct' | 'highPct' | 'evidence'>): string => `${e.lowPct!.toFixed(0)} to ${e.highPct!.toFixed(0)} % expected, ${e.evidence}`;

/** Whether these weights are worth weighing again; null while there is nothing to hold them against. */
export function weightQuestion(items: readonly StageExpectation[] | undefined, stage: StageKind, massInG: number, massOutG: number | null): WeightQuestion | null {
  const expected = expectedAt(items, stage);
  if (!expected?.known || massOutG === null || massOutG < 0 || massInG < 1) return null;
  return questionYield({ expected, massInG, massOutG });
}

export const asSentence = (evidence: string): string => (evidence === '' ? '' : `${evidence.charAt(0).toUpperCase()}${evidence.slice(1)}.`);

/** Which way the yield of a finished batch lies outside what is expected of it; 'within' where nothing is known or reached. */
export function outside(yieldPct: number | null, expected: { lowPct: number | null; highPct: number | null } | null | undefined): 'within' | 'below' | 'above' {
  if (yieldPct === null || expected?.lowPct == null || expected.highPct == null) return 'within';
  return yieldPct < expected.lowPct ? 'below' : yieldPct > expected.highPct ? 'above' : 'within';
}
