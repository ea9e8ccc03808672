import type { Session } from '../../contract/people.ts';
import { need } from '../../platform/auth/access.ts';
import { countAttempt, forgetAttempts } from '../../platform/auth/attempts.ts';
import { hashPassword, passwordFits } from '../../platform/auth/passwords.ts';
import { endAllSessions, endFamily, endSessionOf, lockMember, renewSession, startSession } from '../../platform/auth/sessions.ts';
import type { StartedSession } from '../../platform/auth/sessions.ts';
import type { Context } from '../../platform/context.ts';
import { badField, ProblemError } from '../../platform/errors/problem-error.ts';
import type { Unit } from '../../platform/unit.ts';
import { findClub } from '../club/club.store.ts';
import * as store from './session.store.ts';
import { reserveSignIn, signInWentWell } from './sign-in-limits.ts';
import type { SignInFrom } from './sign-in-limits.ts';

/** Who is signed in, with their club. A stranger learns nothing. */
export async function describeSession(context: Context, memberId: string | null, accessExpiresAt: Date | null): Promise<Session> {
  const { query } = context.database;
  const me = memberId === null ? null : await store.findMe(query, memberId);
  if (!me || !accessExpiresAt) return { me: null, club: null, accessExpiresAt: null };
  return { me, club: await findClub(query), accessExpiresAt: accessExpiresAt.toISOString() };
}

const mismatch = () => new ProblemError('sign-in-failed', 'Check both and try again. A captain can make you a link to set a new password.');

export async function signIn(context: Context, unit: Unit, given: { login: string; password: string }, from: SignInFrom): Promise<StartedSession> {
  const login = given.login.toLowerCase();
  const member = await store.findByLogin(context.database.query, login);
  const attempts = await reserveSignIn(context, { memberId: member?.id ?? null, login, from });
  const fits = await passwordFits(member?.passwordHash, given.password);
  if (!member || member.leftAt || !fits) throw mismatch();
  const session = await unit.runRaw(async (query) => {
    const held = await lockMember(query, member.id);
    // The password may have been changed while this one was being checked.
    if (held?.passwordHash !== member.passwordHash) return null;
    return startSession(query, context, member.id, unit.now);
  });
  if (!session) throw mismatch();
  await signInWentWell(context, attempts);
  return session;
}

export async function renew(context: Context, unit: Unit, token: string | undefined): Promise<StartedSession> {
  // A refusal is an answer, not an error, until the transaction that may have ended the family is committed.
  const session = token ? await unit.runRaw((query) => renewSession(query, context, token, unit.now)) : null;
  if (!session) throw new ProblemError('not-signed-in', 'Your session has ended. Sign in again.');
  return session;
}

/** Works with whatever is left of the session: either token is enough. */
export async function signOut(unit: Unit, left: { refreshToken: string | undefined; familyId: string | undefined }): Promise<void> {
  await unit.runRaw(async (query) => {
    if (left.refreshToken) await endSessionOf(query, left.refreshToken, unit.now);
    if (left.familyId) await endFamily(query, left.familyId, unit.now);
    return {};
  });
}

export async function signOutEverywhere(unit: Unit): Promise<void> {
  const actor = need(unit.actor, 'member');
  await unit.runRaw(async (query) => {
    await lockMember(query, actor.id);
    await endAllSessions(query, actor.id, unit.now);
    return {};
  });
}

/** Ends every other session; answers with a new one for the device that asked. */
export async function changePassword(context: Context, unit: Unit, given: { current: string; next: string }): Promise<StartedSession> {
  const actor = need(unit.actor, 'member');
  const attempt = { scope: 'password-change', of: actor.id } as const;
  await countAttempt(context, attempt);
  const kept = await store.findPasswordHash(context.database.query, actor.id);
  if (!(await passwordFits(kept, given.current))) throw badField('current', undefined, 'That is not your present password.', 'Type it again, or ask a captain for a link to set a new one.');
  if (given.current === given.next) throw badField('next', undefined, 'The new password is the present one.', 'Choose another.');
  const passwordHash = await hashPassword(given.next);
  const session = await unit.runRaw(async (query) => {
    const held = await lockMember(query, actor.id);
    if (held?.passwordHash !== kept) return null;
    await store.setPasswordHash(query, actor.id, passwordHash);
    await endAllSessions(query, actor.id, unit.now);
    return startSession(query, context, actor.id, unit.now);
  });
  if (!session) throw new ProblemError('stale-edit', 'The password was changed elsewhere meanwhile. Sign in with the new one.');
  await forgetAttempts(context, attempt);
  return session;
}

/**
 * A new session for somebody whose joining is answered a second time. The stored answer holds no session, and the key
 * alone must not open one: the password has to fit.
 */
export async function sessionAfterReplay(context: Context, memberId: string, password: string, now: Date): Promise<StartedSession> {
  const fits = await passwordFits(await store.findPasswordHash(context.database.query, memberId), password);
  const session = fits ? await context.database.rawTransaction((query) => startSession(query, context, memberId, now)) : null;
  if (!session) throw new ProblemError('key-reused', 'This was done already, with another password. Sign in with that one.');
  return session;
}
