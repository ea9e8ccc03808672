import { RULES } from '../../domain/rules/registry.ts';
import type { RuleLimit } from '../../domain/rules/rule.ts';

const WHOLE: readonly RuleLimit['unit'][] = ['days', 'months'];

/**
 * The body of the database's function club_limit_allowed, made from the registry: what a club may set each limit to. A test
 * holds the one in the database to it, so a changed limit needs a migration that writes this anew:
 *
 *   node -e "import('./server/features/rules/limit-constraint.ts').then((m) => console.log(m.limitFunctionBody()))"
 */
export function limitFunctionBody(): string {
  const rows = RULES.flatMap((rule) => rule.limits).map(({ id, value, tightest, unit }) => {
    const whole = WHOLE.includes(unit) ? ' AND value = floor(value)' : '';
    return `    WHEN '${id}' THEN value BETWEEN ${Math.min(value, tightest)} AND ${Math.max(value, tightest)}${whole}`;
  });
  return `\n  SELECT CASE id\n${rows.join('\n')}\n    ELSE false END\n`;
}
