import { describe, expect, it } from 'vitest';
import type { BatchEvidence, EvidenceReadings } from '../../server/domain/rules/evidence.ts';
import { checksOf, smokedFindings } from '../../server/domain/rules/judge.ts';
import { batch, judged, log } from '../support/rule-evidence.ts';

/** Smoked fish that is clear, with readings; minutes count from the end of smoking. */
const kept = (...readings: EvidenceReadings[]): BatchEvidence => batch({}, { readings });
const store = (points: [minutes: number, celsius: number][], more: Partial<EvidenceReadings> = {}) => log(points, { place: 'storage', probe: 'fridge', stageId: null, ...more });
const core = (points: [minutes: number, celsius: number][]) => log(points, { stageId: null, probe: 'stick' });
const held = (evidence: BatchEvidence, ruleId = 'hold.cold') => {
  const [finding] = checksOf(smokedFindings(evidence, {}), []).filter((check) => check.ruleId === ruleId && check.state !== 'met');
  return { verdict: judged(evidence).verdict, found: finding?.found, releasable: finding?.releasable, whatToDo: finding?.whatToDo ?? '' };
};
const morning = 20 * 60;

describe('a logger that comes into a cold store from the warm (hold.cold NY262.3; tables/cumulative-exposure.csv)', () => {
  it('counts from its first reading on where it falls to 5 C within an hour, and a captain may let it go', () => {
    for (const points of [[[morning, 16], [morning + 30, 9], [morning + 60, 3], [morning + 120, 3]], [[morning, 16], [morning + 20, 3], [morning + 60, 3]], [[morning, 15], [morning + 10, -5], [morning + 60, -18]]] as [number, number][][]) {
      const { verdict, found, releasable } = held(kept(store(points)));
      expect([verdict, releasable]).toEqual(['hold', true]);
      expect(found).toMatch(/above 5 C for up to (1 h 0|0 h 20|0 h 10) min$/);
    }
  });
  it('counts from the smoke on where the store itself may have been warm: it stays so, rises, or takes longer than an hour; and never passes', () => {
    for (const points of [[[morning, 16], [morning + 30, 16], [morning + 60, 3]], [[morning, 16], [morning + 20, 18], [morning + 60, 3]], [[morning, 16], [morning + 30, 12], [morning + 60, 9], [morning + 90, 3]], [[morning, 16], [morning + 66, 3]]] as [number, number][][]) {
      const { verdict, found, releasable } = held(kept(store(points)));
      expect([verdict, releasable]).toEqual(['hold', false]);
      expect(found).toMatch(/above 5 C for up to 2[01] h/);
    }
    // What was warm before by another probe counts beside it.
    const both = held(kept(store([[60, 14], [240, 14], [300, 3]], { probe: 'shelf' }), store([[morning, 16], [morning + 30, 3]])));
    expect([both.verdict, both.releasable]).toEqual(['hold', false]);
  });
  it('is no such logger where it is a probe in the fish', () => {
    expect(held(kept(core([[morning, 16], [morning + 30, 3], [morning + 60, 3]]))).releasable).toBe(false);
  });
});

describe('a probe that was out of the fish or of its store: held, with the way on said (hold.cold NY262.3; cool.fc FC 3-501.14)', () => {
  it('pulled out and stopped warm, it was warm when it was read last', () => {
    const fish = held(kept(core([[400, 3], [morning, 3], [morning + 20, 19]])));
    expect([fish.verdict, fish.found, fish.releasable]).toEqual(['hold', 'at most 19 C, above 5 C when it was read last', false]);
    expect(fish.whatToDo).toMatch(/^Record when it was cold again, by the same probe: .* If the probe was out of the fish .*, withdraw those readings and say why\.$/);
    const lifted = held(kept(store([[400, 3], [morning, 3], [morning + 20, 12]])));
    expect([lifted.verdict, lifted.found, lifted.releasable]).toEqual(['hold', 'at most 12 C, above 5 C when it was read last', false]);
    expect(lifted.whatToDo).toMatch(/If the probe was out of the store when it was read, withdraw those readings and say why\.$/);
  });
  it('forgotten for a day at 20 C it is not to be shared as long as the readings stand', () => {
    const points = Array.from({ length: 41 }, (_, i): [number, number] => [morning + i * 15, i < 2 ? 3 : 20]);
    const forgotten = held(kept(core(points)));
    expect([forgotten.verdict, forgotten.releasable]).toEqual(['do-not-share', false]);
    expect(forgotten.whatToDo).toContain('If the probe was out of the fish');
    expect(judged(kept(core(points.slice(0, 2)))).verdict).toBe('clear');
  });
  it('hours at 20 C by a logger that reads every hour, some seconds off, are shown and never shared', () => {
    expect(held(kept(store([[morning, 3], ...Array.from({ length: 12 }, (_, i): [number, number] => [morning + (i + 1) * 60.07, 20]), [morning + 14 * 60, 3]]))).verdict).toBe('do-not-share');
  });
  it('one warm core reading beside typed times is final, and says how it is not', () => {
    const evidence = batch({ cooledTo21At: new Date('2026-06-10T14:30:00Z'), cooledAt: new Date('2026-06-10T16:00:00Z') }, { readings: [core([[125, 24]])] });
    const slow = held(evidence, 'cool.fc');
    expect(slow.verdict).toBe('do-not-share');
    expect(slow.whatToDo).toBe('Do not share it. It stayed warm for too long, and cooling it again does not mend that. If the probe was out of the fish when it was read, or in something else, withdraw those readings and say why.');
    // Typed times alone are no probe's.
    expect(held(batch({ cooledTo21At: new Date('2026-06-10T15:30:00Z'), cooledAt: new Date('2026-06-10T16:00:00Z') }), 'cool.fc').whatToDo).not.toContain('probe');
  });
});
