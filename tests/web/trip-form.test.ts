import { describe, expect, it } from 'vitest';
import { tripBody, tripPatch, type Trip } from '../../server/contract/catch.ts';
import { NetworkFailure, Problem } from '../../web/src/lib/api/problem.ts';
import { emptyTrip, newPerson, restoredTrip, sentPlace, toTripBody, tripValues, tripWords } from '../../web/src/lib/fish/trip-form.ts';
import { readAnew, retake, versionNow } from '../../web/src/lib/stale.ts';

const ada = '0190f0aa-0000-7000-8000-000000000001';
const boat = '0190f0aa-0000-7000-8000-000000000002';
const trip: Trip = {
  id: '0190f0aa-0000-7000-8000-000000000003', boat: { id: boat, name: 'Tern' }, day: '2026-06-09', area: 'North ledge', note: 'calm', open: true,
  people: [{ memberId: ada, guestName: null, name: 'Ada', shareWeight: 1.5 }, { memberId: null, guestName: 'Per', name: 'Per', shareWeight: 0 }],
  landingCount: 0, landedGrams: 0, leftGrams: 0, version: 3,
};

describe('the form of a trip', () => {
  it('sends a trip as it was read, so that saving without a change changes nothing', () => {
    const body = toTripBody(tripValues(trip));
    expect(body).toEqual({ boatId: boat, day: '2026-06-09', area: 'North ledge', note: 'calm', people: [{ memberId: ada, shareWeight: 1.5 }, { guestName: 'Per', shareWeight: 0 }] });
    expect(tripPatch.safeParse({ ...body, version: 3 }).success).toBe(true);
    expect(tripBody.safeParse(body).success).toBe(true);
  });

  it('leaves empty rows out, and finds the row that a refusal counts', () => {
    const values = emptyTrip('2026-06-09', '');
    values.people.push({ ...newPerson(), guestName: 'Per' }, newPerson(), newPerson(ada));
    expect(toTripBody(values)['people']).toEqual([{ guestName: 'Per', shareWeight: 1 }, { memberId: ada, shareWeight: 1 }]);
    expect([1, 3].map((row) => sentPlace(values.people, row))).toEqual([0, 1]);
  });

  it('takes a draft up again with keys that no new row gets', () => {
    const draft = { ...emptyTrip('2026-06-09', ada), area: 'North ledge' };
    draft.people[0]!.key = newPerson().key + 2;
    const taken = restoredTrip(draft);
    expect(taken).toMatchObject({ area: 'North ledge', people: [{ memberId: ada }] });
    const keys = [...taken.people, newPerson(), newPerson(), newPerson()].map((p) => p.key);
    expect(new Set(keys).size).toBe(4);
  });

  it('names what changed meanwhile in words', () => {
    const words = tripWords({ boat: () => 'Tern', member: () => 'Ada', day: (day) => `day ${day}` });
    expect(words['boatId']!.show!(boat)).toBe('Tern');
    expect(words['people']!.show!([{ guestName: 'Per', shareWeight: 0 }, { memberId: ada, shareWeight: 1.5 }])).toBe('Ada (1.5), Per (0)');
  });
});

describe('a stale edit', () => {
  const stale = new Problem(409, { changes: [{ field: 'area', yours: 'A', theirs: 'B' }, { field: 'version', yours: 1, theirs: 4 }] });

  it('takes the version that is there now, and stays a failure', async () => {
    let version = 1;
    await expect(retake(Promise.reject(stale), (now) => (version = now))).rejects.toBe(stale);
    expect(version).toBe(4);
  });

  it('of something that is no form has its page read anew, so that the next try starts from what is there', async () => {
    const read: string[] = [];
    await expect(readAnew(() => Promise.reject(stale), () => read.push('stale'))).rejects.toBe(stale);
    await expect(readAnew(() => Promise.reject(new NetworkFailure('timeout')), () => read.push('lost'))).rejects.toThrow();
    expect(await readAnew(() => Promise.resolve('done'), () => read.push('done'))).toBe('done');
    expect(read).toEqual(['stale']);
  });

  it('is told from every other failure', async () => {
    expect([versionNow(new NetworkFailure('timeout')), versionNow(new Problem(422, {})), versionNow(undefined)]).toEqual([null, null, null]);
    expect(await retake(Promise.resolve('saved'), () => undefined)).toBe('saved');
  });
});
