import { DomainError } from '../working.ts';
import { findLimit } from './registry.ts';
import type { ClubLimits, LimitUnit, RuleLimit } from './rule.ts';

const UNIT_WORDS: Readonly<Record<LimitUnit, string>> = { C: 'C', degrees: 'Celsius degrees', minutes: 'minutes', hours: 'hours', percent: '%', ppm: 'ppm', days: 'days', months: 'months' };
export const limitWords = (limit: RuleLimit, value = limit.value): string => `${value} ${value === 1 ? UNIT_WORDS[limit.unit].replace(/s$/, '') : UNIT_WORDS[limit.unit]}`;

/** Whether a value is stricter than another, or the same. */
const asStrict = ({ direction }: RuleLimit, value: number, than: number) => (direction === 'at-most' ? value <= than : value >= than);

/**
 * The number that counts: the rule's own, or the club's where that is stricter. A looser one, from whatever source, is
 * not looked at. Throws RangeError for a name that no limit has.
 */
export function limitOf(club: ClubLimits, id: string): { value: number; tightened: boolean } {
  const limit = findLimit(id);
  if (!limit) throw new RangeError(`No limit is called ${id}.`);
  const own = club[id];
  if (own === undefined || !Number.isFinite(own) || !asStrict(limit, own, limit.value) || !asStrict(limit, limit.tightest, own)) return { value: limit.value, tightened: false };
  return { value: own, tightened: own !== limit.value };
}

/**
 * Refuses a club's limit that no rule has, that is looser than the rule, or that is past
 * what makes sense; names the rule's value. Days and months are whole. Returns the limit.
 */
export function checkClubLimit(id: string, value: number): RuleLimit {
  const limit = findLimit(id);
  if (!limit) throw new DomainError({ code: 'limit.unknown', field: 'id', value: id, problem: 'is no limit of a rule', remedy: 'choose one from the list of rules' });
  const fail = (code: string, problem: string, remedy: string) => new DomainError({ code, field: 'value', label: limit.name, value, shown: limitWords(limit, value), problem, remedy });
  if (!Number.isFinite(value)) throw fail('limit.number', 'is no number', 'enter a number');
  const asked = limit.direction === 'above' ? `more than ${limitWords(limit)}` : `${limitWords(limit)} or ${limit.direction === 'at-least' ? 'more' : 'less'}`;
  if (!asStrict(limit, value, limit.value)) throw fail('limit.looser', `is looser than the rule, which asks for ${asked}`, 'a club may tighten a limit and never loosen it');
  if (!asStrict(limit, limit.tightest, value)) throw fail('limit.too-tight', `is past ${limitWords(limit, limit.tightest)}, beyond which it makes no sense`, 'choose a value in between');
  if ((limit.unit === 'days' || limit.unit === 'months') && !Number.isInteger(value)) throw fail('limit.whole', 'is not whole', 'enter whole days or months');
  return limit;
}
