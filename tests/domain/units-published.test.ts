import { describe, expect, it } from 'vitest';
import { parseReadingList } from '../../server/domain/reading-list.ts';
import { findLimit } from '../../server/domain/rules/registry.ts';
import { formatCelsius, parseCelsius, temperaturesInProse } from '../../server/domain/units.ts';

/** The Fahrenheit that each source prints for a limit (NY262, MI569, FC, HG, OSU). */
const PUBLISHED = [
  ['hold.cold.celsius', 38], ['raw.cold.celsius', 38], ['brine.cold.celsius', 38], ['brine.start.celsius', 60], ['thaw.celsius', 45], ['smoke.core.celsius', 145],
  ['date.fourteen.celsius', 36], ['chill.internal.24h.celsius', 40], ['chill.internal.15h.celsius', 50], ['chill.internal.12h.celsius', 60],
] as const;
const logged = (fahrenheit: number) => parseReadingList({ text: `14:20 ${fahrenheit}`, place: 'storage', unit: 'F', day: '2026-06-10', zone: 'Europe/London', now: new Date('2026-06-12T00:00:00Z') }).readings[0]!.celsius;

describe('a limit that its source publishes in Fahrenheit', () => {
  it.each(PUBLISHED)('%s reads as published, %d F, and what is typed so reads so again', (id, fahrenheit) => {
    const { value } = findLimit(id)!;
    expect(formatCelsius(value, 'F')).toBe(`${fahrenheit} °F`);
    expect(temperaturesInProse(`at most ${value} C`, 'F')).toBe(`at most ${fahrenheit} °F`);
    expect(formatCelsius(parseCelsius(String(fahrenheit), 'F'), 'F')).toBe(`${fahrenheit} °F`);
  });

  it.each(PUBLISHED)('%s is met by %d F typed or logged, and by nothing a tenth or more past it', (id, fahrenheit) => {
    const { value, direction } = findLimit(id)!;
    const meets = (celsius: number) => (direction === 'at-least' ? celsius >= value : celsius <= value);
    const past = direction === 'at-least' ? -1 : 1;
    for (const read of [(f: number) => parseCelsius(String(f), 'F'), logged]) {
      expect(meets(read(fahrenheit)), `${fahrenheit} F`).toBe(true);
      for (const tenths of [1, 2, 5, 10]) expect(meets(read(fahrenheit + (past * tenths) / 10)), `${fahrenheit + (past * tenths) / 10} F`).toBe(false);
      expect(meets(read(fahrenheit - past))).toBe(true);
    }
  });

  it('never reads as met where it is not: what is past it in Celsius does not show its degree', () => {
    for (const [id, fahrenheit] of PUBLISHED) {
      const { value, direction } = findLimit(id)!;
      const past = Math.round((value + (direction === 'at-least' ? -0.1 : 0.1)) * 10) / 10;
      expect(formatCelsius(past, 'F'), id).not.toBe(`${fahrenheit} °F`);
      expect(temperaturesInProse(`${Math.round((value + (direction === 'at-least' ? -0.04 : 0.04)) * 100) / 100} C`, 'F'), id).not.toBe(`${fahrenheit} °F`);
    }
  });

  it('is shown as it is compared where the source rounds its Celsius further (FC 3-501.14: 21 C is its 70 F)', () => {
    expect(formatCelsius(21, 'F')).toBe('69.8 °F');
    expect(parseCelsius('70', 'F')).toBe(21.1);
  });
});
