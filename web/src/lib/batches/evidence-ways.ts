/** Where what a check asks for is entered, as buttons of the batch's page. */
import type { BatchDetail } from '$contract/batches.ts';
import type { Check } from '$contract/common.ts';
import { STAGE_ORDER, type StageKind } from '$domain/working.ts';
import { opensFor } from './ahead.ts';

export type EvidenceWay = { label: string } & ({ href: string } | { stage: StageKind } | { laboratory: true });
type Batch = Pick<BatchDetail, 'id' | 'origins' | 'stages' | 'productKind' | 'lastStage'>;

const temperatures = (batch: Batch): EvidenceWay => ({ label: 'Enter temperatures', href: `/batches/${batch.id}/readings` });

/** The ways for a check that is not met or not recorded, the usual one first; none for one that is met or let go, nor for who may enter nothing. */
export function evidenceWays(check: Check, batch: Batch, may: { isCrew: boolean; isCaptain: boolean }): EvidenceWay[] {
  if (!may.isCrew || check.state === 'met' || check.released !== null) return [];
  switch (check.evidenceAt) {
    case 'landing':
      return [landingOf(check, batch)];
    case 'readings':
      return [temperatures(batch)];
    case 'laboratory':
      return may.isCaptain ? [{ label: 'Enter a laboratory’s figure', laboratory: true }] : [];
    case 'stage': {
      const kind = check.evidenceStage;
      // While an earlier stage runs there is nothing yet to enter: to finish that one answers nothing that is asked of a later.
      if (kind !== null && runsBefore(batch, kind)) return [];
      const opens = kind === null ? null : opensFor(batch, kind);
      const typed: EvidenceWay[] = kind === null || opens === null ? [] : [{ label: opens.says, stage: kind }];
      return check.evidencePlace === null ? typed : [temperatures(batch), ...typed];
    }
    case 'packs':
      return [{ label: 'See the packs', href: '#packs' }];
    case 'contents':
      return [{ label: 'See what is in it', href: '#contents' }];
  }
}

/** A stage runs before the one that is asked for, which has not begun. The smoke is told how it cooled too, where no stage of its own tells it. */
function runsBefore({ stages }: Batch, kind: StageKind): boolean {
  if (stages.some((s) => s.kind === kind)) return false;
  const running = stages.find((s) => s.finishedAt === null);
  return running !== undefined && STAGE_ORDER.indexOf(running.kind) < STAGE_ORDER.indexOf(kind) && !(kind === 'cool' && running.kind === 'smoke');
}

/** The one landing that it can be, or the list of them. */
function landingOf(check: Check, batch: Batch): EvidenceWay {
  const ids = new Set(batch.origins.filter((o) => o.species === check.part || o.speciesCode === check.part).map((o) => o.landingId));
  return ids.size === 1 ? { label: 'Open the landing', href: `/fish/landings/${[...ids][0]}` } : { label: 'See the landings', href: '#contents' };
}
