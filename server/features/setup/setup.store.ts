import type { RawQuery } from '../../platform/database/open.ts';

export async function hasClub(query: RawQuery): Promise<boolean> {
  return (await query('setup-has-club', `select id from club where id = 1`)).length > 0;
}
