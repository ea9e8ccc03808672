/** From what was typed to the answer, or to what is wrong with it, under its field. */
import { rulesInWords } from '$domain/rules/titles.ts';
import { DomainError } from '$domain/working.ts';
import { readF } from '$domain/units.ts';
import { plainQuantities } from '../../api/plain-quantities.ts';
import type { OwnAnswer, OwnContext, OwnField, OwnPart, OwnValues } from './part.ts';

export type Reckoned = { answer: OwnAnswer; errors: Record<string, string>; wrong: '' } | { answer: null; errors: Record<string, string>; /** What to put right first. */ wrong: string };

export function startOf(part: OwnPart, context: OwnContext): OwnValues {
  return Object.fromEntries(Object.entries(part.fields).map(([key, field]) => [key, startValue(field, context)]));
}

const startValue = (field: OwnField, context: OwnContext) => (typeof field.start === 'function' ? field.start(context) : field.start);

/** Under what a part's numbers are kept: what it answers, and its title where several answer the same. */
export const draftOf = ({ calculations, title }: Pick<OwnPart, 'calculations' | 'title'>): string => `${calculations.join('+')}.${title}`;

/** Whether numbers that were kept can still be put in: a choice that is no more is none. */
export const fitsPart = ({ fields }: Pick<OwnPart, 'fields'>, kept: OwnValues): boolean =>
  Object.entries(fields).every(([key, field]) => field.type !== 'choice' || field.options.some(({ value }) => value === kept[key]));

export const isAsked = (field: OwnField, values: OwnValues): boolean => field.when?.(values) ?? true;

/** Nothing is left out silently: without an answer it says what is missing or out of range. */
export function reckoned(part: OwnPart, values: OwnValues, context: OwnContext): Reckoned {
  const fields = Object.entries(part.fields);
  const missing = Object.fromEntries(fields.filter(([key, field]) => isAsked(field, values) && isMissing(field, values[key]!)).map(([key, field]) => [key, `Enter ${lowered(field.label)}.`]));
  const first = Object.values(missing)[0];
  if (first !== undefined) return { answer: null, errors: missing, wrong: first };
  // What is not asked stands as it stood at first, whatever was typed while it was.
  const asked = Object.fromEntries(fields.map(([key, field]) => [key, isAsked(field, values) || !isMissing(field, values[key]!) ? values[key]! : startValue(field, context)]));
  try {
    return { answer: inUnits(part.reckon(asked, context), context), errors: {}, wrong: '' };
  } catch (cause) {
    if (!(cause instanceof DomainError)) throw cause;
    const wrong = inPersonsUnits(cause.message, context);
    const key = part.fieldFor?.(cause.field, asked) ?? cause.field.split('.')[0]!;
    return { answer: null, errors: Object.hasOwn(part.fields, key) ? { [key]: wrong } : {}, wrong };
  }
}

export const mayBeEmpty = (field: OwnField): boolean => field.type === 'maybe' || field.type === 'maybe-day' || (field.type === 'lines' && field.optional);
const isMissing = (field: OwnField, value: number | string | null): boolean => !mayBeEmpty(field) && (value === null || (typeof value === 'string' && value.trim() === ''));
const lowered = (label: string): string => (/^[A-Z][a-z]/.test(label) ? label.charAt(0).toLowerCase() + label.slice(1) : label);

const CELSIUS = /(?<![\w.])([-−]?\d+(?:\.\d+)?)(?: (to) ([-−]?\d+(?:\.\d+)?))? C\b/g;

function inUnits(answer: OwnAnswer, context: OwnContext): OwnAnswer {
  const told = (text: string) => inPersonsUnits(text, context);
  return {
    ...answer, rows: answer.rows.map((row) => ({ ...row, value: told(row.value) })), ...(answer.says && { says: told(answer.says) }),
    ...(answer.cautions && { cautions: answer.cautions.map((caution) => ({ ...caution, text: told(caution.text) })) }),
  };
}

/** The domain speaks of grams, degrees Celsius and the names of rules. */
function inPersonsUnits(message: string, { zone, system }: OwnContext): string {
  const plain = plainQuantities(rulesInWords(message), zone, system);
  const degrees = (text: string) => (system === 'us' ? String(Math.round(readF(Number(text.replace('−', '-'))) * 10) / 10) : text);
  return plain.replace(CELSIUS, (_, one: string, to?: string, other?: string) => `${degrees(one)}${to ? ` to ${degrees(other!)}` : ''} ${system === 'us' ? '°F' : '°C'}`);
}
