import type { ProblemError } from '../../platform/errors/problem-error.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import { checkInstant, checkTemperatureC } from '../../domain/plausible.ts';
import { checkSmokeEvidence } from '../../domain/evidence.ts';
import { formatLocal } from '../../domain/time.ts';
import { STAGE_ORDER, STAGES_OF } from '../../domain/working.ts';
import type { Day, ProductKind, StageKind } from '../../domain/working.ts';

export type StageTimes = { seq: number; kind: StageKind; startedAt: Date; finishedAt: Date | null };
type Present = { seq: number; kind: StageKind; startedAt: string; finishedAt: string | null };

/** One lot for each smoker load (rule lot.code), one day of mixing, one packing. */
const ONCE: readonly StageKind[] = ['smoke', 'mix', 'pack'];

export const stageWord = (kind: StageKind) => kind.charAt(0).toUpperCase() + kind.slice(1);

export function checkKind(product: ProductKind, kind: StageKind): void {
  if (STAGES_OF[product].includes(kind)) return;
  throw badField('kind', kind, `A ${product} batch has no ${kind} stage.`, `Choose one of: ${STAGES_OF[product].join(', ')}.`);
}

const outOfOrder = (field: string, value: unknown, message: string, remedy: string): ProblemError => badField(field, value, message, remedy, 'stage-order');

/**
 * Refuses a stage that does not fit between those before and after it (by seq): one runs at a time, the kinds keep their
 * usual order, and none starts before the one before it was finished. Names the stage that is in the way.
 */
export function checkPlace(stage: StageTimes, others: readonly Present[], zone: string): void {
  const word = stageWord(stage.kind);
  const rank = STAGE_ORDER.indexOf(stage.kind);
  const show = (at: string | Date) => formatLocal(new Date(at), zone, 'day-time');
  for (const other of others) {
    const otherRank = STAGE_ORDER.indexOf(other.kind);
    if (other.kind === stage.kind && ONCE.includes(stage.kind)) {
      throw badField('kind', stage.kind, `This batch has its ${stage.kind} stage already.`, stage.kind === 'smoke' ? 'Correct that one, or make a batch of its own for each smoker load.' : 'Correct that one.', 'conflict');
    }
    if (other.seq < stage.seq) {
      if (other.finishedAt === null) throw badField('kind', stage.kind, `${stageWord(other.kind)} is running since ${show(other.startedAt)}.`, 'Finish it first.', 'conflict');
      if (otherRank > rank) throw outOfOrder('kind', stage.kind, `${word} comes before ${other.kind}, which this batch has been through.`, `Undo ${other.kind} first if it was a slip.`);
      if (stage.startedAt < new Date(other.finishedAt)) {
        throw outOfOrder('startedAt', stage.startedAt.toISOString(), `${word} would start before ${other.kind} was finished, at ${show(other.finishedAt)}.`, 'Check both times.');
      }
    } else {
      if (stage.finishedAt === null) throw outOfOrder('finishedAt', null, `${stageWord(other.kind)} came after ${stage.kind}, so it cannot be open.`, `Undo ${other.kind} first.`);
      if (otherRank < rank) throw outOfOrder('kind', stage.kind, `${word} comes after ${other.kind}.`, `Undo ${other.kind} first if it was a slip.`);
      if (stage.finishedAt > new Date(other.startedAt)) {
        throw outOfOrder('finishedAt', stage.finishedAt.toISOString(), `${stageWord(other.kind)} started at ${show(other.startedAt)}, before ${stage.kind} would be finished.`, `Check both times, or correct ${other.kind} first.`);
      }
    }
  }
}

export type StageRecord = {
  kind: StageKind; startedAt: Date; dueAt: Date | null; finishedAt: Date | null;
  maxCoreC: number | null; holdMinutes: number | null; cooledTo21At: Date | null; cooledAt: Date | null; fromFrozen: boolean; maxPlaceC: number | null; coreUnitConfirmed: boolean; addedLastDay: Day | null;
};

