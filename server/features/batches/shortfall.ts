import { formatGrams } from '../../domain/units.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import { replay } from './ledger.ts';
import { batchOf, ledgerInput, stagesOf } from './lineage.ts';
import type { Lineage } from './lineage.ts';
import { stageWord } from './stage-rules.ts';

const show = (grams: number) => formatGrams(grams, 'metric');

/** Refuses a correction after which something that happened later would have taken more than there was; names it. */
export function refuseShort(lineage: Lineage, field: string, value: unknown): void {
  const { short } = replay(ledgerInput(lineage));
  if (!short) return;
  const { event, held, asked } = short;
  const lot = batchOf(lineage).lot;
  if (event === null) {
    throw badField(field, value, `Lot ${lot} would have held ${show(Math.max(0, held))} to pack, but its packs weigh ${show(asked)}.`, 'Correct the packs first.', 'not-enough-left');
  }
  if (event.kind === 'stage') {
    const stage = stagesOf(lineage).find((s) => s.id === event.id)!;
    const took = stage.kind === 'pack' ? '' : `, but ${stage.kind} took in ${show(stage.massInG)}`;
    throw badField(field, value, `${stageWord(stage.kind)} of lot ${lot} would not be possible: ${show(Math.max(0, held))} on hand${took}.`, `Correct ${stage.kind} first.`, 'not-enough-left');
  }
  throw badField(field, value, `Lot ${lot} would have held ${show(Math.max(0, held))} when ${show(event.grams)} was drawn from it.`, 'Correct that draw first.', 'not-enough-left');
}
