import type { z } from 'zod';
import type { madeReset, resetLook } from '../../contract/people.ts';
import { need } from '../../platform/auth/access.ts';
import { hashPassword } from '../../platform/auth/passwords.ts';
import { endAllSessions, lockMember } from '../../platform/auth/sessions.ts';
import { hashToken } from '../../platform/auth/tokens.ts';
import type { Context } from '../../platform/context.ts';
import { badField, ProblemError } from '../../platform/errors/problem-error.ts';
import { newId } from '../../platform/new-id.ts';
import { actAs } from '../../platform/unit.ts';
import type { Unit } from '../../platform/unit.ts';
import { setPasswordHash } from '../session/session.store.ts';
import { linkHash, linkOf } from './links.ts';
import { findMember } from './members.store.ts';
import * as store from './resets.store.ts';

/** Long enough to hand a link over in person or by message, short enough to be no standing key. */
const RESET_HOURS = 24;

/** A link with which a member sets a new password. One made before for the same member no longer works. */
export async function makeReset(context: Context, unit: Unit, memberId: string): Promise<z.infer<typeof madeReset>> {
  const actor = need(unit.actor, 'captain');
  const made = await unit.runRaw(async (query) => {
    // The member's row orders this against their leaving and against another link being made.
    if (!(await lockMember(query, memberId))) throw await noSuchMember(query, memberId);
    await store.endResetsFor(query, memberId, unit.now);
    const id = newId(unit.now, context.random);
    const expiresAt = new Date(unit.now.getTime() + RESET_HOURS * 3_600_000);
    await store.insertReset(query, { id, tokenHash: linkHash(context.config, 'reset', id, expiresAt), memberId, madeById: actor.id, now: unit.now, expiresAt });
    return { id, expiresAt: expiresAt.toISOString() };
  });
  return { link: linkOf(context.config, 'reset', made.id, new Date(made.expiresAt)), expiresAt: made.expiresAt };
}

async function noSuchMember(query: Parameters<typeof findMember>[0], id: string): Promise<ProblemError> {
  const member = await findMember(query, id);
  if (!member) return badField('memberId', id, 'There is no such member.', 'Choose one from the list.');
  return badField('memberId', id, `${member.name} has left the club.`, 'Invite them again instead.', 'conflict');
}

/** What the holder of a link sees before setting a password. */
export async function lookAtReset(context: Context, token: string): Promise<z.infer<typeof resetLook>> {
  const row = checkOpen(await store.findReset(context.database.query, hashToken(token)), context.clock());
  return { name: row.name, expiresAt: row.expiresAt.toISOString() };
}

/** Sets the password and ends every session, since a lost password may have been found by somebody. */
export async function resetPassword(context: Context, unit: Unit, token: string, password: string): Promise<void> {
  const tokenHash = hashToken(token);
  const found = await store.findReset(context.database.query, tokenHash);
  if (!found) throw noSuchLink();
  const passwordHash = await hashPassword(password);
  await unit.runRaw(async (query) => {
    await lockMember(query, found.memberId);
    await store.lockReset(query, tokenHash);
    const row = checkOpen(await store.findReset(query, tokenHash), unit.now);
    await actAs(query, row.memberId);
    await setPasswordHash(query, row.memberId, passwordHash);
    await store.markUsed(query, row.id, unit.now);
    await endAllSessions(query, row.memberId, unit.now);
    return {};
  });
}

const noSuchLink = () => new ProblemError('not-found', 'This link is not known. Check that all of it was copied, or ask for a new one.');

function checkOpen(row: store.ResetRow | null, now: Date): store.ResetRow {
  if (!row) throw noSuchLink();
  if (row.usedAt) throw new ProblemError('link-ended', 'This link has been used. Sign in with the new password, or ask a captain for another link.');
  if (row.leftAt || row.expiresAt <= now) throw new ProblemError('link-ended', 'This link has ended. Ask a captain for a new one.');
  return row;
}
