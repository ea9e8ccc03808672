import { describe, expect, it } from 'vitest';
import { endsEarly } from '../../web/src/lib/batches/early.ts';

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
