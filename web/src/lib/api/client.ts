/**
 * The only caller of fetch. Every answer is checked against a contract schema.
 *
 *   const batch = await get(`/api/batches/${id}`, batchView);
 *   await post('/api/landings', body, landingView, { idempotencyKey: key });
 *   await del(`/api/boats/${id}`);
 *
 * Failures are Problem, NetworkFailure or ContractFailure (see problem.ts). A 401 renews the session once,
 * for all tabs together, and sends the request again.
 */
import { config, type z } from 'zod';
import { connection } from './connection.svelte.ts';
import { newIdempotencyKey } from './key.ts';
import { ContractFailure, NetworkFailure, Problem, type ProblemDocument } from './problem.ts';
import { renewSession } from './renew.ts';

export { ContractFailure, NetworkFailure, Problem } from './problem.ts';
export { newIdempotencyKey } from './key.ts';

// The content policy forbids making code from text, which zod would try in order to be faster.
config({ jitless: true });

/** A dead spot often swallows packets without an error, so silence has to end by itself. */
const TIMEOUT_MS = 20_000;

export interface RequestOptions {
  signal?: AbortSignal;
  headers?: Record<string, string>;
}

export interface WriteOptions extends RequestOptions {
  /** One key for one submission, kept through retries. Made here when left out. */
  idempotencyKey?: string;
}

type Query = Record<string, string | number | boolean | null | undefined>;

/** Appends the values that are set: `withQuery('/api/packs', { cursor, status: 'ready' })`. */
export function withQuery(path: string, query: Query): string {
  const search = new URLSearchParams();
  for (const [name, value] of Object.entries(query)) {
    if (value !== undefined && value !== null && value !== '') search.set(name, String(value));
  }
  const text = search.toString();
  return text === '' ? path : `${path}?${text}`;
}

export function get<S extends z.ZodType>(path: string, schema: S, options: RequestOptions = {}): Promise<z.output<S>> {
  return send('GET', path, undefined, schema, options) as Promise<z.output<S>>;
}

/** For a create. Pass `null` as schema when the answer has no body. */
export function post<S extends z.ZodType>(path: string, body: unknown, schema: S, options?: WriteOptions): Promise<z.output<S>>;
export function post(path: string, body: unknown, schema: null, options?: WriteOptions): Promise<undefined>;
export function post(path: string, body: unknown, schema: z.ZodType | null, options: WriteOptions = {}): Promise<unknown> {
  const { idempotencyKey = newIdempotencyKey(), ...rest } = options;
  return send('POST', path, body, schema, { ...rest, headers: { ...rest.headers, 'idempotency-key': idempotencyKey } });
}

export function patch<S extends z.ZodType>(path: string, body: unknown, schema: S, options?: WriteOptions): Promise<z.output<S>>;
export function patch(path: string, body: unknown, schema: null, options?: WriteOptions): Promise<undefined>;
export function patch(path: string, body: unknown, schema: z.ZodType | null, options: WriteOptions = {}): Promise<unknown> {
  return send('PATCH', path, body, schema, withKey(options));
}

export function put<S extends z.ZodType>(path: string, body: unknown, schema: S, options?: WriteOptions): Promise<z.output<S>>;
export function put(path: string, body: unknown, schema: null, options?: WriteOptions): Promise<undefined>;
export function put(path: string, body: unknown, schema: z.ZodType | null, options: WriteOptions = {}): Promise<unknown> {
  return send('PUT', path, body, schema, withKey(options));
}

export function del(path: string, options?: WriteOptions): Promise<undefined>;
export function del<S extends z.ZodType>(path: string, options: WriteOptions, schema: S): Promise<z.output<S>>;
export function del(path: string, options: WriteOptions = {}, schema: z.ZodType | null = null): Promise<unknown> {
  return send('DELETE', path, undefined, schema, withKey(options));
}

/** A file the server makes, such as a sheet of labels. */
export async function getBlob(path: string, options: RequestOptions = {}): Promise<Blob> {
  return (await exchange('GET', path, undefined, options)).blob();
}

