import type { CureFactsBody } from '../../contract/cures.ts';
import { checkCureFacts } from '../../domain/cure/cure-facts.ts';
import type { CureFacts } from '../../domain/cure/cure-facts.ts';
import { DomainError } from '../../domain/working.ts';

/** The domain's refusal, its field named as the request names it. */
export function refuseImpossible(facts: CureFactsBody, within = ''): void {
  try {
    checkCureFacts(facts as CureFacts);
  } catch (cause) {
    if (cause instanceof DomainError) cause.field = within + cause.field;
    throw cause;
  }
}
