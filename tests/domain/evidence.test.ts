import { describe, expect, it } from 'vitest';
import { ALLERGENS } from '../../server/domain/allergens.ts';
import { CAUTIONS } from '../../server/domain/cautions.ts';
import { checkSmokeEvidence, verdictWords } from '../../server/domain/evidence.ts';
import type { SmokeEvidence } from '../../server/domain/evidence.ts';
import { DomainError } from '../../server/domain/working.ts';

const end = new Date('2025-05-01T16:00:00Z');
const after = (minutes: number) => new Date(end.getTime() + minutes * 60_000);
const good: SmokeEvidence = { maxCoreC: 62.8, holdMinutes: 30, smokeFinishedAt: end, cooledTo21At: after(120), cooledAt: after(360) };

describe('checkSmokeEvidence', () => {
  it.each([
    [{ cooledAt: after(-1) }, 'cooledAt'], [{ cooledAt: end }, 'cooledAt'], [{ cooledAt: new Date(Number.NaN) }, 'cooledAt'],
    [{ cooledTo21At: after(0) }, 'cooledTo21At'], [{ cooledTo21At: after(360) }, 'cooledAt'], [{ maxCoreC: 145 }, 'maxCoreC'], [{ maxCoreC: -999 }, 'maxCoreC'], [{ maxCoreC: Number.NaN }, 'maxCoreC'],
    [{ holdMinutes: -1 }, 'holdMinutes'], [{ holdMinutes: Number.NaN }, 'holdMinutes'], [{ holdMinutes: 100_000 }, 'holdMinutes'],
    [{ maxCoreC: 60, holdMinutes: 30 }, 'holdMinutes'],
  ])('refuses %j, naming %s', (change, field) => {
    let error: unknown;
    try {
      checkSmokeEvidence({ ...good, ...change });
    } catch (thrown) {
      error = thrown;
    }
    expect(error).toBeInstanceOf(DomainError);
    expect((error as DomainError).field).toBe(field);
  });

  it('never calls a clear verdict an approval', () => {
    expect(verdictWords('clear')).toMatch(/not an approval/);
    expect(verdictWords('hold')).toMatch(/do not share/);
    expect(verdictWords('do-not-share')).toMatch(/Do not share/);
    expect(verdictWords('clear')).not.toMatch(/\bsafe\b/i);
  });
});

describe('words for the public', () => {
  it('cautions name the local code, sale, no approval, listeria and histamine (rules.md)', () => {
    const text = CAUTIONS.map((caution) => caution.text).join(' ');
    for (const word of ['local code', 'licensed processor', 'health department', 'not an approval', '74 C (165 F)', 'over 65', 'Histamine survives']) expect(text).toContain(word);
  });

  it('allergens are the US nine and the EU fourteen (rules.md people.allergens)', () => {
    expect(ALLERGENS.filter((allergen) => allergen.list === 'US and EU')).toHaveLength(9);
    expect(new Set(ALLERGENS.map((allergen) => allergen.code)).size).toBe(14);
  });
});
