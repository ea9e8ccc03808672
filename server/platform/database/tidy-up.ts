import type { Database } from './open.ts';

const day = 24 * 3600_000;

/** Throws away what nobody can use any more: old answers, dead tokens, past counts. Never touches a record. */
export async function tidyUp(database: Database, now: Date): Promise<void> {
  const before = (days: number) => new Date(now.getTime() - days * day).toISOString();
  await database.query('tidy-answers', `delete from idempotent_answer where created_at < $1::timestamptz`, [before(30)]);
  await database.query('tidy-tokens', `delete from refresh_token where expires_at < $1::timestamptz`, [before(7)]);
  await database.query('tidy-attempts', `delete from attempt_count where window_start < $1::timestamptz`, [before(2)]);
}
