/** Reading of one line of a temperature log: what stands on it, before any of it is placed in time. */
export type ReadDate = { year: number; first: number; second: number; order: 'iso' | 'slashed' };
export type ReadLine = {
  date: ReadDate | null;
  /** Seconds since midnight. */
  seconds: number;
  /** Minutes east of Greenwich when the line says so. */
  offsetMinutes: number | null;
  value: number;
  unit: 'C' | 'F' | null;
  humidityPct: number | null;
};
export type Column = 'temperature' | 'humidity';

const ISO_DATE = /(?<!\d)(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?!\d)/;
const OTHER_DATE = /(?<!\d)(\d{1,2})[-/.](\d{1,2})[-/.](\d{4}|\d{2})(?!\d)/;
const TIME = /(?<!\d)(\d{1,2}):(\d{2})(?::(\d{2})(?:\.\d{1,6})?)?\s*([ap])?\.?(?:m\.?)?(?![\d:])\s*(Z\b|[+-]\d{2}:?\d{2}(?!\d))?/i;
const NUMBER = /([-−–+]?)(\d+(?:[.,]\d+)?)\s*(?:°|º|deg(?:rees)?)?\s*(%|[CF](?![a-z]))?/gi;

/** Whether a cell of a table holds a time of day or a date. */
export const isTimed = (cell: string): boolean => TIME.test(cell) || isDate(cell);
const isDate = (cell: string): boolean => ISO_DATE.test(cell) || OTHER_DATE.test(cell);
export const isDateAndTime = (cell: string): boolean => TIME.test(cell) && isDate(cell);
const MONTH_NAME = '(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)';
const MONTH = new RegExp(`(?<![\\d.,])\\d{1,2}(?:st|nd|rd|th)?[ .-]*${MONTH_NAME}(?!\\p{L})|(?<!\\p{L})${MONTH_NAME}[ .-]*\\d{1,2}(?:st|nd|rd|th)?(?![\\d:]|[.,]\\d)`, 'iu');
/** Whether a cell holds a date with its month in words, which is not read: "10 Jun 2026". */
export const isWordedDate = (cell: string): boolean => MONTH.test(cell);