/** A file the server makes from a body, such as labels for a set of packs. */
export async function postForBlob(path: string, body: unknown, options: WriteOptions = {}): Promise<Blob> {
  const { idempotencyKey = newIdempotencyKey(), ...rest } = options;
  const headers = { ...rest.headers, 'idempotency-key': idempotencyKey };
  return (await exchange('POST', path, body, { ...rest, headers })).blob();
}

function withKey(options: WriteOptions): RequestOptions {
  const { idempotencyKey, ...rest } = options;
  if (idempotencyKey === undefined) return rest;
  return { ...rest, headers: { ...rest.headers, 'idempotency-key': idempotencyKey } };
}

async function send(
  method: string,
  path: string,
  body: unknown,
  schema: z.ZodType | null,
  options: RequestOptions,
): Promise<unknown> {
  const response = await exchange(method, path, body, options);
  if (schema === null) return undefined;
  let data: unknown;
  try {
    data = await response.json();
  } catch (cause) {
    // The connection may break after the headers: that is no answer, not a wrong one.
    if (cause instanceof SyntaxError) throw new ContractFailure(path, cause);
    throw failed(cause, options.signal);
  }
  const parsed = schema.safeParse(data);
  if (!parsed.success) throw new ContractFailure(path, parsed.error);
  return parsed.data;
}

async function exchange(method: string, path: string, body: unknown, options: RequestOptions): Promise<Response> {
  const startedAt = Date.now();
  let response = await once(method, path, body, options);
  // Signing in is itself answered with 401 when the password is wrong: there is nothing to renew then.
  const renewable = !(method === 'POST' && path.startsWith('/api/session'));
  if (response.status === 401 && renewable && (await renewSession(startedAt))) {
    response = await once(method, path, body, options);
  }
  if (!response.ok) throw await problemOf(response);
  return response;
}

async function once(method: string, path: string, body: unknown, options: RequestOptions): Promise<Response> {
  const timeout = AbortSignal.timeout(TIMEOUT_MS);
  const init: RequestInit = {
    method,
    credentials: 'same-origin',
    signal: options.signal === undefined ? timeout : anySignal([options.signal, timeout]),
    headers: {
      accept: 'application/json, application/problem+json',
      ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      ...options.headers,
    },
  };
  if (body !== undefined) init.body = JSON.stringify(body);
  try {
    const response = await fetch(path, init);
    connection.answered();
    return response;
  } catch (cause) {
    throw failed(cause, options.signal);
  }
}

/** A cancelled request stays an AbortError for the caller who cancelled it; all else is a network failure. */
function failed(cause: unknown, signal: AbortSignal | undefined): unknown {
  if (signal?.aborted === true) return cause;
  const timedOut = cause instanceof DOMException && cause.name === 'TimeoutError';
  const failure = new NetworkFailure(timedOut ? 'timeout' : navigator.onLine ? 'unreachable' : 'offline', cause);
  connection.failed(failure);
  return failure;
}

/** `AbortSignal.any` is younger than the phones this has to work on. */
function anySignal(signals: AbortSignal[]): AbortSignal {
  if ('any' in AbortSignal) return AbortSignal.any(signals);
  const controller = new AbortController();
  for (const signal of signals) {
    if (signal.aborted) controller.abort(signal.reason);
    signal.addEventListener('abort', () => controller.abort(signal.reason), { once: true });
  }
  return controller.signal;
}

async function problemOf(response: Response): Promise<Problem> {
  try {
    const document = (await response.json()) as ProblemDocument;
    if (typeof document === 'object' && document !== null) return new Problem(response.status, document);
  } catch {
    // A proxy in between answers in its own words; the status is all there is to go by.
  }
  return new Problem(response.status, {
    title: response.status >= 500 ? 'The server is not well.' : 'The server refused this.',
    detail: `It answered ${response.status}.`,
  });
}
