import type { z } from 'zod';
import type { labelRunBody, LabelRunView } from '../../contract/labels.ts';
import { labelWords } from '../../domain/labels/label.ts';
import type { LabelPack } from '../../domain/labels/label.ts';
import { labelPositions } from '../../domain/labels/positions.ts';
import { need } from '../../platform/auth/access.ts';
import type { Actor, Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { newId } from '../../platform/new-id.ts';
import type { Unit } from '../../platform/unit.ts';
import { packFacts } from '../packs/pack-facts.ts';
import { packCode } from '../packs/packs.lines.ts';
import { publicUrl } from '../packs/public-url.ts';
import { layoutOf } from './labels.layouts.ts';
import { prepareLabel, renderLabels } from './label-pdf.ts';
import * as store from './labels.store.ts';

/** Settles what is printed where. Each pack's print is counted, and a later one says that it is a reprint. */
export async function printLabels(context: Context, unit: Unit, body: z.infer<typeof labelRunBody>): Promise<LabelRunView> {
  const actor = need(unit.actor, 'crew');
  const packIds = [...new Set(body.packIds)];
  const layout = await layoutOf(context.database.prisma, body.layoutId);
  const positions = labelPositions(layout, body.startAt, packIds.length * body.copies);
  return unit.runRaw(async (query) => {
    const held = await store.holdPacks(query, packIds);
    const rows = packIds.map((id, index) => {
      const row = held.find((r) => r.id === id);
      if (!row) throw badField(`packIds.${index}`, id, 'This pack was not found.', 'Take it out of the list.', 'not-found');
      refuseGone(row, `packIds.${index}`);
      return row;
    });
    const club = await store.clubWords(query);
    const packs = await labelPacks(context, query, club, rows.map((row) => ({ ...row, reprint: row.printCount })));
    if (!body.markHeld) refuseHeld(packs);
    // Refused here, before anything is counted, when a label cannot carry its words.
    for (const pack of packs) prepareLabel(pack, layout, club.units);
    const id = newId(unit.now, context.random);
    await store.insertRun(query, { id, layout, startAt: body.startAt, copies: body.copies, by: actor.id, now: unit.now, packs: rows.map((row) => ({ id: row.id, reprint: row.printCount })) });
    return {
      id, pdfPath: `/api/label-runs/${id}/pdf`, labels: positions.length, pages: positions.at(-1)!.page + 1,
      reprints: packs.filter((pack) => pack.reprint > 0).length, onHold: packs.filter((pack) => labelWords(pack).warning !== null).length,
    };
  });
}

function refuseGone(row: store.LabelRow, field: string): void {
  if (row.status === 'discarded') throw badField(field, packCode(row), `${packCode(row)} is thrown away.`, 'Take it out of the list.', 'conflict');
  if (row.status === 'used') throw badField(field, packCode(row), `${packCode(row)} went into another batch.`, 'Take it out of the list.', 'conflict');
}

/** One refusal that names every pack that may not be shared, and why. */
function refuseHeld(packs: readonly LabelPack[]): void {
  const errors = packs.flatMap((pack, index) => {
    const { warning } = labelWords(pack);
    return warning ? [{ field: `packIds.${index}`, value: packCode(pack), message: `${packCode(pack)} gets no label: ${warning.heading === 'HOLD' ? 'on hold' : 'recalled'}. ${warning.reasons.join('. ')}`, remedy: 'Record what is missing on its batch, or mark it HOLD.' }] : [];
  });
  if (errors.length === 0) return;
  const more = errors.length > 1 ? ` And ${errors.length - 1} more.` : '';
  throw new ProblemError(packs.some((pack) => pack.recalled) ? 'recalled' : 'on-hold', `No label was made. ${errors[0]!.message}${more}`, { errors });
}

/** The labels of a run. Places and reprint numbers are as they were settled; words are as the packs are now. */
export async function drawLabels(context: Context, caller: Actor | null, id: string): Promise<Buffer> {
  need(caller, 'crew');
  const { query } = context.database;
  const found = await store.findRun(query, id);
  if (!found) throw notFound('This print run');
  for (const row of found.packs) refuseGone(row, 'id');
  const club = await store.clubWords(query);
  const packs = await labelPacks(context, query, club, found.packs);
  return renderLabels({ packs, layout: found.run.layout, startAt: found.run.startAt, copies: found.run.copies, weightOrder: club.units, createdAt: found.run.createdAt });
}

async function labelPacks(context: Context, query: RawQuery, club: store.ClubWords, rows: (store.LabelRow & { reprint: number })[]): Promise<LabelPack[]> {
  const factsOf = packFacts(query, club.timeZone);
  const packs: LabelPack[] = [];
  for (const row of rows) {
    const facts = await factsOf(row);
    packs.push({
      product: row.product, species: facts.species.join(', '), lot: row.lot, packNo: row.packNo, smokeDay: row.smokeDay, dateKind: row.dateKind, lastDay: row.lastDay,
      storageWords: facts.storageWords,
      extraWords: [
        `Contains: ${facts.allergens.join(', ')}`,
        ...facts.labelWords.filter((words) => words !== facts.storageWords),
        ...facts.advice.label.filter((words) => !words.startsWith('Contains:')),
      ],
      ingredients: facts.ingredients,
      netGrams: row.grams, madeBy: club.name, saleWords: club.saleWords, url: publicUrl(context, row.publicCode),
      hold: row.verdict === 'clear' ? null : { reason: facts.holdReason ?? '' }, recalled: row.recalled, reprint: row.reprint,
    });
  }
  return packs;
}
