/** A plan on its way from the planner to the batch's stage sheet. It is taken once; a reload forgets it. */
export interface StagePlan {
  kind: 'cure';
  dueMinutes: number | null;
  note: string;
}

const waiting = new Map<string, StagePlan>();

export const handOver = (batchId: string, plan: StagePlan): void => void waiting.set(batchId, plan);

export function takeOver(batchId: string): StagePlan | null {
  const plan = waiting.get(batchId) ?? null;
  waiting.delete(batchId);
  return plan;
}
