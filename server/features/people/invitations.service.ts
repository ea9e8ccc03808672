import type { z } from 'zod';
import type { Invitation, acceptInvitationBody, invitationBody, invitationLook, madeInvitation } from '../../contract/people.ts';
import { need } from '../../platform/auth/access.ts';
import { hashPassword } from '../../platform/auth/passwords.ts';
import { startSession } from '../../platform/auth/sessions.ts';
import type { StartedSession } from '../../platform/auth/sessions.ts';
import { hashToken } from '../../platform/auth/tokens.ts';
import type { Actor, Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { newId } from '../../platform/new-id.ts';
import { actAs } from '../../platform/unit.ts';
import type { Unit } from '../../platform/unit.ts';
import { findClub } from '../club/club.store.ts';
import { sessionAfterReplay } from '../session/session.service.ts';
import * as store from './invitations.store.ts';
import { linkHash, linkOf } from './links.ts';
import { findMember, insertMember, lockClub, lockWhole, welcomeBack } from './members.store.ts';

const DAY_MS = 86_400_000;

function stateOf(row: store.InvitationRow, now: Date): Invitation['state'] {
  if (row.usedAt) return 'used';
  if (row.withdrawnAt) return 'withdrawn';
  return row.expiresAt <= now ? 'expired' : 'open';
}

const toInvitation = (row: store.InvitationRow, now: Date): Invitation => ({
  id: row.id,
  role: row.role,
  note: row.note,
  invitedBy: { id: row.invitedById, name: row.invitedBy },
  createdAt: row.createdAt.toISOString(),
  expiresAt: row.expiresAt.toISOString(),
  state: stateOf(row, now),
  usedBy: row.usedById && row.usedBy !== null ? { id: row.usedById, name: row.usedBy } : null,
  returning: row.forMemberId && row.forMember !== null ? { id: row.forMemberId, name: row.forMember } : null,
});

export async function listInvitations(context: Context, actor: Actor | null): Promise<{ items: Invitation[] }> {
  need(actor, 'captain');
  const now = context.clock();
  return { items: (await store.listInvitations(context.database.query)).map((row) => toInvitation(row, now)) };
}

export async function invite(context: Context, unit: Unit, body: z.infer<typeof invitationBody>): Promise<z.infer<typeof madeInvitation>> {
  const actor = need(unit.actor, 'captain');
  const invitation = await unit.runRaw(async (query) => {
    if (body.memberId !== null) await checkFormer(query, body.memberId);
    const id = newId(unit.now, context.random);
    const expiresAt = new Date(unit.now.getTime() + body.expiresInDays * DAY_MS);
    const tokenHash = linkHash(context.config, 'invitation', id, expiresAt);
    await store.insertInvitation(query, { id, tokenHash, role: body.role, note: body.note, invitedById: actor.id, forMemberId: body.memberId, now: unit.now, expiresAt });
    const row = await store.findInvitation(query, id);
    if (!row) throw notFound('This invitation');
    return toInvitation(row, unit.now);
  });
  // The stored answer holds no link; the link is worked out anew each time the answer is given.
  return { invitation, link: linkOf(context.config, 'invitation', invitation.id, new Date(invitation.expiresAt)) };
}

async function checkFormer(query: RawQuery, memberId: string): Promise<void> {
  const member = await findMember(query, memberId);
  if (!member) throw badField('memberId', memberId, 'There is no such member.', 'Choose one from the list.');
  if (!member.leftAt) throw badField('memberId', memberId, `${member.name} is a member already.`, 'Choose somebody who left, or nobody.', 'conflict');
}

export async function withdrawInvitation(unit: Unit, id: string): Promise<Invitation> {
  need(unit.actor, 'captain');
  return unit.runRaw(async (query) => {
    await store.lockInvitation(query, id);
    const row = await store.findInvitation(query, id);
    if (!row) throw notFound('This invitation');
    if (row.usedAt) throw new ProblemError('conflict', `${row.usedBy} has joined with this invitation. To end their access, let them leave the club.`);
    if (row.withdrawnAt) return toInvitation(row, unit.now);
    await store.markWithdrawn(query, id, unit.now);
    return toInvitation({ ...row, withdrawnAt: unit.now }, unit.now);
  });
}

/** What the holder of a link sees before joining. */
export async function lookAtInvitation(context: Context, token: string): Promise<z.infer<typeof invitationLook>> {
  const { query } = context.database;
  const row = checkOpen(await store.findByToken(query, hashToken(token)), context.clock());
  return { clubName: (await findClub(query))?.name ?? '', role: row.role, invitedBy: row.invitedBy, expiresAt: row.expiresAt.toISOString(), returning: row.forMember !== null && row.forUserName !== null ? { name: row.forMember, userName: row.forUserName } : null };
}

/** Makes the new member and signs them in. Of two who use one link at once, the second finds it used. */
export async function acceptInvitation(context: Context, unit: Unit, token: string, body: z.infer<typeof acceptInvitationBody>): Promise<StartedSession> {
  // Looked up first, so that hashing a password is not to be had for a made-up link.
  const found = await store.findByToken(context.database.query, hashToken(token));
  if (!found) throw noSuchLink();
  const { password, ...person } = body;
  const passwordHash = await hashPassword(password);
  let started: StartedSession | null = null;
  const { memberId } = await unit.runRaw(async (query) => {
    await store.lockInvitation(query, found.id);
    const { role, forMember } = checkOpen(await store.findInvitation(query, found.id), unit.now);
    if (forMember !== null) throw new ProblemError('conflict', `This invitation lets ${forMember} come back. Set a new password with it, or ask a captain for one for somebody new.`);
    const id = newId(unit.now, context.random);
    await actAs(query, id);
    await insertMember(query, { ...person, id, role, passwordHash, now: unit.now });
    await store.markUsed(query, found.id, id, unit.now);
    started = await startSession(query, context, id, unit.now);
    return { memberId: id };
  });
  return started ?? sessionAfterReplay(context, memberId, password, unit.now);
}

/** Lets a former member come back: the same person with their history and user name, a new password, and the role of the invitation. */
export async function returnWithInvitation(context: Context, unit: Unit, token: string, password: string): Promise<StartedSession> {
  const found = await store.findByToken(context.database.query, hashToken(token));
  if (!found) throw noSuchLink();
  const passwordHash = await hashPassword(password);
  let started: StartedSession | null = null;
  const { memberId } = await unit.runRaw(async (query) => {
    await lockClub(query);
    await store.lockInvitation(query, found.id);
    const { role, forMemberId } = checkOpen(await store.findInvitation(query, found.id), unit.now);
    if (forMemberId === null) throw new ProblemError('conflict', 'This invitation is for somebody new. Join with a name and a user name.');
    await lockWhole(query, forMemberId);
    await actAs(query, forMemberId);
    if (!(await welcomeBack(query, forMemberId, role, passwordHash))) throw alreadyBack();
    await store.markUsed(query, found.id, forMemberId, unit.now);
    await store.withdrawInvitationsFor(query, forMemberId, unit.now);
    started = await startSession(query, context, forMemberId, unit.now);
    return { memberId: forMemberId };
  });
  return started ?? sessionAfterReplay(context, memberId, password, unit.now);
}

const alreadyBack = () => new ProblemError('link-ended', 'You are a member already. Sign in; a captain can make you a link for a new password.');
const noSuchLink = () => new ProblemError('not-found', 'This link is not known. Check that all of it was copied, or ask for a new one.');

function checkOpen(row: store.InvitationRow | null, now: Date): store.InvitationRow {
  if (!row) throw noSuchLink();
  const state = stateOf(row, now);
  if (state === 'used') throw new ProblemError('link-ended', 'This invitation has been used. If it was you, sign in; if not, ask a captain for a new one.');
  if (state === 'withdrawn') throw new ProblemError('link-ended', 'This invitation was withdrawn. Ask a captain for a new one.');
  if (state === 'expired') throw new ProblemError('link-ended', 'This invitation has expired. Ask a captain for a new one.');
  if (row.forMemberId !== null && !row.forGone) throw alreadyBack();
  return row;
}
