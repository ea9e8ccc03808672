import { afterEach, describe, expect, it } from 'vitest';
import { plainQuantities } from '../../web/src/lib/api/plain-quantities.ts';
import { explain, Problem, writeProblemsWith } from '../../web/src/lib/api/problem.ts';

describe('a refusal in a person’s own clock and units', () => {
  // Oslo is one hour ahead of UTC in November: the IANA time zone data.
  it('shows instants on the clock of the club', () => {
    expect(plainQuantities('Time of the catch 2026-11-26T09:00:00.000Z is in the future; check it.', 'Europe/Oslo', 'metric')).toBe('Time of the catch Thu 26 Nov 2026, 10:00 is in the future; check it.');
    expect(plainQuantities('Start "2026-11-26T09:00:00Z" is late.', 'Europe/Oslo', 'metric')).toBe('Start Thu 26 Nov 2026, 10:00 is late.');
  });

  // The pound is 453.59237 g exactly: international yard and pound agreement, 1959. 99 lb are 44,906 g.
  it('shows weights in the units of whoever reads', () => {
    const text = 'Weight out 44906 g is more than the 3747 g that went in.';
    expect(plainQuantities(text, 'UTC', 'us')).toBe('Weight out 99 lb is more than the 8 lb 4.2 oz that went in.');
    expect(plainQuantities(text, 'UTC', 'metric')).toBe('Weight out 44.906 kg is more than the 3.747 kg that went in.');
    expect(plainQuantities('Weight 0 g is not from 100 to 50000 g', 'UTC', 'us')).toBe('Weight 0 oz is not from 3.5 oz to 110 lb 3.7 oz');
    expect(plainQuantities('at most 100,000 kg', 'UTC', 'metric')).toBe('at most 100,000 kg');
    expect(plainQuantities('at most 100,000 kg', 'UTC', 'us')).toBe('at most 220462 lb 4.2 oz');
  });

  it('leaves what somebody typed, and what only looks like a weight', () => {
    for (const text of ['Weight "12 g or so" is not a weight.', 'Lot 24-12 gone', 'cooled to 5 C in 2 h']) expect(plainQuantities(text, 'UTC', 'us')).toBe(text);
  });
});

describe('a problem', () => {
  afterEach(() => writeProblemsWith((text) => text));

  it('words its sentences and keeps its values', () => {
    writeProblemsWith((text) => plainQuantities(text, 'UTC', 'metric'));
    const problem = new Problem(422, { detail: 'Weight 44906 g.', errors: [{ field: 'grams', value: 44_906, message: 'Weight 44906 g.', remedy: 'At most 3747 g.' }] });
    expect(problem.detail).toBe('Weight 44.906 kg.');
    expect(problem.errors).toEqual([{ field: 'grams', value: 44_906, message: 'Weight 44.906 kg.', remedy: 'At most 3.747 kg.' }]);
  });

  it('says what to do once', () => {
    const told = (detail: string, remedy: string) => explain(new Problem(409, { detail, errors: [{ field: 'packId', message: '', remedy }] })).remedy;
    expect(told('Somebody has this pack. Choose another pack.', 'Choose another pack.')).toBeUndefined();
    expect(told('A weight is wrong; weigh again.', 'weigh again')).toBeUndefined();
    expect(told('Somebody has this pack.', 'Choose another pack.')).toBe('Choose another pack.');
  });
});
