import { hasZodFastifySchemaValidationErrors, isResponseSerializationError } from 'fastify-type-provider-zod';
import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import { fieldLabel } from '../../domain/field-labels.ts';
import { DomainError } from '../../domain/working.ts';
import { constraintViolation } from '../database/constraint-errors.ts';
import { problemOfConstraint } from './constraints.ts';
import { ProblemError } from './problem-error.ts';
import type { FieldError } from './problem-error.ts';

type RequestParts = { body: unknown; query: unknown; params: unknown };

/** Turns anything thrown into a problem: ours as it is, a broken constraint or bad input into words, all else unexpected. */
export function toProblem(error: unknown, input?: RequestParts): ProblemError {
  if (error instanceof ProblemError) return error;
  if (error instanceof DomainError) {
    return new ProblemError('invalid-value', error.message, {
      errors: [{ field: error.field, value: error.value, message: error.message, remedy: error.remedy }],
    });
  }
  if (hasZodFastifySchemaValidationErrors(error)) {
    const where = (error as { validationContext?: string }).validationContext ?? 'body';
    const errors = error.validation.map((issue) => fieldError(issue as unknown as Issue, where, input));
    return new ProblemError('invalid-input', errors.map((e) => `${e.message === UNKNOWN ? e.field : capital(fieldLabel(e.field))}: ${e.message}.`).join(' ').slice(0, 1000), { errors });
  }
  const broken = constraintViolation(error);
  const known = broken && problemOfConstraint(broken);
  if (known) return known;
  return ofFastify(error as FastifyError) ?? new ProblemError('unexpected', 'This is a fault of the service, not yours. Nothing was changed. Try again; if it stays, tell your captain the request number.');
}

/** Said of a field that no list of labels can know: it is quoted as it was sent. */
const UNKNOWN = 'is not a field of this request';

type Issue = { instancePath?: string; message?: string; keyword?: string; params?: { keys?: string[] } };

function fieldError(issue: Issue, where: string, input: RequestParts | undefined): FieldError {
  const path = (issue.instancePath ?? '').split('/').filter(Boolean);
  if (issue.keyword === 'unrecognized_keys') {
    const field = [...path, issue.params?.keys?.[0] ?? ''].join('.');
    return { field, message: UNKNOWN, remedy: 'Leave it out, or check its spelling.' };
  }
  const field = path.join('.') || where;
  const source = where === 'querystring' ? input?.query : where === 'params' ? input?.params : where === 'headers' ? undefined : input?.body;
  const message = (issue.message ?? 'cannot be used').replace(/\.$/, '');
  return { field, value: valueAt(source, path), message, remedy: `Change this and send it again: ${fieldLabel(field)}.` };
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** The value that was refused, shortened; never a password. */
function valueAt(source: unknown, path: string[]): unknown {
  if (path.some((key) => /password|secret|token|current|next/i.test(key))) return undefined;
  let value = source;
  for (const key of path) value = typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[key] : undefined;
  if (typeof value === 'string') return value.slice(0, 100);
  return typeof value === 'number' || typeof value === 'boolean' || value === null ? value : undefined;
}

function ofFastify(error: FastifyError): ProblemError | null {
  switch (error?.code) {
    case 'FST_ERR_CTP_BODY_TOO_LARGE':
      return new ProblemError('too-large', 'The request is larger than 1 MB. Send less at once.');
    case 'FST_ERR_MAX_PARAM_LENGTH':
      return new ProblemError('not-found', 'There is nothing at this address: a part of it is too long.');
    case 'FST_ERR_CTP_INVALID_MEDIA_TYPE':
      return new ProblemError('wrong-type', 'Send the body as application/json.');
    case 'FST_ERR_CTP_INVALID_JSON_BODY':
    case 'FST_ERR_CTP_EMPTY_JSON_BODY':
    case 'FST_ERR_CTP_INVALID_CONTENT_LENGTH':
      return new ProblemError('invalid-input', 'The body is not JSON. Check its brackets and quotes.');
    default:
      return error?.statusCode === 400 ? new ProblemError('invalid-input', 'The request cannot be read. Check its address and body.') : null;
  }
}

/**
 * An answer that its schema refuses comes after the change. One that was kept from before the service was brought up to date may lack
 * what is said today: that is no fault, and doing it again would do it twice.
 */
const unwritten = (replayed: boolean): ProblemError =>
  replayed
    ? new ProblemError('done-before', 'This was saved when it was first sent. Its answer is of an older version and cannot be shown: open the page again.')
    : new ProblemError('unexpected', 'This is a fault of the service, not yours. If you changed something it was saved, but its answer could not be written: open the page again before you send it once more. If it stays, tell your captain the request number.');

export function errorHandler(error: unknown, request: FastifyRequest, reply: FastifyReply): void {
  const problem = isResponseSerializationError(error) ? unwritten(request.replayed) : toProblem(error, request);
  if (problem.status >= 500) request.log.error({ err: error }, 'unexpected error');
  else request.log.info({ code: problem.code }, 'refused');
  if (problem.more.retryAfterSeconds) reply.header('retry-after', String(problem.more.retryAfterSeconds));
  sendProblem(reply, problem, request.id);
}

export function sendProblem(reply: FastifyReply, problem: ProblemError, requestId: string): void {
  // A buffer, so that no response schema touches it.
  void reply
    .code(problem.status)
    .header('content-type', 'application/problem+json; charset=utf-8')
    .header('cache-control', 'no-store')
    .send(Buffer.from(JSON.stringify(problem.body(requestId))));
}
