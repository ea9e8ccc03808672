import { createHash } from 'node:crypto';
import type { LearntFit } from '../../contract/smokers.ts';
import { FITTING } from '../../domain/heat/fit.ts';
import type { SmokerFit, SmokerLog } from '../../domain/heat/fit.ts';
import { SMOKER_H } from '../../domain/heat/slab.ts';
import { logOfSmoke } from '../../domain/heat/smoke-log.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import type { ProblemError } from '../../platform/errors/problem-error.ts';
import { fitApart } from './fit-apart.ts';
import type { ChosenRow, SmokeList } from './smokers.store.ts';

/** A hash of all that a fit comes from; whoever reads a kept fit sees by it whether that is still so. */
export function evidenceOf(draught: LearntFit['draught'], chosen: readonly ChosenRow[]): string {
  const rows = chosen.map((c) => [c.id, c.startedAt.getTime(), c.finishedAt?.getTime() ?? null, c.undone, c.lists]);
  return createHash('sha256').update(JSON.stringify([FITTING, draught, rows])).digest('base64url');
}

/** All that a fit is made of, as it was read in one transaction. */
export type ToFit = { draught: LearntFit['draught']; chosen: readonly ChosenRow[]; logs: SmokerLog[]; addedId: string | null; evidence: string };

/** Refuses what cannot be learnt from, in a person's words, naming the smoke. */
export function toFit(draught: LearntFit['draught'], chosen: readonly ChosenRow[], lists: readonly SmokeList[], addedId: string | null): ToFit {
  return { draught, chosen, addedId, evidence: evidenceOf(draught, chosen), logs: chosen.map((smoke) => logOf(smoke, lists.filter((list) => list.smokeId === smoke.id), addedId)) };
}

/** Fits all the chosen smokes at once, from the start value of the draught, apart from the thread that answers. Refuses as toFit. */
export async function fitChosen({ draught, chosen, logs, addedId }: ToFit): Promise<SmokerFit> {
  const answer = await fitApart({ logs, priorHeat: SMOKER_H[draught] });
  if ('refused' in answer) throw inWords(answer.refused, chosen, addedId);
  if (!answer.fit.converged) throw badField('add', undefined, 'No heat transfer and humidity lie near these logs.', 'Check the thickness, and that the probe sat in the thickest place.');
  return answer.fit;
}

function logOf(smoke: ChosenRow, lists: readonly SmokeList[], addedId: string | null): SmokerLog {
  if (smoke.undone || smoke.finishedAt === null) throw unusable(smoke, addedId, 'Its smoke stage was undone or runs again.');
  const { core, chamber } = logOfSmoke({ id: smoke.stageId, startedAt: smoke.startedAt, finishedAt: smoke.finishedAt }, lists);
  if (core === null || chamber === null) throw unusable(smoke, addedId, `No ${core === null ? 'core' : 'chamber'} readings are left from the course of its smoke.`);
  return {
    speciesCode: smoke.speciesCode, thicknessMm: smoke.thicknessMm, facesOpen: smoke.facesOpen, waterPhaseSaltPct: smoke.saltPct ?? 0,
    core: core.readings, chamber: chamber.readings, unitConfirmed: core.unitConfirmed,
  };
}

const nameOf = (smoke: ChosenRow) => `${smoke.batchName}, lot ${smoke.lot}`;

/** About the smoke that is being added, or about one that was chosen before and has to go first. */
function unusable(smoke: ChosenRow, addedId: string | null, why: string): ProblemError {
  const added = smoke.id === addedId;
  return badField(added ? 'add.batchId' : 'remove', smoke.lot, `${nameOf(smoke)}: ${why}`, added ? 'Choose a smoke that was logged from start to end.' : 'Take it out of the list.');
}

function inWords({ field, message }: { field: string; message: string }, chosen: readonly ChosenRow[], addedId: string | null): ProblemError {
  const smoke = chosen[Number(/^logs\.(\d+)\./.exec(field)?.[1] ?? NaN)];
  return smoke ? unusable(smoke, addedId, message) : badField('add', undefined, message, 'Choose other smokes.');
}
