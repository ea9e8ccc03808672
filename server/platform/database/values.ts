import pg from 'pg';

/** What a raw statement may be given. JSON goes in as text, made by the caller: the two drivers treat objects differently. */
export type Parameter =
  | string | number | bigint | boolean | Date | Uint8Array | null | undefined
  | readonly (string | number | bigint | boolean | Date | null)[];

export const oid = { int8: 20, date: 1082, timestamp: 1114, timestamptz: 1184 } as const;
const arrayOid = { int8: 1016, date: 1182, timestamp: 1115, timestamptz: 1185 } as const;

type Parse = (text: string) => unknown;

/**
 * Both drivers read every other type alike (numeric stays text, JSON is parsed). Sessions are in UTC, so that the text
 * of an instant ends in +00 and a timestamp without zone, as Prisma writes it, means UTC.
 */
export const parsers: Record<number, Parse> = {
  [oid.int8]: (text) => {
    const value = Number(text);
    return Number.isSafeInteger(value) ? value : BigInt(text);
  },
  [oid.date]: (text) => text,
  [oid.timestamp]: instant,
  [oid.timestamptz]: instant,
};

function instant(text: string): Date | number {
  if (text === 'infinity') return Infinity;
  if (text === '-infinity') return -Infinity;
  const value = new Date(`${text.slice(0, 10)}T${text.slice(11).replace(/\+00$/, '')}Z`);
  if (Number.isNaN(value.getTime())) throw new RangeError(`The database answered the instant "${text}", which is not in UTC.`);
  return value;
}

// The package's types describe another shape than it has.
const arrays = pg.types.arrayParser as unknown as { create(text: string, element: Parse | undefined): { parse(): unknown[] } };
const arrayParsers: Record<number, Parse> = {};
for (const key of Object.keys(arrayOid) as (keyof typeof arrayOid)[]) {
  const element = parsers[oid[key]];
  arrayParsers[arrayOid[key]] = (text) => arrays.create(text, element).parse();
}

/** The same parsers in the shape that pg wants. */
export const pgTypes: pg.CustomTypesConfig = {
  getTypeParser: ((id: number, format?: 'text' | 'binary') => {
    if (format !== 'binary') {
      const own = parsers[id] ?? arrayParsers[id];
      if (own) return own;
    }
    return pg.types.getTypeParser(id, format as 'text');
  }) as typeof pg.types.getTypeParser,
};

/** Instants go out as text in UTC: pg would write them in the zone of the machine. */
export function toParameter(value: unknown, index = 0): unknown {
  if (value === undefined || value === null) return null;
  if (value instanceof Date) return value.toISOString();
  if (value instanceof Uint8Array) return value;
  if (Array.isArray(value)) return value.map((item) => toParameter(item, index));
  if (typeof value === 'object') {
    throw new TypeError(`Parameter $${index + 1} of a statement is an object. Pass it as text with JSON.stringify.`);
  }
  return value;
}
