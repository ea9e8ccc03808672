/**
 * The three ways a request can fail, and one way to put any of them into words.
 *
 *   Problem         the server refused and said why (RFC 9457)
 *   NetworkFailure  no answer came; the same request may be sent again with the same key
 *   ContractFailure an answer came in a shape this build does not know; reloading brings the current one
 */
export interface FieldProblem {
  field: string;
  value?: unknown;
  message: string;
  remedy?: string;
}

export interface Change {
  field: string;
  yours?: unknown;
  theirs?: unknown;
}

export interface ProblemDocument {
  type?: string;
  title?: string;
  status?: number;
  detail?: string;
  code?: string;
  errors?: FieldProblem[];
  /** What somebody else changed meanwhile, on a stale edit. */
  changes?: Change[];
}

let plain = (text: string): string => text;
/** How times and weights in a refusal are written for whoever is using this page: said once, where that is known. */
export function writeProblemsWith(write: (text: string) => string): void {
  plain = write;
}

export class Problem extends Error {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string | undefined;
  readonly code: string | undefined;
  readonly errors: FieldProblem[];
  readonly changes: Change[];

  constructor(status: number, document: ProblemDocument) {
    super(plain(document.detail ?? document.title ?? `The server answered ${status}.`));
    this.name = 'Problem';
    this.type = document.type ?? 'about:blank';
    this.title = document.title ?? 'That did not work';
    this.status = status;
    this.detail = document.detail === undefined ? undefined : plain(document.detail);
    this.code = document.code;
    this.errors = (document.errors ?? []).map((error) => ({ ...error, message: plain(error.message), ...(error.remedy === undefined ? {} : { remedy: plain(error.remedy) }) }));
    this.changes = document.changes ?? [];
  }
}

export class NetworkFailure extends Error {
  readonly retryable = true;
  readonly reason: 'offline' | 'timeout' | 'unreachable';

  constructor(reason: 'offline' | 'timeout' | 'unreachable', cause?: unknown) {
    super('No answer from the server.', { cause });
    this.name = 'NetworkFailure';
    this.reason = reason;
  }
}

export class ContractFailure extends Error {
  readonly path: string;

  constructor(path: string, cause: unknown) {
    super(`The answer of ${path} has an unknown shape.`, { cause });
    this.name = 'ContractFailure';
    this.path = path;
  }
}

export interface Explanation {
  title: string;
  detail?: string;
  remedy?: string;
  /** Whether pressing the same button again can help. */
  retry: boolean;
}

const networkWords: Record<NetworkFailure['reason'], string> = {
  offline: 'This device has no connection.',
  timeout: 'The server took too long to answer.',
  unreachable: 'The server cannot be reached.',
};

/** Puts any failure into words for the person: what happened, and what to do now. */
export function explain(failure: unknown): Explanation {
  if (failure instanceof NetworkFailure) {
    return {
      title: networkWords[failure.reason],
      remedy: 'Nothing you typed is lost. Try again when the signal is back; it will be recorded once.',
      retry: true,
    };
  }
  if (failure instanceof ContractFailure) {
    return {
      title: 'This page is out of date.',
      remedy: 'Reload it to get the current version.',
      retry: false,
    };
  }
  if (failure instanceof Problem) return explainProblem(failure);
  return {
    title: 'Something went wrong on this page.',
    remedy: 'Reload it. If it happens again, tell your captain what you were doing.',
    retry: false,
  };
}

function explainProblem(problem: Problem): Explanation {
  // The sentence of a single fault holds its remedy already.
  const remedies = problem.errors.flatMap((error) => error.remedy ?? []).filter((remedy) => !says(problem.detail, remedy));
  return {
    title: problem.title,
    ...(problem.detail === undefined ? {} : { detail: problem.detail }),
    ...(remedies.length === 0 ? {} : { remedy: [...new Set(remedies)].join(' ') }),
    retry: problem.status >= 500 || problem.status === 408 || problem.status === 429,
  };
}

/** True when the server may or may not have acted: the same key must be sent again. */
export function outcomeUnknown(failure: unknown): boolean {
  if (failure instanceof NetworkFailure || failure instanceof ContractFailure) return true;
  return failure instanceof Problem && (failure.status >= 500 || failure.status === 408 || failure.status === 429);
}

/** Whether the text holds the remedy, whatever the case of its first letter and the stop at its end. */
export function says(text: string | undefined, remedy: string): boolean {
  return remedy === '' || (text ?? '').toLowerCase().includes(remedy.toLowerCase().replace(/[.!?]+$/, ''));
}
