/** A rule of the database that a change broke. */
export type ConstraintViolation = {
  kind: 'unique' | 'check' | 'foreign-key' | 'exclusion' | 'raised';
  constraint: string;
  table?: string;
  message?: string;
  detail?: string;
};

/** What PostgreSQL says about a failed statement; pg and the embedded database use the same names. */
export type DatabaseFault = {
  code: string;
  severity: string;
  message: string;
  detail?: string | undefined;
  constraint?: string | undefined;
  table?: string | undefined;
  routine?: string | undefined;
};

/**
 * Prisma's adapters keep some fields of an error and drop the constraint's name of most. Our adapters note the original
 * here, under the error that Prisma then carries as meta.driverAdapterError.
 */
const originals = new WeakMap<object, DatabaseFault>();

export function rememberOriginal(translated: unknown, original: unknown): void {
  if (translated !== original && isObject(translated) && isFault(original)) originals.set(translated, original);
}

/** What PostgreSQL said, from any error thrown by Prisma or by a raw statement; null when it said nothing. */
export function databaseFault(error: unknown): DatabaseFault | null {
  let current = error;
  for (let depth = 0; depth < 8 && isObject(current); depth += 1) {
    const known = originals.get(current);
    if (known) return known;
    if (isFault(current)) return current;
    const meta = (current as { meta?: unknown }).meta;
    const carried = isObject(meta) ? (meta as { driverAdapterError?: unknown }).driverAdapterError : undefined;
    current = carried ?? (current as { cause?: unknown }).cause;
  }
  return null;
}

const kinds: Record<string, ConstraintViolation['kind']> = {
  '23505': 'unique',
  '23514': 'check',
  '23503': 'foreign-key',
  '23001': 'foreign-key',
  '23P01': 'exclusion',
  P0001: 'raised',
};

/** The broken rule behind any thrown error, or null when it is another kind of error. */
export function constraintViolation(error: unknown): ConstraintViolation | null {
  const fault = databaseFault(error);
  if (!fault?.constraint) return null;
  const kind = kinds[fault.code];
  if (!kind) return null;
  return {
    // Our triggers raise with the code of a check; the routine tells them apart.
    kind: fault.routine === 'exec_stmt_raise' ? 'raised' : kind,
    constraint: fault.constraint,
    ...(fault.table ? { table: fault.table } : {}),
    ...(fault.message ? { message: fault.message } : {}),
    ...(fault.detail ? { detail: fault.detail } : {}),
  };
}

/** Two changes met and the database chose one to go first: the other may be tried again as it is. */
export function isWorthRetrying(error: unknown): boolean {
  const code = databaseFault(error)?.code;
  return code === '40001' || code === '40P01';
}

function isObject(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}

function isFault(value: unknown): value is DatabaseFault {
  if (!isObject(value)) return false;
  const { code, severity, message } = value as Record<string, unknown>;
  return typeof code === 'string' && code.length === 5 && typeof severity === 'string' && typeof message === 'string';
}
