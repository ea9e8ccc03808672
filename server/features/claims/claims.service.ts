import type { z } from 'zod';
import type { Claim, claimBody, claimDecisionBody, claimMoveBody, claimQuery, claimSeveralBody } from '../../contract/packs.ts';
import { localDay } from '../../domain/time.ts';
import { isCaptain, isCrew, need } from '../../platform/auth/access.ts';
import { clubSettings } from '../../platform/club-settings.ts';
import type { Actor, Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { refuseTogether } from '../../platform/errors/refuse-together.ts';
import { decodeCursor, pageOf } from '../../platform/http/cursor.ts';
import { newId } from '../../platform/new-id.ts';
import type { Unit } from '../../platform/unit.ts';
import { whyNotShareable } from '../packs/pack-rules.ts';
import { packCode, toPackLine } from '../packs/packs.lines.ts';
import * as store from './claims.store.ts';

type Decision = z.infer<typeof claimDecisionBody>;
type Move = z.infer<typeof claimMoveBody>;

function toClaim(row: store.ClaimRow, actor: Actor): Claim {
  const { thisId, thisMemberId, thisMemberName, thisStatus, thisNote, thisReason, thisCreatedAt, thisDecidedAt, decidedById, decidedByName, thisVersion, ...pack } = row;
  return {
    id: thisId, pack: toPackLine(pack, actor), member: { id: thisMemberId, name: thisMemberName }, status: thisStatus, note: thisNote, reason: thisReason,
    createdAt: thisCreatedAt.toISOString(), decidedAt: thisDecidedAt?.toISOString() ?? null,
    decidedBy: decidedById ? { id: decidedById, name: decidedByName ?? '' } : null, version: thisVersion,
  };
}

/** Members read their own claims, crew and captains everybody's. */
export async function listClaims(context: Context, caller: Actor | null, q: z.infer<typeof claimQuery>): Promise<{ items: Claim[]; nextCursor: string | null }> {
  const actor = need(caller, 'member');
  const memberId = q.mine || !isCrew(actor) ? actor.id : (q.memberId ?? null);
  const after = decodeCursor(q.cursor, ['instant', 'uuid']);
  const rows = await store.listClaims(context.database.query, { memberId, status: q.status ?? null, after, limit: q.limit });
  return pageOf(rows, q.limit, (row) => toClaim(row, actor), (row) => [row.thisCreatedAt.toISOString(), row.thisId]);
}

/** For oneself; a captain for any member. */
function claimant(unit: Unit, memberId: string | undefined): { actor: Actor; memberId: string } {
  const actor = need(unit.actor, 'member');
  if (memberId !== undefined && memberId !== actor.id && !isCaptain(actor)) throw new ProblemError('not-allowed', 'Only a captain claims for somebody else. Claim it for yourself, or ask a captain.');
  return { actor, memberId: memberId ?? actor.id };
}

export async function claimPack(context: Context, unit: Unit, body: z.infer<typeof claimBody>): Promise<Claim> {
  const { actor, memberId } = claimant(unit, body.memberId);
  return unit.runRaw(async (query) => {
    const today = localDay(unit.now, (await clubSettings(query)).timeZone);
    const made = await store.takePack(query, { id: newId(unit.now, context.random), packId: body.packId, memberId, note: body.note, now: unit.now, today });
    if (made) return toClaim(made, actor);
    throw await whyNot(query, body.packId, memberId, today, actor);
  });
}

/** Claims all of the packs, or none: the refusal names each that is not to be had. */
export async function claimSeveral(context: Context, unit: Unit, body: z.infer<typeof claimSeveralBody>): Promise<{ items: Claim[] }> {
  const { actor, memberId } = claimant(unit, body.memberId);
  const packIds = [...new Set(body.packIds)];
  return unit.runRaw(async (query) => {
    // All batches first, by id, as everywhere: two people who choose the same packs in another order wait, and do not lock each other out.
    await store.lockBatchesOf(query, packIds);
    const today = localDay(unit.now, (await clubSettings(query)).timeZone);
    const made: Claim[] = [];
    const refused: ProblemError[] = [];
    for (const packId of packIds) {
      const taken = await store.takePack(query, { id: newId(unit.now, context.random), packId, memberId, note: body.note, now: unit.now, today });
      if (taken) made.push(toClaim(taken, actor));
      else refused.push(atPlace(await whyNot(query, packId, memberId, today, actor), body.packIds.indexOf(packId), packId));
    }
    refuseTogether('Nothing was claimed.', refused);
    return { items: made };
  });
}

/** The refusal of one pack, said of its place in the list. */
function atPlace(problem: ProblemError, index: number, packId: string): ProblemError {
  const [error] = problem.more.errors ?? [];
  if (!error) return badField(`packIds.${index}`, packId, 'This pack was not found.', 'Take it out of the list.', 'not-found');
  if (error.field !== 'packId') return problem;
  return badField(`packIds.${index}`, packId, error.message, error.remedy, problem.code);
}

/** Why a pack cannot be claimed, in the words that help most. */
async function whyNot(query: RawQuery, packId: string, memberId: string, today: string, actor: Actor): Promise<ProblemError> {
  const pack = await store.findPack(query, packId);
  if (!pack) return notFound('This pack');
  if (!(await store.findMember(query, memberId))) return badField('memberId', memberId, 'There is no such member, or they have left.', 'Choose a member of the club.', 'not-found');
  const code = packCode(pack);
  if (pack.status === 'claimed' && pack.claimMemberId === memberId) {
    return badField('packId', packId, memberId === actor.id ? `You have claimed ${code} already.` : `${pack.claimMemberName} has claimed ${code} already.`, 'Look at the claims.', 'already-claimed');
  }
  if (pack.status === 'claimed') return badField('packId', packId, `Somebody else claimed ${code}.`, 'Choose another pack.', 'already-claimed');
  if (pack.status === 'handed-over') return badField('packId', packId, `${code} has gone to somebody already.`, 'Choose another pack.', 'already-claimed');
  if (pack.status !== 'ready') return badField('packId', packId, `${code} is not there any more.`, 'Choose another pack.', 'conflict');
  return whyNotShareable(pack, today, 'packId') ?? badField('packId', packId, `Somebody else claimed ${code}.`, 'Choose another pack.', 'already-claimed');
}

export async function confirmClaim(unit: Unit, id: string, body: Decision): Promise<Claim> {
  return settle(unit, need(unit.actor, 'captain'), id, body, async (query, claim) => {
    if (claim.thisStatus !== 'asked') throw over(claim, 'confirm');
    const today = localDay(unit.now, (await clubSettings(query)).timeZone);
    const refusal = whyNotShareable(claim, today, 'packId');
    if (refusal) throw refusal;
    return 'confirmed';
  });
}

export async function refuseClaim(unit: Unit, id: string, body: Decision): Promise<Claim> {
  return settle(unit, need(unit.actor, 'captain'), id, body, async (query, claim) => {
    await freePack(query, claim, 'refuse');
    return 'refused';
  });
}

export async function withdrawClaim(unit: Unit, id: string, body: Decision): Promise<Claim> {
  const actor = need(unit.actor, 'member');
  return settle(unit, actor, id, body, async (query, claim) => {
    if (claim.thisMemberId !== actor.id) throw new ProblemError('not-allowed', 'Only the member who claimed it withdraws a claim. A captain refuses or moves it.');
    await freePack(query, claim, 'withdraw');
    return 'withdrawn';
  });
}

/** Moves a claim to another pack for the same member, or the same pack to another member; either is confirmed at once. */
export async function moveClaim(context: Context, unit: Unit, id: string, body: Move): Promise<Claim> {
  const actor = need(unit.actor, 'captain');
  return unit.runRaw(async (query) => {
    const claim = await hold(query, actor, id, body, body.toPackId);
    const today = localDay(unit.now, (await clubSettings(query)).timeZone);
    const packId = body.toPackId ?? claim.id;
    const memberId = body.toMemberId ?? claim.thisMemberId;
    if (packId === claim.id && memberId === claim.thisMemberId) throw badField('toMemberId', body.toMemberId ?? body.toPackId, 'The claim is there already.', 'Choose another pack or member.', 'conflict');
    await freePack(query, claim, 'move');
    const refused = await refusalToTake(query, packId, memberId, today, actor);
    if (refused) throw refused;
    await mustDecide(query, claim, body, { status: 'moved', reason: body.reason, by: actor.id, at: unit.now });
    if (!(await store.setPackStatus(query, packId, 'ready', 'claimed'))) throw await whyNot(query, packId, memberId, today, actor);
    const madeId = newId(unit.now, context.random);
    await store.insertConfirmed(query, { id: madeId, packId, memberId, note: claim.thisNote, by: actor.id, at: unit.now });
    return toClaim((await store.findClaim(query, madeId))!, actor);
  }, { reason: body.reason });
}

async function refusalToTake(query: RawQuery, packId: string, memberId: string, today: string, actor: Actor): Promise<ProblemError | null> {
  const pack = await store.findPack(query, packId);
  const usable = pack?.status === 'ready' && (await store.findMember(query, memberId)) && !whyNotShareable(pack, today, 'packId');
  return usable ? null : whyNot(query, packId, memberId, today, actor);
}

type Settle = (query: RawQuery, claim: store.ClaimRow) => Promise<store.ClaimStatus>;

function settle(unit: Unit, actor: Actor, id: string, body: Decision, work: Settle): Promise<Claim> {
  return unit.runRaw(async (query) => {
    const claim = await hold(query, actor, id, body);
    const status = await work(query, claim);
    await mustDecide(query, claim, body, { status, reason: body.reason, by: actor.id, at: unit.now });
    return toClaim((await store.findClaim(query, id))!, actor);
  }, { reason: body.reason });
}

/** The claim, with its pack's batch held. A member finds no claims but their own. */
async function hold(query: RawQuery, actor: Actor, id: string, body: { version: number }, alsoPackId?: string): Promise<store.ClaimRow> {
  const first = await store.findClaim(query, id);
  if (!first || (first.thisMemberId !== actor.id && !isCrew(actor))) throw notFound('This claim');
  await store.lockBatchesOf(query, alsoPackId ? [first.id, alsoPackId] : [first.id]);
  const claim = (await store.findClaim(query, id)) ?? first;
  if (claim.thisVersion !== body.version) throw staleClaim(claim, body);
  return claim;
}

async function mustDecide(query: RawQuery, claim: store.ClaimRow, body: { version: number }, decision: Parameters<typeof store.decide>[3]): Promise<void> {
  if (!(await store.decide(query, claim.thisId, body.version, decision))) throw new ProblemError('stale-edit', 'Somebody changed this claim just now. Look at it again.');
}

function staleClaim(claim: store.ClaimRow, body: { version: number }): ProblemError {
  return new ProblemError('stale-edit', 'Somebody changed this claim meanwhile. Look at what is there now, then decide again.', {
    changes: [{ field: 'status', theirs: claim.thisStatus }, { field: 'version', yours: body.version, theirs: claim.thisVersion }],
  });
}

async function freePack(query: RawQuery, claim: store.ClaimRow, verb: string): Promise<void> {
  const standing = claim.thisStatus === 'asked' || claim.thisStatus === 'confirmed';
  if (!standing || !(await store.setPackStatus(query, claim.id, 'claimed', 'ready'))) throw over(claim, verb);
}

const over = (claim: store.ClaimRow, verb: string) =>
  new ProblemError('conflict', `This claim is ${claim.thisStatus === 'handed-over' ? 'handed over' : claim.thisStatus} already, so there is nothing to ${verb}.`);
