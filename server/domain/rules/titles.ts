import { RULES } from './registry.ts';

/** Rules that reckon an amount, which no batch is held against. */
const AMOUNTS: readonly (readonly [id: string, title: string])[] = [['ice.amount', 'How much ice to take'], ['cure.parts', 'Salt and sugar of a dry cure'], ['brine.strong', 'How strong a brine is']];
const titles: ReadonlyMap<string, string> = new Map([...AMOUNTS, ...RULES.map(({ id, title }) => [id, title] as const)]);
// The longest first: one name may begin another.
const NAMES = new RegExp(`(?<![\\w.-])(${[...titles.keys()].sort((a, b) => b.length - a.length).map((id) => id.replaceAll('.', '\\.')).join('|')})(?![\\w-]|\\.\\w)`, 'g');

/** A sentence that names rules as the code does ('smoke.core'), with their titles instead. Takes any text; what names no rule stays as it is. */
export const rulesInWords = (text: string): string => text.replace(NAMES, (id) => `“${titles.get(id)!}”`);
