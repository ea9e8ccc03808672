import type { Context } from '../context.ts';
import type { RawQuery } from '../database/open.ts';
import { newId } from '../new-id.ts';
import { derive } from './secrets.ts';
import { hashToken, newToken, REFRESH_DAYS } from './tokens.ts';

/** A session as its holder needs it. Never written down and never part of a stored answer. */
export type StartedSession = { memberId: string; epoch: number; familyId: string; refreshToken: string };

/** How long after a renewal the same renewal may be asked for again: a dead spot lost the answer, or two tabs met. */
export const RETRY_SECONDS = 60;

type Held = { epoch: number; passwordHash: string };
type TokenRow = { id: string; memberId: string; familyId: string; expiresAt: Date; usedAt: Date | null; revokedAt: Date | null };

const lockMemberSql = `select token_epoch as epoch, password_hash as "passwordHash" from member where id = $1 and left_at is null for no key update`;
const addTokenSql = `insert into refresh_token (id, member_id, family_id, token_hash, created_at, expires_at, parent_id)
  values ($1, $2, $3, $4, $5::timestamptz, $6::timestamptz, $7)`;
const tokenColumns = `id, member_id as "memberId", family_id as "familyId", expires_at as "expiresAt", used_at as "usedAt", revoked_at as "revokedAt"`;
const findTokenSql = `select ${tokenColumns} from refresh_token where token_hash = $1`;
const findSuccessorSql = `select ${tokenColumns} from refresh_token where parent_id = $1`;
const markUsedSql = `update refresh_token set used_at = $2::timestamptz where id = $1`;
const endFamilySql = `update refresh_token set revoked_at = $2::timestamptz where family_id = $1 and revoked_at is null`;
const endAllSql = `update refresh_token set revoked_at = $2::timestamptz where member_id = $1 and revoked_at is null`;
const raiseEpochSql = `update member set token_epoch = token_epoch + 1 where id = $1`;

/** Takes the member's row, so that everything about one member's sessions happens one after another; null when they left. */
export async function lockMember(query: RawQuery, memberId: string): Promise<Held | null> {
  const [row] = await query<Held>('session-lock-member', lockMemberSql, [memberId]);
  return row ?? null;
}

/** A new session, of a new family. The member's row must be locked, or be new in this transaction. */
export async function startSession(query: RawQuery, context: Context, memberId: string, now: Date): Promise<StartedSession | null> {
  const held = await lockMember(query, memberId);
  if (!held) return null;
  const familyId = newId(now, context.random);
  const refreshToken = newToken(context.random);
  await addToken(query, { id: newId(now, context.random), memberId, familyId, refreshToken, now, parentId: null });
  return { memberId, epoch: held.epoch, familyId, refreshToken };
}

/**
 * Exchanges a refresh token for its successor. A token that was exchanged before is in two hands: its whole family ends,
 * and every access token with it. Only within RETRY_SECONDS, and while nobody used the successor, is the same successor
 * given once more. It is worked out from the token presented and never kept, so that two tabs at once get the same one
 * and neither signs the other out.
 */
export async function renewSession(query: RawQuery, context: Context, token: string, now: Date): Promise<StartedSession | null> {
  const [seen] = await query<TokenRow>('session-find-token', findTokenSql, [hashToken(token)]);
  if (!seen) return null;
  const held = await lockMember(query, seen.memberId);
  if (!held) return null;
  // Read again: another renewal may have gone first while this one waited for the member.
  const [row] = await query<TokenRow>('session-find-token', findTokenSql, [hashToken(token)]);
  if (!row || row.revokedAt || row.expiresAt <= now) return null;
  const session = (id: string) => ({ memberId: row.memberId, epoch: held.epoch, familyId: row.familyId, refreshToken: successorOf(context, token, id) });
  if (!row.usedAt) {
    const id = newId(now, context.random);
    const next = session(id);
    await query('session-mark-used', markUsedSql, [row.id, now]);
    await addToken(query, { id, memberId: row.memberId, familyId: row.familyId, refreshToken: next.refreshToken, now, parentId: row.id });
    return next;
  }
  const [successor] = await query<TokenRow>('session-find-successor', findSuccessorSql, [row.id]);
  const soon = now.getTime() - row.usedAt.getTime() <= RETRY_SECONDS * 1000;
  if (soon && successor && !successor.usedAt && !successor.revokedAt) return session(successor.id);
  await endFamily(query, row.familyId, now);
  await query('session-raise-epoch', raiseEpochSql, [row.memberId]);
  return null;
}

/** Ends one session, with all tokens it ever had. */
export async function endFamily(query: RawQuery, familyId: string, now: Date): Promise<void> {
  await query('session-end-family', endFamilySql, [familyId, now]);
}

/** Ends the session that a refresh token belongs to, if there is one. */
export async function endSessionOf(query: RawQuery, token: string, now: Date): Promise<void> {
  const [row] = await query<TokenRow>('session-find-token', findTokenSql, [hashToken(token)]);
  if (row && (await lockMember(query, row.memberId))) await endFamily(query, row.familyId, now);
}

/** Ends every session of a member at once: access tokens by the epoch, refresh tokens by revoking them. */
export async function endAllSessions(query: RawQuery, memberId: string, now: Date): Promise<void> {
  await query('session-raise-epoch', raiseEpochSql, [memberId]);
  await query('session-end-all', endAllSql, [memberId, now]);
}

const successorOf = (context: Context, token: string, successorId: string) =>
  derive(context.config, 'refresh', `${token}:${successorId}`).toString('base64url');

type NewToken = { id: string; memberId: string; familyId: string; refreshToken: string; now: Date; parentId: string | null };
async function addToken(query: RawQuery, { id, memberId, familyId, refreshToken, now, parentId }: NewToken): Promise<void> {
  const expiresAt = new Date(now.getTime() + REFRESH_DAYS * 86_400_000);
  await query('session-add-token', addTokenSql, [id, memberId, familyId, hashToken(refreshToken), now, expiresAt, parentId]);
}
