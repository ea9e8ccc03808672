import { ProblemError } from './problem-error.ts';

/**
 * An edit that started from an older version. Lists the fields in which what is there now differs from what was sent,
 * so that the screen can show both and nothing typed is lost.
 */
export function refuseStale(what: string, sent: Record<string, unknown>, present: Record<string, unknown>): ProblemError {
  const changes = Object.entries(sent)
    .filter(([field, yours]) => field !== 'version' && field !== 'reason' && yours !== undefined && field in present && !same(yours, present[field]))
    .map(([field, yours]) => ({ field, yours, theirs: present[field] }));
  return new ProblemError('stale-edit', `Somebody changed this ${what} while you were editing. Look at what is there now, then save again.`, {
    changes: [...changes, { field: 'version', yours: sent['version'], theirs: present['version'] }],
  });
}

const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);
