import { createHash } from 'node:crypto';
import type { Actor, Context } from './context.ts';
import type { RawQuery, Tx } from './database/open.ts';
import { ProblemError } from './errors/problem-error.ts';

/**
 * One change, whole or not at all: a transaction that tells the record's triggers who acts, and that, given a key,
 * answers the same change sent again with the same answer instead of doing it twice.
 */
export type Unit = {
  actor: Actor | null;
  /** The clock's time for the whole unit. */
  now: Date;
  run<T>(work: (tx: Tx) => Promise<T>, options?: { reason?: string | undefined }): Promise<T>;
  /** As run, on one raw connection with prepared statements, for hot paths. */
  runRaw<T>(work: (query: RawQuery) => Promise<T>, options?: { reason?: string | undefined; /** For work that goes through the records of years. */ timeoutMs?: number }): Promise<T>;
};

export type Idempotency = { /** Who the key belongs to. */ owner: string; key: string; fingerprint: string; /** Told when an answer is given that was kept. */ onReplay?: () => void };

/** Passwords stay out of it: a quick hash of one, kept for weeks, would give it away. */
export function fingerprint(method: string, url: string, body: unknown): string {
  const text = JSON.stringify(body ?? null, (key, value: unknown) => (key === 'password' ? undefined : value));
  return createHash('sha256').update(`${method} ${url}\n${text}`).digest('base64url');
}

/** Names who acts when that is only known inside the unit: somebody who joins, or who holds a link. */
export async function actAs(query: RawQuery, memberId: string): Promise<void> {
  await query('unit-act-as', `select set_config('tidelarder.actor', $1, true)`, [memberId]);
}

const settingsSql = `select set_config('tidelarder.actor', $1, true), set_config('tidelarder.request', $2, true),
  set_config('tidelarder.reason', $3, true), set_config('tidelarder.at', $4, true)`;
const takeKeySql = `insert into idempotent_answer (actor, key, request_hash, created_at) values ($1, $2, $3, $4::timestamptz)
  on conflict do nothing returning key`;
const readAnswerSql = `select request_hash as "requestHash", body from idempotent_answer where actor = $1 and key = $2`;
const keepAnswerSql = `update idempotent_answer set status = 200, body = $3 where actor = $1 and key = $2`;

export function beginUnit(context: Context, actor: Actor | null, requestId: string, idempotency: Idempotency | null): Unit {
  const now = context.clock();
  const settings = (reason: string | undefined) => [actor?.id ?? '', requestId, reason ?? '', now.toISOString()];

  async function inside<T>(query: RawQuery, reason: string | undefined, work: () => Promise<T>): Promise<T> {
    await query('unit-settings', settingsSql, settings(reason));
    if (!idempotency) return work();
    const { owner, key, fingerprint: hash, onReplay } = idempotency;
    // Waits here while the same key is in another transaction; when that commits, this finds its answer.
    const taken = await query('unit-take-key', takeKeySql, [owner, key, hash, now.toISOString()]);
    if (taken.length === 0) {
      const [answer] = await query<{ requestHash: string; body: string | null }>('unit-read-answer', readAnswerSql, [owner, key]);
      if (!answer || answer.requestHash !== hash || answer.body === null) {
        throw new ProblemError('key-reused', 'This Idempotency-Key was sent before with another request. Make a new key for a new request.');
      }
      onReplay?.();
      return JSON.parse(answer.body) as T;
    }
    const result = await work();
    await query('unit-keep-answer', keepAnswerSql, [owner, key, JSON.stringify(result ?? null)]);
    return result;
  }

  return {
    actor,
    now,
    run: (work, options) =>
      context.database.transaction((tx) => inside((_name, text, params) => tx.$queryRawUnsafe(text, ...(params ?? [])), options?.reason, () => work(tx))),
    runRaw: (work, options) =>
      context.database.rawTransaction((query) => inside(query, options?.reason, () => work(query)), options?.timeoutMs === undefined ? {} : { timeoutMs: options.timeoutMs }),
  };
}
