import type { RawQuery } from './database/open.ts';
import { ProblemError } from './errors/problem-error.ts';

export type ClubSettings = { timeZone: string; units: 'metric' | 'us' };

const settingsSql = `select time_zone as "timeZone", units from club where id = 1`;

/** What nearly every use case needs to know of the club. */
export async function clubSettings(query: RawQuery): Promise<ClubSettings> {
  const [club] = await query<ClubSettings>('club-settings', settingsSql, []);
  if (!club) throw new ProblemError('conflict', 'There is no club yet. Set it up first.');
  return club;
}
