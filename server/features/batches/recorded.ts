import { once, stagesOf } from './lineage.ts';
import type { Lineage, LineageStage } from './lineage.ts';

/** An instant as the database writes it. */
export const at = (text: string | null) => (text === null ? null : new Date(text));

/** What is recorded of one batch of the lineage alone, without what its fish went through before. */
export const recordedOf = (lineage: Lineage, id: string) => once(lineage, `recorded ${id}`, () => {
  const stages = stagesOf(lineage, id).map((s) => ({ id: s.id, kind: s.kind, startedAt: new Date(s.startedAt), finishedAt: at(s.finishedAt), maxCoreC: s.maxCoreC, coreUnitConfirmed: s.coreUnitConfirmed, holdMinutes: s.holdMinutes, cooledTo21At: at(s.cooledTo21At), cooledAt: at(s.cooledAt), maxPlaceC: s.maxPlaceC }));
  const of = (kind: LineageStage['kind']) => stages.find((s) => s.kind === kind) ?? null;
  return { stages, smoke: of('smoke'), mix: of('mix'), readings: lineage.readings.filter((list) => list.batchId === id) };
});
