/** How much of its weight after the cure finished fish is expected to keep, for an aim in the finished fish. */
import type { Working } from '$contract/common.ts';
import type { StageExpectation } from '$contract/yields.ts';
import { expectedYield } from '$domain/yield.ts';

export interface ExpectedKept {
  percent: number;
  /** Where it comes from, as a sentence. */
  words: string;
  working: Working;
}

const tables = expectedYield({ species: '', form: 'fillet', product: 'hot-smoked', stage: 'smoke' });
if (!tables.known) throw new Error('The tables have no smoking loss.');
/** The most that drying and smoking leave by the tables. The less it dries, the less its salt rises: so the most is the strict reading. */
export const TABLE_KEPT_PERCENT = tables.highPct;
const byTables: ExpectedKept = { percent: TABLE_KEPT_PERCENT, words: 'The most that published figures expect.', working: tables.working };

/** The most to expect, by the club's own batches of the same fish where there are any. */
export function expectedKept(items: readonly StageExpectation[] | undefined): ExpectedKept {
  const of = (stage: 'dry' | 'smoke') => items?.find((item) => item.stage === stage && item.known && item.batches > 0);
  const [dry, smoke] = [of('dry'), of('smoke')];
  if (!smoke) return byTables;
  const percent = Math.round(Math.min(100, (smoke.highPct! * (dry?.highPct ?? 100)) / 100) * 10) / 10;
  return percent < 50 ? byTables : { percent, words: `The most that is expected ${smoke.evidence}.`, working: smoke.working };
}