/** Refuses times that cannot be, and evidence that is impossible or stands at the wrong stage. */
export function checkRecord(stage: StageRecord, now: Date): void {
  checkInstant(stage.startedAt, now, 'startedAt');
  if (stage.finishedAt) {
    checkInstant(stage.finishedAt, now, 'finishedAt');
    if (stage.finishedAt < stage.startedAt) throw badField('finishedAt', stage.finishedAt.toISOString(), `It finishes before it starts, at ${stage.startedAt.toISOString()}.`, 'Check both times.');
  }
  if (stage.dueAt && stage.dueAt < stage.startedAt) throw badField('dueAt', stage.dueAt.toISOString(), 'It is due before it starts.', 'Check both times.');
  refuseEvidence(stage);
  if (stage.fromFrozen && stage.kind !== 'prepare') throw badField('fromFrozen', true, `Fish comes out of a freezer before it is prepared, not at ${stage.kind}.`, 'Say so at the stage of preparing.');
  if (stage.coreUnitConfirmed && stage.maxCoreC === null) throw badField('coreUnitConfirmed', true, 'There is no core temperature whose unit could be sure.', 'Enter the core temperature, or leave this out.');
  if (stage.addedLastDay !== null && Number(stage.addedLastDay.slice(0, 4)) > stage.startedAt.getUTCFullYear() + 10) throw badField('addedLastDay', stage.addedLastDay, 'That is more than ten years ahead.', 'Check the year.');
  if (stage.maxPlaceC !== null) checkTemperatureC(stage.maxPlaceC, 'air', 'maxPlaceC');
  for (const field of ['cooledTo21At', 'cooledAt'] as const) {
    const at = stage[field];
    if (!at) continue;
    checkInstant(at, now, field);
    if (stage.kind !== 'smoke' && at < stage.startedAt) throw badField(field, at.toISOString(), `It was cool before ${stage.kind === 'mix' ? 'mixing' : 'cooling'} started.`, 'Check both times.');
    if (stage.kind === 'smoke' && !stage.finishedAt) throw badField(field, at.toISOString(), 'It cannot be cool while smoking is not finished.', 'Finish the smoke stage first.');
  }
  if (stage.kind !== 'smoke') return checkSmokeEvidence({ maxCoreC: null, holdMinutes: null, smokeFinishedAt: null, cooledTo21At: stage.cooledTo21At, cooledAt: stage.cooledAt });
  if (stage.maxCoreC !== null) checkTemperatureC(stage.maxCoreC, 'core', 'maxCoreC');
  checkHold(stage);
  checkSmokeEvidence({ maxCoreC: stage.maxCoreC, holdMinutes: stage.holdMinutes, smokeFinishedAt: stage.finishedAt, cooledTo21At: stage.cooledTo21At, cooledAt: stage.cooledAt });
}

/** What is typed as evidence, and the stages at which it may stand: cooling also at the smoke, where it was asked for once; a dip is cold again by its mixing. */
const EVIDENCE_AT = { maxCoreC: ['smoke'], holdMinutes: ['smoke'], cooledTo21At: ['cool', 'smoke'], cooledAt: ['cool', 'smoke', 'mix'], maxPlaceC: ['cure'], addedLastDay: ['mix'] } as const;

function refuseEvidence(stage: StageRecord): void {
  for (const field of Object.keys(EVIDENCE_AT) as (keyof typeof EVIDENCE_AT)[]) {
    const value = stage[field];
    const stages: readonly StageKind[] = EVIDENCE_AT[field];
    if (value !== null && !stages.includes(stage.kind)) throw badField(field, value instanceof Date ? value.toISOString() : value, `This belongs to the ${stages[0]} stage, not to ${stage.kind}.`, 'Enter it there.');
  }
}

function checkHold({ holdMinutes, startedAt, finishedAt }: StageRecord): void {
  if (holdMinutes === null || finishedAt === null) return;
  const lasted = (finishedAt.getTime() - startedAt.getTime()) / 60_000;
  if (holdMinutes > lasted) throw badField('holdMinutes', holdMinutes, `Smoking lasted ${Math.floor(lasted)} minutes, so it cannot have been hot for ${holdMinutes}.`, 'Check the minutes and both times.');
}
