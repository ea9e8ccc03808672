import type { ProblemBody } from '../../contract/common.ts';
import { problemCodes } from './codes.ts';
import type { ProblemCode } from './codes.ts';

export type FieldError = { field: string; value?: unknown; message: string; remedy: string };
type More = { errors?: FieldError[]; changes?: NonNullable<ProblemBody['changes']>; retryAfterSeconds?: number };

/** A refusal that the person can do something about. `detail` is a plain sentence for the screen. */
export class ProblemError extends Error {
  override name = 'ProblemError';
  readonly code: ProblemCode;
  readonly more: More;
  constructor(code: ProblemCode, detail: string, more: More = {}) {
    super(detail);
    this.code = code;
    this.more = more;
  }
  get status(): number {
    return problemCodes[this.code].status;
  }
  body(requestId: string): ProblemBody {
    const { status, title } = problemCodes[this.code];
    const { errors, changes } = this.more;
    return {
      type: `urn:tidelarder:problem:${this.code}`,
      title,
      status,
      detail: this.message,
      code: this.code,
      requestId,
      ...(errors ? { errors } : {}),
      ...(changes ? { changes } : {}),
    };
  }
}

export const notFound = (what: string) => new ProblemError('not-found', `${what} was not found. It may have been removed, or the address is mistyped.`);
/** One field is wrong. */
export const badField = (field: string, value: unknown, message: string, remedy: string, code: ProblemCode = 'invalid-value') =>
  new ProblemError(code, `${message} ${remedy}`, { errors: [{ field, value, message, remedy }] });
