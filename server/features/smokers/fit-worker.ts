import { parentPort, workerData } from 'node:worker_threads';
import { fitSmoker } from '../../domain/heat/fit.ts';
import type { SmokerFitInput } from '../../domain/heat/fit.ts';
import { DomainError } from '../../domain/working.ts';
import type { FitAnswer } from './fit-apart.ts';

/** One fit, apart from the thread that answers requests: twenty long smokes take seconds of processor. */
function answer(): FitAnswer {
  try {
    return { fit: fitSmoker(workerData as SmokerFitInput) };
  } catch (error) {
    // An error of a class of ours comes out of a thread without its fields.
    if (error instanceof DomainError) return { refused: { field: error.field, message: error.message } };
    throw error;
  }
}
parentPort!.postMessage(answer());
