/** What is on its way from the planner to another screen: taken once, forgotten by a reload. */
import type { CureFactsBody } from '$contract/cures.ts';
import type { FormulaBody } from '$contract/formulas.ts';

/** For the batch's stage sheet. */
export interface StagePlan {
  kind: 'cure';
  dueMinutes: number | null;
  note: string;
  /** Of the fish that it was reckoned for. */
  fishGrams: number;
  /** How it is cured, so that nobody types it twice. */
  cure: CureFactsBody;
  /** What of it nobody entered, in words; empty where all is somebody's own. */
  example: string;
}

const waiting = new Map<string, StagePlan>();

export const handOver = (batchId: string, plan: StagePlan): void => void waiting.set(batchId, plan);

export function takeOver(batchId: string): StagePlan | null {
  const plan = waiting.get(batchId) ?? null;
  waiting.delete(batchId);
  return plan;
}

let draft: FormulaBody | null = null;
/** A plan on its way to the formulas of the club, taken once. */
export const draftFormula = (body: FormulaBody): void => void (draft = body);

export function takeDraft(): FormulaBody | null {
  const taken = draft;
  draft = null;
  return taken;
}
