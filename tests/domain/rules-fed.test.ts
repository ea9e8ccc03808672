import { describe, expect, it } from 'vitest';
import { rulesMeasuring, rulesReading } from '../../server/domain/rules/fed.ts';
import type { FedReadings } from '../../server/domain/rules/fed.ts';
import { RULES } from '../../server/domain/rules/registry.ts';
import { after } from '../support/rule-evidence.ts';

const smoke = { startedAt: after(-240), finishedAt: after(0) };
const of = (more: Partial<FedReadings>) => rulesReading({ place: 'core', stageKind: null, firstAt: after(-200), lastAt: after(-60), smoke, ...more });

describe('the rules that readings are read for', () => {
  it('hold every rule of the registry that asks for a reading or a figure, at the place that it names', () => {
    const read = RULES.filter((rule) => rule.evidencePlace !== undefined);
    expect(read.length).toBeGreaterThan(10);
    for (const { id, evidencePlace, evidenceStage } of read) expect(rulesReading({ place: evidencePlace!, stageKind: evidenceStage ?? null, firstAt: after(-900), lastAt: after(900), smoke }), id).toContain(id);
    const measured = [...rulesMeasuring('water-phase-salt'), ...rulesMeasuring('nitrite')];
    for (const { id } of RULES.filter((rule) => rule.evidenceAt === 'laboratory')) expect(measured, id).toContain(id);
  });

  it('name none that the registry does not have', () => {
    const ids = new Set(RULES.map((rule) => rule.id));
    const all = (['core', 'chamber', 'surface', 'storage', 'brine'] as const).flatMap((place) => of({ place, firstAt: after(-900), lastAt: after(900) }));
    expect([...all, ...rulesMeasuring('water-phase-salt'), ...rulesMeasuring('nitrite')].filter((id) => !ids.has(id))).toEqual([]);
  });

  it('go by when it was read: of the raw fish, in the smoke, as it cooled', () => {
    expect(of({})).toEqual(['smoke.core', 'smoke.lethality', 'smoke.core-home', 'cool.ambient', 'parasite']);
    expect(of({ firstAt: after(10), lastAt: after(300) })).toEqual(['cool.fc', 'cool.hg', 'cool.ambient', 'hold.cold', 'parasite']);
    expect(of({ firstAt: after(-900), lastAt: after(-600), stageKind: 'prepare' })).toEqual(['chill.exposure', 'thaw', 'cool.ambient', 'parasite']);
    expect(of({ place: 'chamber', stageKind: 'smoke' })).toEqual(['smoke.core-home', 'smoke.cold']);
    expect(of({ smoke: { ...smoke, finishedAt: null }, lastAt: after(60) }), 'while it smokes nothing has cooled').not.toContain('cool.fc');
    expect(of({ smoke: null, place: 'storage' }), 'smoked elsewhere').toEqual(expect.arrayContaining(['raw.cold', 'hold.cold']));
  });
});
