import { DomainError } from '../../server/domain/working.ts';

/** The refusal that a calculation throws; fails when it throws none, or something else. */
export function refused(run: () => unknown): DomainError {
  try {
    run();
  } catch (error) {
    if (error instanceof DomainError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}
