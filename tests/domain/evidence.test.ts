import { describe, expect, it } from 'vitest';
import { ALLERGENS } from '../../server/domain/allergens.ts';
import { CAUTIONS } from '../../server/domain/cautions.ts';
import { smokeEvidence, verdictWords } from '../../server/domain/evidence.ts';
import type { SmokeEvidence } from '../../server/domain/evidence.ts';
import { parseCelsius } from '../../server/domain/units.ts';
import { DomainError } from '../../server/domain/working.ts';

const end = new Date('2025-05-01T16:00:00Z');
const after = (minutes: number) => new Date(end.getTime() + minutes * 60_000);
const good: SmokeEvidence = { maxCoreC: 62.8, holdMinutes: 30, smokeFinishedAt: end, cooledAt: after(360) };
const states = (change: Partial<SmokeEvidence>) => {
  const { verdict, checks } = smokeEvidence({ ...good, ...change });
  return [verdict, ...checks.map((check) => check.state)];
};

describe('smokeEvidence', () => {
  it('is met at exactly 62.8 C, 30 minutes and 6 hours (rules.md smoke.core, cool.fc)', () => {
    expect(states({})).toEqual(['clear', 'met', 'met', 'met']);
  });

  it('is not met one step short of each limit (rules.md smoke.core, cool.fc)', () => {
    expect(states({ maxCoreC: 62.7, holdMinutes: 0 })).toEqual(['hold', 'not-met', 'not-met', 'met']);
    expect(states({ holdMinutes: 29.9 })).toEqual(['hold', 'met', 'not-met', 'met']);
    expect(states({ cooledAt: after(361) })).toEqual(['hold', 'met', 'met', 'not-met']);
    expect(states({ cooledAt: new Date(after(360).getTime() + 1) })).toEqual(['hold', 'met', 'met', 'not-met']);
  });

  it('meets the core limit with a thermometer that reads 145 F, and not with 144.9 F (smoke.core pairs 62.8 C with 145 F)', () => {
    expect(states({ maxCoreC: parseCelsius('145', 'F') })[1]).toBe('met');
    expect(states({ maxCoreC: parseCelsius('144.9', 'F'), holdMinutes: 0 })[1]).toBe('not-met');
  });

  it('holds whenever anything is missing: never a pass', () => {
    expect(states({ maxCoreC: null })).toEqual(['hold', 'not-recorded', 'met', 'met']);
    expect(states({ holdMinutes: null })).toEqual(['hold', 'met', 'not-recorded', 'met']);
    expect(states({ cooledAt: null })).toEqual(['hold', 'met', 'met', 'not-recorded']);
    expect(states({ smokeFinishedAt: null })).toEqual(['hold', 'met', 'met', 'not-recorded']);
    expect(states({ maxCoreC: null, holdMinutes: null, smokeFinishedAt: null, cooledAt: null })).toEqual(['hold', 'not-recorded', 'not-recorded', 'not-recorded']);
  });

  it('says what was found, the limit, the source and what to do', () => {
    const { checks } = smokeEvidence({ ...good, holdMinutes: 12, cooledAt: after(400) });
    expect(checks[1]).toMatchObject({ ruleId: 'smoke.core', found: '12 minutes', source: 'MI569.7; HG ch. 13; AFDO' });
    expect(checks[2]).toMatchObject({ ruleId: 'cool.fc', found: '6 h 40 min', source: 'FC 3-501.14' });
    for (const check of checks) if (check.state !== 'met') expect(check.whatToDo).not.toBe('');
  });

  it.each([
    [{ cooledAt: after(-1) }, 'cooledAt'], [{ cooledAt: end }, 'cooledAt'], [{ cooledAt: new Date(Number.NaN) }, 'cooledAt'],
    [{ maxCoreC: 145 }, 'maxCoreC'], [{ maxCoreC: -999 }, 'maxCoreC'], [{ maxCoreC: Number.NaN }, 'maxCoreC'],
    [{ holdMinutes: -1 }, 'holdMinutes'], [{ holdMinutes: Number.NaN }, 'holdMinutes'], [{ holdMinutes: 100_000 }, 'holdMinutes'],
    [{ maxCoreC: 60, holdMinutes: 30 }, 'holdMinutes'],
  ])('refuses %j, naming %s', (change, field) => {
    let error: unknown;
    try {
      smokeEvidence({ ...good, ...change });
    } catch (thrown) {
      error = thrown;
    }
    expect(error).toBeInstanceOf(DomainError);
    expect((error as DomainError).field).toBe(field);
  });

  it('never calls a clear verdict an approval', () => {
    expect(verdictWords('clear')).toMatch(/not an approval/);
    expect(verdictWords('hold')).toMatch(/do not share/);
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
