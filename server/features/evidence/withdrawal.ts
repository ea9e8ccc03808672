import { badField } from '../../platform/errors/problem-error.ts';

/** Evidence is taken back with a word only: what stood against the fish, or let it go, stands no longer, and the record keeps why. */
export function needReason(reason: string, message: string, remedy: string): void {
  if (reason.trim() === '') throw badField('reason', reason, message, remedy);
}
