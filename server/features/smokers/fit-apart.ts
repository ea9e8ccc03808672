import { Worker } from 'node:worker_threads';
import type { SmokerFit, SmokerFitInput } from '../../domain/heat/fit.ts';

export type FitAnswer = { fit: SmokerFit } | { refused: { field: string; message: string } };

/** Ten times what the most and longest smokes take. */
const LONGEST_MS = 60_000;
/** One at a time: more would take the processors from those who answer requests. */
let last: Promise<unknown> = Promise.resolve();

/** Fits in a thread of its own, after those that were asked for before. Rejects when the thread fails or takes too long. */
export function fitApart(input: SmokerFitInput): Promise<FitAnswer> {
  const answer = last.then(() => inThread(input));
  last = answer.catch(() => undefined);
  return answer;
}

function inThread(input: SmokerFitInput): Promise<FitAnswer> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./fit-worker.ts', import.meta.url), { workerData: input });
    const timer = setTimeout(() => {
      reject(new Error(`The fit took longer than ${LONGEST_MS / 1000} seconds.`));
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