/** Reads one line, or says why it cannot. `columns` are the kinds of its numbers by the heading; `comma` whether a comma may be decimal. */
export function readLine(line: string, columns: readonly Column[] | null): ReadLine | { why: string } {
  const text = line.replace(/^\s*#?\d{1,6}\s*(?:[,;\t)]\s*|\.\s+)(?=\d{1,4}[-/.:]\d)/, '').replaceAll('"', ' ');
  const date = readDate(text);
  // Left aside, its hours would be those of another day.
  if (date === null && isWordedDate(text)) return { why: 'its date has the month in words: write it as year-month-day' };
  const withoutDate = date === null ? text : text.replace(date.span, ' ');
  const time = TIME.exec(withoutDate.replace(/(?<=\s|^)T(?=\d)/i, ' '));
  if (!time) return { why: 'no time such as 14:20 on it' };
  const seconds = secondsOf(time);
  if (seconds === null) return { why: `${time[0].trim()} is no time of day` };
  const source = withoutDate.replace(/(?<=\s|^)T(?=\d)/i, ' ');
  const before = source.slice(0, time.index);
  const after = source.slice(time.index + time[0].length);
  const numbers = numbersOf(before, after, columns);
  if ('why' in numbers) return numbers;
  return { date: date?.date ?? null, seconds, offsetMinutes: offsetOf(time[5]), ...numbers };
}

function readDate(text: string): { date: ReadDate; span: string } | null {
  const iso = ISO_DATE.exec(text);
  if (iso) return { date: { year: Number(iso[1]), first: Number(iso[2]), second: Number(iso[3]), order: 'iso' }, span: iso[0] };
  const other = OTHER_DATE.exec(text);
  if (!other) return null;
  const year = Number(other[3]);
  return { date: { year: year < 100 ? 2000 + year : year, first: Number(other[1]), second: Number(other[2]), order: 'slashed' }, span: other[0] };
}

function secondsOf(time: RegExpExecArray): number | null {
  const half = time[4]?.toLowerCase();
  let hour = Number(time[1]);
  if (half && (hour < 1 || hour > 12)) return null;
  if (half) hour = (hour % 12) + (half === 'p' ? 12 : 0);
  const [minute, second] = [Number(time[2]), Number(time[3] ?? 0)];
  return hour > 23 || minute > 59 || second > 59 ? null : (hour * 60 + minute) * 60 + second;
}

function offsetOf(text: string | undefined): number | null {
  if (!text) return null;
  if (/^z$/i.test(text)) return 0;
  const digits = text.replace(/\D/g, '');
  return (text.startsWith('-') ? -1 : 1) * (Number(digits.slice(0, 2)) * 60 + Number(digits.slice(2)));
}

type Found = Pick<ReadLine, 'value' | 'unit' | 'humidityPct'>;

/** Of the numbers beside the time, the one that is the temperature, and the humidity if there is one. */
function numbersOf(before: string, after: string, columns: readonly Column[] | null): Found | { why: string } {
  const rest = `${before} \u0001 ${after}`;
  // "14:20,62,8": the comma that parts the columns may part the decimals too, or the humidity.
  const parted = /^\s*,/.test(after) && !rest.includes(';') && !rest.includes('\t');
  if (parted && (columns === null || columns.length < 2) && /^\s*,\s*[-+]?\d+,\d+\s*$/.test(after)) return { why: 'the comma may part decimals or columns: use a point for decimals, or semicolons between columns' };
  const cells = parted ? rest.replace(/,/g, ' ; ') : rest;
  const found = [...cells.matchAll(NUMBER)].map(([, sign, digits, mark]) => ({
    value: (sign && /[-−–]/.test(sign) ? -1 : 1) * Number(digits!.replace(',', '.')), mark: mark?.toUpperCase() ?? null,
  }));
  if (found.length === 0) return { why: 'no temperature on it' };
  const isHumidity = (i: number) => found[i]!.mark === '%' || (found[i]!.mark === null && columns?.[i] === 'humidity');
  const humid = found.findIndex((_n, i) => isHumidity(i));
  const warm = found.filter((_n, i) => !isHumidity(i));
  if (warm.length === 0) return { why: 'no temperature on it' };
  if (warm.length > 1) return { why: 'more than one temperature on it: send one probe at a time' };
  const unit = warm[0]!.mark === 'F' ? 'F' : warm[0]!.mark === 'C' ? 'C' : null;
  return { value: warm[0]!.value, unit, humidityPct: humid < 0 ? null : found[humid]!.value };
}

/** A heading's columns and unit, or null when the line is none: words, and neither a time nor a temperature. */
export function readHeading(line: string): { columns: Column[]; unit: 'C' | 'F' | null } | null {
  if (TIME.test(line) || !/\p{L}{2}/u.test(line)) return null;
  const cells = line.split(/[,;\t|]/).map((cell) => cell.trim().toLowerCase());
  const columns = cells.flatMap((cell): Column[] => (/hum|\brh\b|%/.test(cell) ? ['humidity'] : /temp|core|probe|celsius|fahrenheit|°|\([cf]\)|\bair\b|chamber/.test(cell) ? ['temperature'] : []));
  const unit = /fahrenheit|°\s*f|\(f\)|deg\s*f|\btemp\w*[ _]f\b/i.test(line) ? 'F' : /celsius|°\s*c|\(c\)|deg\s*c|\btemp\w*[ _]c\b/i.test(line) ? 'C' : null;
  return columns.length > 0 || unit !== null || /\b(date|time|day)\b/i.test(line) ? { columns, unit } : null;
}
