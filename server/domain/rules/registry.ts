import { BOAT_RULES } from './rows-boat.ts';
import { KEEPING_RULES } from './rows-keeping.ts';
import { PROCESS_RULES } from './rows-process.ts';
import type { Rule, RuleLimit } from './rule.ts';

/** The rules that a batch is held against, each with its numbers and its source; in the order in which they are shown. */
export const RULES: readonly Rule[] = [...BOAT_RULES, ...PROCESS_RULES, ...KEEPING_RULES];

const byId: ReadonlyMap<string, Rule> = new Map(RULES.map((rule) => [rule.id, rule]));
const limitsById: ReadonlyMap<string, RuleLimit> = new Map(RULES.flatMap((rule) => rule.limits.map((l) => [l.id, l] as const)));

/** The rule of that name. Throws RangeError when there is none: names stand in the code. */
export function ruleOf(id: string): Rule {
  const rule = byId.get(id);
  if (!rule) throw new RangeError(`No rule is called ${id}.`);
  return rule;
}
export const findRule = (id: string): Rule | undefined => byId.get(id);
export const findLimit = (id: string): RuleLimit | undefined => limitsById.get(id);
