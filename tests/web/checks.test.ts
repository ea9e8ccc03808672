import { describe, expect, it } from 'vitest';
import { checksOf, smokedFindings } from '../../server/domain/rules/judge.ts';
import { foundBesideMark, titleOf, whichCounts, whyTwo } from '../../web/src/lib/ui/checks.ts';
import { batch, every5, log } from '../support/rule-evidence.ts';

const checks = checksOf(smokedFindings(batch({}, { readings: [log(every5([-240, 10], [-60, 63], [0, 66], [20, 57], [130, 20], [350, 4]))] }), {}), []);

describe('the list of checks', () => {
  it('says once why there are two cooling rules and that cool.fc decides (FC 3-501.14; HG, memory: held against what was recorded alone)', () => {
    const said = checks.map((check) => whyTwo(check, checks));
    const at = checks.findIndex((check) => check.ruleId === 'cool.hg');
    expect(said.flatMap((text, i) => (text ? [i] : []))).toEqual([at]);
    expect(said[at]).toContain('“Cooled fast enough” decides');
    // As the rules have it: the one holds until it is recorded, the other does not.
    const bare = checksOf(smokedFindings(batch({ cooledTo21At: null, cooledAt: null }), {}), []);
    expect(bare.filter((c) => c.ruleId === 'cool.fc').every((c) => c.means === 'hold')).toBe(true);
    expect(bare.filter((c) => c.ruleId === 'cool.hg').every((c) => c.means === 'nothing')).toBe(true);
  });

  it('says of what is missing that it is not recorded once: the mark beside the title says it (look.md: a state is a word and a shape)', () => {
    const bare = checksOf(smokedFindings(batch({ maxCoreC: null, holdMinutes: null, cooledTo21At: null, cooledAt: null }), {}), []).filter((c) => c.state === 'not-recorded');
    const core = bare.find((c) => c.ruleId === 'smoke.core')!;
    expect([core.found, foundBesideMark(core)]).toEqual(['not recorded', '']);
    // What says more than that stays, and so does what was found.
    expect(foundBesideMark({ state: 'not-recorded', found: 'no core readings down to 4.4 C' })).toBe('no core readings down to 4.4 C');
    expect(foundBesideMark({ state: 'not-met', found: '61 C' })).toBe('61 C');
  });

  it('says which counts where a core was logged and another typed, as the rule takes it (rules.md smoke.core: the coldest spot)', () => {
    const logged = [log(every5([-240, 10], [-60, 63], [0, 66]))];
    const core = (maxCoreC: number) => checksOf(smokedFindings(batch({ maxCoreC }, { readings: logged }), {}), []).find((c) => c.ruleId === 'smoke.core')!;
    expect([core(70).found, whichCounts(core(70)), core(70).state]).toEqual(['66 C logged, 70 C typed', 'The stricter of the two counts.', 'met']);
    expect([core(61).state, whichCounts(core(61))]).toEqual(['not-met', 'The stricter of the two counts.']);
    expect(whichCounts(core(66))).toBe('');
  });

  it('has no title twice', () => {
    const titles = checks.map(titleOf);
    expect(new Set(titles).size).toBe(titles.length);
  });
});
