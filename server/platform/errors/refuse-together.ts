import { ProblemError } from './problem-error.ts';

/** How many refusals are told in the sentence; all of them stand in the list of errors. */
const TOLD = 5;

/** Throws one refusal that lists everything that stands in the way; one alone as it is. Each names a field. */
export function refuseTogether(nothing: string, all: readonly ProblemError[]): void {
  const [first] = all;
  if (!first) return;
  if (all.length === 1) throw first;
  const errors = all.flatMap((problem) => problem.more.errors ?? []);
  const told = errors.slice(0, TOLD).map(({ message }) => message).join(' ');
  const more = errors.length > TOLD ? ` And ${errors.length - TOLD} more.` : '';
  throw new ProblemError(first.code, `${nothing} ${told}${more}`, { errors });
}
