/** Which stages a batch has before it, and what opens for one that something is asked of. */
import type { BatchDetail, Stage } from '$contract/batches.ts';
import { STAGE_ORDER, STAGES_OF, type StageKind } from '$domain/working.ts';
import { stageWords } from '$lib/words.ts';

type Before = Pick<BatchDetail, 'productKind' | 'lastStage'>;

/** The stages that can be recorded next, the last one again among them; packing has its own way. */
export const stagesAhead = ({ productKind, lastStage }: Before): StageKind[] =>
  STAGES_OF[productKind].filter((kind) => kind !== 'pack' && STAGE_ORDER.indexOf(kind) >= (lastStage === null ? 0 : STAGE_ORDER.indexOf(lastStage)));

/** Whether a stage is ahead that it has not been through yet: when none is, it is for packing. */
export const hasNextStage = (batch: Before & { stages: readonly Pick<Stage, 'kind'>[] }): boolean => stagesAhead(batch).some((kind) => !batch.stages.some((s) => s.kind === kind));

/** The title of the sheet that finishes or corrects a stage. */
export function stageTitle({ kind, finishedAt }: Pick<Stage, 'kind' | 'finishedAt'>): string {
  if (finishedAt === null) return kind === 'pack' ? 'Finish packing' : `Finish ${stageWords[kind].toLowerCase()}`;
  return `Correct ${stageWords[kind].toLowerCase()}`;
}

/** Whether a smoke's stage sheet asks for the core: not before it has begun, when nobody can know it. */
export const asksCore = (kind: StageKind, finished: boolean, isNew: boolean): boolean => kind === 'smoke' && (finished || !isNew);

/** stage: null is a new one. says: the title of what opens, as its button has it. */
export interface Opens<S> {
  stage: S | null;
  says: string;
}

/**
 * What opens for a stage at which something is missing: that stage as it is recorded, else the one that runs and has to be finished first, else a new
 * one; once it is packed, cooling stands at the smoke. Null where nothing can: it is packed, and has no such stage.
 */
export function opensFor<S extends Pick<Stage, 'kind' | 'finishedAt'>>(batch: Before & { stages: readonly S[] }, kind: StageKind): Opens<S> | null {
  const told = (stage: S): Opens<S> => ({ stage, says: stageTitle(stage) });
  const there = batch.stages.find((s) => s.kind === kind);
  if (there) return told(there);
  if (batch.lastStage === 'pack') {
    const smoke = kind === 'cool' ? batch.stages.find((s) => s.kind === 'smoke') : undefined;
    return smoke ? told(smoke) : null;
  }
  const running = batch.stages.find((s) => s.finishedAt === null);
  if (running) return told(running);
  return { stage: null, says: stagesAhead(batch).includes(kind) ? `Record ${stageWords[kind].toLowerCase()}` : 'Record the next stage' };
}
