import { Worker } from 'node:worker_threads';
import { ProblemError } from '../../platform/errors/problem-error.ts';
import type { SmokerFit, SmokerFitInput } from '../../domain/heat/fit.ts';

export type FitAnswer = { fit: SmokerFit } | { refused: { field: string; message: string } };

/** Ten times what the most and longest smokes take. */
const LONGEST_MS = 60_000;
/** One at a time: more would take the processors from those who answer requests. */
let last: Promise<unknown> = Promise.resolve();
let waiting = 0;
/** More would wait longer than a browser does. */
const MOST_WAITING = 4;

/** Fits in a thread of its own, after those that were asked for before. Rejects when the thread fails or takes too long, or when too many wait. */
export function fitApart(input: SmokerFitInput): Promise<FitAnswer> {
  if (waiting >= MOST_WAITING) return Promise.reject(new ProblemError('not-ready', 'Other smokers are being reckoned just now. Nothing was changed: try again in a minute.', { retryAfterSeconds: 60 }));
  waiting += 1;
  const answer = last.then(() => inThread(input)).finally(() => (waiting -= 1));
  last = answer.catch(() => undefined);
  return answer;
}

function inThread(input: SmokerFitInput): Promise<FitAnswer> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./fit-worker.ts', import.meta.url), { workerData: input });
    const timer = setTimeout(() => {
      reject(new ProblemError('not-ready', `This took longer than ${LONGEST_MS / 1000} seconds and was given up. Nothing was changed: take a long smoke out, or try again when less is going on.`));
      void worker.terminate();
    }, LONGEST_MS);
    worker.once('message', resolve);
    worker.once('error', reject);
    worker.once('exit', (code) => {
      clearTimeout(timer);
      reject(new Error(`The thread of the fit ended with ${code} and no answer.`));
    });
  });
}
