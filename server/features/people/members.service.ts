import type { z } from 'zod';
import type { Member, leaveBody, memberPatch } from '../../contract/people.ts';
import { isCaptain, need } from '../../platform/auth/access.ts';
import { endAllSessions } from '../../platform/auth/sessions.ts';
import type { Actor, Context } from '../../platform/context.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
import { withdrawInvitationsBy, withdrawInvitationsFor } from './invitations.store.ts';
import * as store from './members.store.ts';
import { endResetsBy, endResetsFor } from './resets.store.ts';

const toMember = ({ joinedAt, leftAt, ...row }: store.MemberRow): Member => ({ ...row, joinedAt: joinedAt.toISOString(), leftAt: leftAt?.toISOString() ?? null });

/** Those who left are listed too: their fish and packs still bear their names. */
export async function listMembers(context: Context, actor: Actor | null): Promise<{ items: Member[] }> {
  need(actor, 'member');
  return { items: (await store.listMembers(context.database.query)).map(toMember) };
}

export async function showMember(context: Context, actor: Actor | null, id: string): Promise<Member> {
  need(actor, 'member');
  const row = await store.findMember(context.database.query, id);
  if (!row) throw notFound('This member');
  return toMember(row);
}

/** A captain changes anybody's name and role, everybody else their own name. */
export async function changeMember(unit: Unit, id: string, patch: z.infer<typeof memberPatch>): Promise<Member> {
  const actor = need(unit.actor, 'member');
  const { version, ...fields } = patch;
  return unit.runRaw(async (query) => {
    await store.lockClub(query);
    const present = await store.findMember(query, id);
    if (!present) throw notFound('This member');
    checkMayChange(actor, present, patch);
    const changed = await store.updateMember(query, id, version, fields);
    if (!changed) throw refuseStale('member', patch, toMember(present));
    if (present.role === 'captain' && changed.role !== 'captain') await endLinksBy(query, id, unit.now);
    return toMember(changed);
  });
}

function checkMayChange(actor: Actor, present: store.MemberRow, patch: z.infer<typeof memberPatch>): void {
  if (!isCaptain(actor)) {
    if (actor.id !== present.id) throw new ProblemError('not-allowed', 'Only a captain changes another member.');
    if (patch.role !== undefined && patch.role !== present.role) throw new ProblemError('not-allowed', 'Only a captain changes roles. Ask one.');
  }
  if (present.leftAt && patch.role !== undefined && patch.role !== present.role) {
    throw badField('role', patch.role, `${present.name} has left the club.`, 'Invite them again to give them a role.', 'conflict');
  }
}

/**
 * A captain lets somebody go, or a member leaves. Their history stays; their access ends at once, on every device; what
 * they claimed is free again, and links that they made no longer work.
 */
export async function leave(unit: Unit, id: string, body: z.infer<typeof leaveBody>): Promise<Member> {
  const actor = need(unit.actor, 'member');
  if (!isCaptain(actor) && actor.id !== id) throw new ProblemError('not-allowed', 'Only a captain can do this for another member.');
  return unit.runRaw(async (query) => {
    await store.lockClub(query);
    await store.lockClaimedBatches(query, id);
    await store.lockWhole(query, id);
    const left = await store.markLeft(query, id, body.version, unit.now);
    if (!left) {
      const present = await store.findMember(query, id);
      if (!present) throw notFound('This member');
      if (present.leftAt) throw badField('id', id, `${present.name} has left already.`, 'There is nothing to do.', 'conflict');
      throw refuseStale('member', body, toMember(present));
    }
    await endAllSessions(query, id, unit.now);
    await store.withdrawClaims(query, id, 'Left the club');
    await endLinksBy(query, id, unit.now);
    await endResetsFor(query, id, unit.now);
    // One that a captain made while the member was on the way back would let them in again by themselves.
    await withdrawInvitationsFor(query, id, unit.now);
    return toMember(left);
  });
}

/** Whoever is no captain any more has no invitation or reset link out in the world. */
async function endLinksBy(query: Parameters<typeof withdrawInvitationsBy>[0], id: string, now: Date): Promise<void> {
  await withdrawInvitationsBy(query, id, now);
  await endResetsBy(query, id, now);
}
