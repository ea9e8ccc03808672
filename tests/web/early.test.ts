import { describe, expect, it } from 'vitest';
import { endsEarly, endsLate } from '../../web/src/lib/batches/early.ts';

const at = (time: string) => `2026-06-10T${time}:00.000Z`;
const cure = (due: string | null, finished: string) => endsEarly('cure', at('08:00'), due && at(due), at(finished));

describe('a cure that ends before it was due', () => {
  it('is asked about, with how long before', () => {
    expect(cure('14:00', '11:30')).toContain('2 h 30 min before it was due');
  });

  it('is as planned within a tenth of its time, and later; nothing is asked where nothing was planned', () => {
    expect(cure('14:00', '13:24')).toBe('');
    expect(cure('14:00', '13:23')).not.toBe('');
    expect(cure('14:00', '16:00')).toBe('');
    expect(cure(null, '08:05')).toBe('');
  });

  it('is asked of a cure alone, and not of times that cannot be', () => {
    expect(endsEarly('dry', at('08:00'), at('14:00'), at('09:00'))).toBe('');
    expect(cure('14:00', '07:00')).toBe('');
    expect(cure('07:00', '09:00')).toBe('');
  });
});

describe('a cure that ends long after it was due', () => {
  const late = (due: string | null, finished: string, method: 'dry' | 'equilibrium-brine' | null = null) => endsLate('cure', at('08:00'), due && at(due), at(finished), method);

  it('is said to be saltier than planned, with how long after and what helps', () => {
    expect(late('12:00', '18:30')).toMatch(/^It ends 6 h 30 min after it was due\. It will be saltier than planned: cook a test piece, then taste it\..*fresh water/);
  });

  it('is nothing to speak of within a quarter of its time, before it was due, or where nothing was planned', () => {
    expect([late('12:00', '13:00'), late('12:00', '11:00'), late(null, '18:00'), late('07:00', '18:00')]).toEqual(['', '', '', '']);
    expect(late('12:00', '13:01')).not.toBe('');
  });

  it('is said of a cure alone, and not of an even brine, which cannot get too salty', () => {
    expect([endsLate('dry', at('08:00'), at('12:00'), at('18:00')), late('12:00', '18:00', 'equilibrium-brine')]).toEqual(['', '']);
    expect(late('12:00', '18:00', 'dry')).not.toBe('');
  });
});
