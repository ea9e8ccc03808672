import type { z } from 'zod';
import type { giftBody, HandOver, handOverBody, handOverQuery, recipient, undoBody } from '../../contract/packs.ts';
import { checkInstant } from '../../domain/plausible.ts';
import { formatLocal, localDay } from '../../domain/time.ts';
import { isCrew, need } from '../../platform/auth/access.ts';
import { clubSettings } from '../../platform/club-settings.ts';
import type { Actor, Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { refuseTogether } from '../../platform/errors/refuse-together.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import { decodeCursor, pageOf } from '../../platform/http/cursor.ts';
import { newId } from '../../platform/new-id.ts';
import type { Unit } from '../../platform/unit.ts';
import { whyNotShareable } from '../packs/pack-rules.ts';
import { packCode } from '../packs/packs.lines.ts';
import * as store from './hand-overs.store.ts';

type Recipient = z.infer<typeof recipient>;
type Target = { memberId: string | null; name: string | null };

export const toHandOver = (row: store.HandOverRow, actor: Actor): HandOver => ({
  id: row.id, packId: row.packId, pack: packCode(row), product: row.product, grams: row.grams, kind: row.kind, from: row.fromName, to: row.toName,
  handedAt: row.handedAt.toISOString(), by: { id: row.byId, name: row.byName }, note: row.note, undone: row.undone,
  fromMe: row.fromMemberId === actor.id, recalled: row.recalled, verdict: row.verdict, notMet: row.notMet, told: row.told, version: row.version,
});

/** Whether the actor may read a hand-over: crew reads all, a member those from or to themselves. */
export const maySee = (row: store.HandOverRow, actor: Actor): boolean => isCrew(actor) || row.fromMemberId === actor.id || row.toMemberId === actor.id;

export async function listHandOvers(context: Context, caller: Actor | null, q: z.infer<typeof handOverQuery>): Promise<{ items: HandOver[]; nextCursor: string | null }> {
  const actor = need(caller, 'member');
  const after = decodeCursor(q.cursor, ['instant', 'uuid']);
  const rows = await store.listHandOvers(context.database.query, { of: q.passedOn || isCrew(actor) ? null : actor.id, passedOnBy: q.passedOn ? actor.id : null, after, limit: q.limit });
  return pageOf(rows, q.limit, (row) => toHandOver(row, actor), (row) => [row.createdAt.toISOString(), row.id]);
}

/** Hands packs from the club to one member or named recipient: all of them, or none. */
export async function handOver(context: Context, unit: Unit, body: z.infer<typeof handOverBody>): Promise<{ items: HandOver[] }> {
  const actor = need(unit.actor, 'crew');
  const packIds = [...new Set(body.packIds)];
  const handedAt = checkInstant(body.handedAt ? new Date(body.handedAt) : unit.now, unit.now, 'handedAt');
  return unit.runRaw(async (query) => {
    const packs = await store.holdPacks(query, packIds);
    const target = await findTarget(query, body.to);
    const { timeZone } = await clubSettings(query);
    const today = localDay(unit.now, timeZone);
    refuseTogether('Nothing was handed over.', packIds.flatMap((id, index) => whyNotGiven(packs.find((pack) => pack.id === id), { index, target, today, handedAt, timeZone })));
    const ids = packIds.map(() => newId(unit.now, context.random));
    await store.give(query, { ids, packIds, kind: 'hand-over', fromMemberId: null, toMemberId: target.memberId, toName: target.name, handedAt, note: body.note, by: actor.id, now: unit.now });
    return { items: (await store.findHandOvers(query, ids)).map((row) => toHandOver(row, actor)) };
  });
}

type Given = { index: number; target: Target; today: string; handedAt: Date; timeZone: string };

function whyNotGiven(pack: store.PackToGive | undefined, given: Given): ProblemError[] {
  const field = `packIds.${given.index}`;
  if (!pack) return [badField(field, undefined, 'This pack was not found.', 'Take it out of the list.', 'not-found')];
  const code = packCode(pack);
  if (pack.status === 'handed-over') return [badField(field, code, `${code} has gone to ${pack.holderName} already.`, 'Take it out of the list.', 'conflict')];
  if (pack.status === 'used' || pack.status === 'discarded') return [badField(field, code, `${code} is ${pack.status === 'used' ? 'used in another batch' : 'discarded'}.`, 'Take it out of the list.', 'conflict')];
  if (pack.status === 'claimed' && pack.claimMemberId !== given.target.memberId) {
    return [badField(field, code, `${code} is claimed by ${pack.claimMemberName}.`, 'Hand it to them, or have a captain move or refuse the claim.', 'already-claimed')];
  }
  const held = whyNotShareable(pack, given.today, field);
  if (held) return [held];
  if (given.handedAt < pack.packedAt) {
    return [badField('handedAt', given.handedAt.toISOString(), `${code} was packed later, ${formatLocal(pack.packedAt, given.timeZone, 'day-time')}.`, 'Check the time.')];
  }
  return [];
}

async function findTarget(query: RawQuery, to: Recipient): Promise<Target> {
  if (to.memberId === undefined) return { memberId: null, name: to.name! };
  if (!(await store.findMember(query, to.memberId))) throw badField('to.memberId', to.memberId, 'There is no such member, or they have left.', 'Choose a member, or write a name.', 'not-found');
  return { memberId: to.memberId, name: null };
}

/** A member passes a pack that they hold on to somebody. */
export async function giveOn(context: Context, unit: Unit, body: z.infer<typeof giftBody>): Promise<HandOver> {
  const actor = need(unit.actor, 'member');
  return unit.runRaw(async (query) => {
    const [pack] = await store.holdPacks(query, [body.packId]);
    const target = await findTarget(query, body.to);
    if (target.memberId === actor.id) throw badField('to.memberId', target.memberId, 'That is you.', 'Choose somebody else.', 'conflict');
    if (!pack) throw notFound('This pack');
    if (pack.status !== 'handed-over' || pack.holderId !== actor.id) throw new ProblemError('not-allowed', `Only the member who has ${packCode(pack)} passes it on.`);
    const held = whyNotShareable(pack, localDay(unit.now, (await clubSettings(query)).timeZone), 'packId');
    if (held) throw held;
    const id = newId(unit.now, context.random);
    await store.give(query, { ids: [id], packIds: [pack.id], kind: 'gift', fromMemberId: actor.id, toMemberId: target.memberId, toName: target.name, handedAt: unit.now, note: body.note, by: actor.id, now: unit.now });
    return toHandOver((await store.findHandOvers(query, [id]))[0]!, actor);
  });
}

/** Takes the last step of a pack back: a gift goes back to its giver, a hand-over to the club. */
export async function undoHandOver(unit: Unit, id: string, body: z.infer<typeof undoBody>): Promise<HandOver> {
  const actor = need(unit.actor, 'captain');
  return unit.runRaw(async (query) => {
    const [first] = await store.findHandOvers(query, [id]);
    if (!first) throw notFound('This hand-over');
    const [pack] = await store.holdPacks(query, [first.packId]);
    const row = (await store.findHandOvers(query, [id]))[0]!;
    if (row.undone) throw new ProblemError('conflict', `This hand-over of ${packCode(row)} is undone already.`);
    if (row.version !== body.version) throw refuseStale('hand-over', body, toHandOver(row, actor));
    if (pack!.status !== 'handed-over' || !(await store.isLast(query, row))) {
      throw new ProblemError('conflict', `${packCode(row)} went on to somebody else or into another batch since. Undo that first.`);
    }
    await store.cancel(query, id, body.version, unit.now);
    await takeBack(query, row, pack!, { reason: body.reason, by: actor.id, at: unit.now });
    return toHandOver((await store.findHandOvers(query, [id]))[0]!, actor);
  }, { reason: body.reason });
}

async function takeBack(query: RawQuery, row: store.HandOverRow, pack: store.PackToGive, c: { reason: string; by: string; at: Date }): Promise<void> {
  if (row.kind === 'gift') return store.putBack(query, row.packId, 'handed-over', row.fromMemberId);
  const claimed = pack.claimStatus === 'handed-over';
  // A claim comes back to life only where one could be made: not of what is on hold or recalled, nor for one who left.
  const stands = claimed && pack.verdict === 'clear' && !pack.recalled && (await store.findMember(query, pack.claimMemberId!)) !== null;
  await store.putBack(query, row.packId, stands ? 'claimed' : 'ready', null);
  if (claimed) await store.reopenClaim(query, row.packId, { status: stands ? 'confirmed' : 'refused', ...c });
}
