import { fieldLabel } from './field-labels.ts';

/** Whole grams. Every weight in the service is held this way. */
export type Grams = number;
/** A calendar day in the club's time zone, written 'YYYY-MM-DD'. */
export type Day = string;

export type StageKind = 'prepare' | 'cure' | 'rinse' | 'dry' | 'smoke' | 'cool' | 'mix' | 'pack';
export type ProductKind = 'hot-smoked' | 'dip' | 'raw';
export type Form = 'whole' | 'gutted' | 'headed-gutted' | 'fillet';
/** A tub and a bag let air through; vacuum and jar are reduced-oxygen packs (rule salt.rop). */
export type PackageKind = 'tub' | 'bag' | 'vacuum' | 'jar';
export type Storage = 'refrigerated' | 'frozen';
export type Pooling = 'apart' | 'tray' | 'pooled';

/** The stages in their usual order. */
export const STAGE_ORDER: readonly StageKind[] = ['prepare', 'cure', 'rinse', 'dry', 'smoke', 'cool', 'mix', 'pack'];
/** The stages that a product goes through, in that order. */
export const STAGES_OF: Readonly<Record<ProductKind, readonly StageKind[]>> = {
  'hot-smoked': ['prepare', 'cure', 'rinse', 'dry', 'smoke', 'cool', 'pack'],
  dip: ['prepare', 'mix', 'pack'],
  raw: ['prepare', 'rinse', 'pack'],
};
const SEALS: readonly StageKind[] = ['smoke', 'cool', 'mix', 'pack'];
/** Whether nothing more may join a batch from this stage on: it would carry evidence that is not its own. A rule of this service. */
export const seals = (kind: StageKind): boolean => SEALS.includes(kind);
export const PRODUCT_KINDS: readonly ProductKind[] = ['hot-smoked', 'dip', 'raw'];
export const FORMS: readonly Form[] = ['whole', 'gutted', 'headed-gutted', 'fillet'];
export const PACKAGE_KINDS: readonly PackageKind[] = ['tub', 'bag', 'vacuum', 'jar'];
export const STORAGES: readonly Storage[] = ['refrigerated', 'frozen'];
export const POOLINGS: readonly Pooling[] = ['apart', 'tray', 'pooled'];

export type Certainty = 'published' | 'from memory' | 'common practice' | 'arithmetic';

export type WorkingInput = { name: string; value: string | number; unit?: string };

/** What the domain reckons with. Each has a page that explains it, with its checks (web/src/lib/models). */
export const MODELS = [
  'brine', 'kitchen-measures', 'salt-balance', 'vessel', 'salt-uptake', 'salt-fit', 'water-activity',
  'fish-properties', 'humid-air', 'smoking-heat', 'smoker-fit', 'hold', 'lethality', 'cooling',
  'ice', 'chilling', 'histamine', 'exposure',
  'spoilage', 'listeria-growth', 'dates',
  'yield', 'length-weight', 'sharing', 'mercury',
] as const;
export type Model = (typeof MODELS)[number];

/** How a number was reached, so that a screen can explain it. */
export type Working = {
  inputs: WorkingInput[];
  /** What it was reckoned with; left out where plain arithmetic explains itself. */
  model?: Model;
  formula: string;
  source: string;
  range?: string;
  /** How far off the number may be, in words. */
  uncertainty?: string;
  certainty: Certainty;
};

export type DomainErrorParts = {
  /** A stable name for programs, such as 'weight.negative'. */
  code: string;
  /** The input at fault, as the caller names it. */
  field: string;
  value: unknown;
  /** What is wrong, to follow the field and the value: 'is below zero'. */
  problem: string;
  /** What to do about it: 'enter the weight on the scale'. */
  remedy: string;
  /** The field in a person's words, when they differ from those of field-labels.ts. */
  label?: string;
  /** The value in a person's words, when they differ from its text. */
  shown?: string;
};

const LONGEST_SHOWN = 40;

/**
 * An input the trade's rules refuse. The message is one plain sentence that
 * names the field, the value and the remedy.
 */
export class DomainError extends Error {
  code: string;
  field: string;
  value: unknown;
  remedy: string;

  constructor(parts: DomainErrorParts) {
    super(sentence(parts));
    this.name = 'DomainError';
    this.code = parts.code;
    this.field = parts.field;
    this.value = parts.value;
    this.remedy = parts.remedy;
  }
}

function sentence(parts: DomainErrorParts): string {
  const label = parts.label ?? fieldLabel(parts.field);
  const shown = parts.shown ?? showValue(parts.value);
  const start = label.charAt(0).toUpperCase() + label.slice(1);
  return `${start} ${shown} ${parts.problem}; ${parts.remedy}.`;
}

/** A value as it is quoted in a message: short, whatever was sent. */
export function showValue(value: unknown): string {
  if (value === null || value === undefined) return '(nothing)';
  if (value instanceof Date) return Number.isNaN(value.getTime()) ? '(no date)' : value.toISOString();
  if (typeof value === 'number' || typeof value === 'bigint' || typeof value === 'boolean') return String(value);
  const text = typeof value === 'string' ? value : typeof value;
  const characters = [...text.slice(0, LONGEST_SHOWN * 2)];
  const short = characters.length > LONGEST_SHOWN ? `${characters.slice(0, LONGEST_SHOWN).join('')}...` : text;
  return `"${short}"`;
}

/** Refuses anything but a whole number of grams, zero or more, that a database integer can hold. */
export function checkGrams(value: number, field: string, label = fieldLabel(field)): Grams {
  if (Number.isSafeInteger(value) && value >= 0 && value <= MAX_GRAMS) return value;
  throw new DomainError({
    code: 'weight.out-of-range',
    field,
    label,
    value,
    problem: `is not a whole number of grams from 0 to ${MAX_GRAMS}`,
    remedy: 'enter the weight on the scale',
  });
}

/** The heaviest weight that is taken at all: 100 tonnes. A guard against slips, not a rule of the trade. */
export const MAX_GRAMS: Grams = 100_000_000;
