import { describe, expect, it } from 'vitest';
import { checksOf, smokedFindings } from '../../server/domain/rules/judge.ts';
import { titleOf, whyTwo } from '../../web/src/lib/ui/checks.ts';
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

  it('has no title twice', () => {
    const titles = checks.map(titleOf);
    expect(new Set(titles).size).toBe(titles.length);
  });
});
