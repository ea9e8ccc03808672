import { describe, expect, it } from 'vitest';
import { landingBody } from '../../server/contract/catch.ts';
import { dayQuestion, emptyLanding, toLandingBody, weightQuestion } from '../../web/src/lib/fish/landing-form.ts';
import { plainIssue } from '../../web/src/lib/issues.ts';

describe('the form of a landing', () => {
  // The pound is 453.59237 g exactly: international yard and pound agreement, 1959. 400 lb are 181,437 g.
  it('asks about an uncounted landing of 100 kg and more, in both units', () => {
    expect(weightQuestion({ grams: 181_437, fishCount: null })).toMatch(/^181\.437 kg \(400 lb\), really\?/);
    expect(weightQuestion({ grams: 99_999, fishCount: null })).toBeNull();
    expect(weightQuestion({ grams: null, fishCount: null })).toBeNull();
  });

  it('asks nothing where the fish were counted: the service then weighs each', () => {
    expect(weightQuestion({ grams: 181_437, fishCount: 300 })).toBeNull();
  });

  // Oslo is two hours ahead of UTC in June: the IANA time zone data.
  it('asks about a catch before the day of its trip, by the clock of the club', () => {
    expect(dayQuestion({ caughtAt: '2026-06-08T21:30:00Z' }, '2026-06-09', 'Europe/Oslo')).toMatch(/^Caught on Mon 8 Jun 2026, before the trip of Tue 9 Jun 2026/);
    expect(dayQuestion({ caughtAt: '2026-06-08T22:30:00Z' }, '2026-06-09', 'Europe/Oslo')).toBeNull();
    expect(dayQuestion({ caughtAt: null }, '2026-06-09', 'Europe/Oslo')).toBeNull();
  });

  it('reads lengths with commas between, and names the one that cannot be read', () => {
    const lengths = (text: string) => (toLandingBody({ ...emptyLanding(''), lengths: text }) as { lengthsCm: unknown[] }).lengthsCm;
    expect(lengths('38, 41 38,5')).toEqual([38, 41, 38.5]);
    const read = landingBody.safeParse({ ...(toLandingBody({ ...emptyLanding(''), lengths: '38, 41 abc' }) as object) }, { error: plainIssue });
    const issue = read.error!.issues.find((i) => i.path[0] === 'lengthsCm');
    expect(issue).toMatchObject({ path: ['lengthsCm', 2], message: '“abc” is not a number.' });
  });
});
