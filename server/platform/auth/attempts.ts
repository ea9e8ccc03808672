import { isIPv6 } from 'node:net';
import type { Context } from '../context.ts';
import { ProblemError } from '../errors/problem-error.ts';
import { derive } from './secrets.ts';

/**
 * How often something may be tried in a window of time. The counts live in the database, so that they hold over every
 * server process. A try is counted before it is looked at, so that many at once are no way around.
 */
export const limits = {
  /** Sign-in on a device where this member signed in before. */
  device: { tries: 10, minutes: 15 },
  /** Sign-in to one account from one address. */
  'account-address': { tries: 5, minutes: 15 },
  /** Sign-in from one address, whatever the account. */
  address: { tries: 30, minutes: 15 },
  /** Sign-in to one account from all devices that never signed in to it. */
  account: { tries: 50, minutes: 60 },
  /** The present password, asked for again on a device that is signed in. */
  'password-change': { tries: 10, minutes: 15 },
  /** The set-up code, from one address. */
  setup: { tries: 10, minutes: 15 },
} as const;

export type Scope = keyof typeof limits;
export type Attempt = { scope: Scope; of: string };

const countSql = `insert into attempt_count as a (scope, key, window_start, count) values ($1, $2, $3::timestamptz, 1)
  on conflict (scope, key) do update set
    count = case when a.window_start <= $4::timestamptz then 1 else a.count + 1 end,
    window_start = case when a.window_start <= $4::timestamptz then $3::timestamptz else a.window_start end
  returning count, window_start as "windowStart"`;
const forgetSql = `delete from attempt_count where scope = $1 and key = $2`;
const takeBackSql = `update attempt_count set count = greatest(count - 1, 0) where scope = $1 and key = $2`;

/** Counts one try, or refuses it with the minutes to wait. */
export async function countAttempt(context: Context, attempt: Attempt): Promise<void> {
  const { tries, minutes } = limits[attempt.scope];
  const now = context.clock();
  const windowMs = minutes * 60_000;
  const [row] = await context.database.query<{ count: number; windowStart: Date }>('attempt-count', countSql, [
    attempt.scope, keyOf(context, attempt), now, new Date(now.getTime() - windowMs),
  ]);
  if (!row || row.count <= tries) return;
  const seconds = Math.max(1, Math.ceil((row.windowStart.getTime() + windowMs - now.getTime()) / 1000));
  const wait = Math.ceil(seconds / 60);
  throw new ProblemError('too-many-tries', `Too many tries. Wait ${wait} ${wait === 1 ? 'minute' : 'minutes'} and try again.`, {
    retryAfterSeconds: seconds,
  });
}

/** A try that went well: its own count starts anew. */
export const forgetAttempts = (context: Context, attempt: Attempt) =>
  context.database.query('attempt-forget', forgetSql, [attempt.scope, keyOf(context, attempt)]);
/** A try that went well and shares its count with others: only this one is taken back. */
export const takeBackAttempt = (context: Context, attempt: Attempt) =>
  context.database.query('attempt-take-back', takeBackSql, [attempt.scope, keyOf(context, attempt)]);

/** Names and addresses are not written down, only what the service's secret makes of them. */
const keyOf = (context: Context, { scope, of }: Attempt) => derive(context.config, `attempt:${scope}`, of).toString('base64url');

/** What counts as one address: an IPv4 address, or the network of 2^64 addresses that one IPv6 household is given. */
export function networkOf(address: string): string {
  const plain = address.replace(/^::ffff:(?=\d+\.)/i, '').replace(/%.*$/, '');
  if (!isIPv6(plain)) return plain;
  const [head = '', tail] = plain.toLowerCase().split('::');
  const left = head.split(':').filter(Boolean);
  const right = (tail ?? '').split(':').filter(Boolean);
  const zeros = tail === undefined ? [] : Array.from({ length: 8 - left.length - right.length }, () => '0');
  return [...left, ...zeros, ...right].slice(0, 4).map((part) => part.replace(/^0+(?=.)/, '')).join(':');
}
