import type { SaltFigures } from '../../contract/cures.ts';
import type { CureFacts } from '../../domain/cure/cure-facts.ts';
import { learntSalt } from '../../domain/cure/learnt-salt.ts';
import type { CuredBatch } from '../../domain/cure/learnt-salt.ts';
import { localDay } from '../../domain/time.ts';
import type { Context } from '../../platform/context.ts';
import { zoneOf } from '../batches/batches.store.ts';
import { replay } from '../batches/ledger.ts';
import * as store from './salt-figures.store.ts';

/** What the club's laboratory figures say of how fast salt goes in, reckoned anew each time: a corrected record is followed at once. */
export async function saltFigures(context: Context): Promise<SaltFigures> {
  const { query } = context.database;
  const zone = await zoneOf(query);
  const rows = await store.measuredBatches(query);
  const untold = rows.filter((row) => row.cure === null);
  const { classes, leftOut } = learntSalt(rows.flatMap((row) => (row.cure === null ? [] : toCuredBatch(row, row.cure, zone))));
  return {
    measured: false, classes,
    leftOut: [
      ...leftOut,
      ...untold.flatMap((row) => row.figures.map((figure) => ({ batchId: row.batchId, lot: row.lot, figureId: figure.id, fat: null, why: whyUntold(row) }))),
    ],
  };
}

const whyUntold = ({ stages }: store.FigureRow): string =>
  stages?.some((s) => s.kind === 'cure') ? 'How it was cured is not recorded. Tell it at its cure stage.' : 'It has no cure stage of its own. Enter the figure with the batch that was cured.';

function toCuredBatch(row: store.FigureRow, { stageId, ...facts }: NonNullable<store.FigureRow['cure']>, zone: string): CuredBatch {
  const [stages, draws] = [row.stages ?? [], row.draws ?? []];
  const stage = stages.find((s) => s.id === stageId)!;
  const { before } = replay({
    packedGrams: 0,
    events: [...draws.map(({ out, species: _, ...d }) => ({ ...d, kind: out ? ('out' as const) : ('in' as const) })), ...stages.map(({ kind, ...s }) => ({ ...s, kind: 'stage' as const, stage: kind }))],
  });
  const day = (at: string) => localDay(new Date(at), zone);
  return {
    batchId: row.batchId, lot: row.lot, facts: facts as CureFacts, figures: row.figures, massInG: stage.massInG, massOutG: stage.massOutG, trimG: stage.trimG, heldG: before.get(stageId)!,
    minutes: stage.finishedAt === null ? null : (Date.parse(stage.finishedAt) - Date.parse(stage.startedAt)) / 60_000,
    cures: stages.filter((s) => s.kind === 'cure').length, joinedAfter: draws.some((d) => !d.out && d.eventNo > stage.eventNo), packedDay: row.packedAt === null ? null : day(row.packedAt),
    species: draws.flatMap((d) => (d.out || d.species === null ? [] : { code: d.species, grams: d.grams })),
    later: stages.filter((s) => s.seq > stage.seq && s.kind !== 'pack').map((s) => ({ kind: s.kind, startedDay: day(s.startedAt), finishedDay: s.finishedAt === null ? null : day(s.finishedAt), massInG: s.massInG, massOutG: s.massOutG, trimG: s.trimG })),
  };
}
