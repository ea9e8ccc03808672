import { checkDay, daysBetween } from './time.ts';
import { DomainError } from './working.ts';
import type { Day } from './working.ts';

/**
 * Lot codes such as K7M-94RM: three characters for the day, three at random, one
 * to check the rest. Rule lot.code: assigned once, never changed.
 *
 * The 17 characters leave out whatever looks or sounds like another (0 O D Q, 1 I
 * L, 2 Z, 5 S, G beside 6, 8 B, U V, N beside M) and all vowels, so that no
 * word appears by chance. Seventeen is prime: that is what lets one check character
 * find every single wrong character and every two that changed places.
 */
export const LOT_ALPHABET = '34679CFHJKMPRTWXY';

const BASE = LOT_ALPHABET.length;
const BODY_LENGTH = 6;
const DAYS = BASE ** 3;
const FIRST_DAY: Day = '2020-01-01';
/** Prime to 17, so each day keeps a prefix of its own for 4,913 days while neighbouring days look nothing alike. */
const DAY_STEP = 3041;
/** Bytes from this on would favour the first characters. */
const FAIR_BYTES = 256 - (256 % BASE);

/**
 * Makes a lot code for a local day. `random(n)` gives n random bytes. Codes of two
 * days differ for 13 years; two lots of one day coincide once in 4,913, so the
 * caller keeps codes unique and asks again. Throws DomainError on a bad day.
 */
export function newLotCode(day: Day, random: (n: number) => Uint8Array): string {
  const sinceFirst = daysBetween(FIRST_DAY, checkDay(day));
  const dayNo = (((sinceFirst * DAY_STEP) % DAYS) + DAYS) % DAYS;
  const dayDigits = [Math.floor(dayNo / BASE ** 2), Math.floor(dayNo / BASE) % BASE, dayNo % BASE];
  const digits = [...dayDigits, ...randomDigits(BODY_LENGTH - dayDigits.length, random)];
  return write([...digits, checkDigit(digits)]);
}

/**
 * Reads a typed or spoken lot code: any case, with or without spaces and dashes.
 * Returns its one written form. Throws DomainError on a wrong length, a character
 * that lot codes never hold, or a check character that does not fit.
 */
export function parseLotCode(text: string): string {
  const compact = squeeze(text);
  if (compact.length !== BODY_LENGTH + 1) {
    throw badCode(text, `is not ${BODY_LENGTH + 1} letters and numbers`, 'read it again from the label, such as K7M-94RM');
  }
  const digits = [...compact].map((character) => LOT_ALPHABET.indexOf(character));
  const strange = digits.indexOf(-1);
  if (strange >= 0) {
    throw badCode(text, `holds ${compact.charAt(strange)}, which lot codes never use`, `read that character again: one of ${LOT_ALPHABET}`);
  }
  if (checkDigit(digits.slice(0, BODY_LENGTH)) !== digits[BODY_LENGTH]) {
    throw badCode(text, 'has a character that was misread', 'read it again from the label');
  }
  return write(digits);
}

/** The number of a pack within its lot, as printed: K7M-94RM-12. Throws DomainError unless n is a whole number from 1. */
export function formatPackNo(lot: string, n: number): string {
  if (!Number.isSafeInteger(n) || n < 1) {
    throw new DomainError({ code: 'pack-number.bad', field: 'packNo', label: 'pack number', value: n, problem: 'is not a whole number from 1', remedy: 'number packs from 1' });
  }
  return `${lot}-${n}`;
}

/** Reads a printed pack number back into its lot and number. Throws DomainError as parseLotCode does. */
export function parsePackNo(text: string): { lot: string; packNo: number } {
  const compact = squeeze(text);
  const lot = parseLotCode(compact.slice(0, BODY_LENGTH + 1));
  const number = compact.slice(BODY_LENGTH + 1);
  if (!/^[1-9]\d{0,5}$/.test(number)) {
    throw badCode(text, 'has no pack number at its end', 'read it again from the label, such as K7M-94RM-12');
  }
  return { lot, packNo: Number(number) };
}

function squeeze(text: string): string {
  return text.slice(0, 60).replace(/[\s\-‐‑‒–—−_.]/g, '').toUpperCase();
}

function badCode(text: string, problem: string, remedy: string): DomainError {
  return new DomainError({ code: 'lot-code.misread', field: 'lot', label: 'lot code', value: text, problem, remedy });
}

/** Each place counts with its own factor, none a multiple of 17 and no two alike. */
function checkDigit(digits: readonly number[]): number {
  const sum = digits.reduce((total, digit, place) => total + digit * (place + 2), 0);
  return (BASE - (sum % BASE)) % BASE;
}

function write(digits: readonly number[]): string {
  const text = digits.map((digit) => LOT_ALPHABET.charAt(digit)).join('');
  return `${text.slice(0, 3)}-${text.slice(3)}`;
}

function randomDigits(count: number, random: (n: number) => Uint8Array): number[] {
  const digits: number[] = [];
  for (let tries = 0; digits.length < count; tries += 1) {
    if (tries > 100) throw new Error('the source of random bytes gives no usable bytes');
    const fair = [...random(count * 2)].filter((byte) => byte < FAIR_BYTES);
    digits.push(...fair.slice(0, count - digits.length).map((byte) => byte % BASE));
  }
  return digits;
}
