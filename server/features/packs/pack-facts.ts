import type { AdviceGiven } from '../../contract/advice.ts';
import type { Check } from '../../contract/common.ts';
import { FROZEN_WORDS, REFRIGERATED_WORDS } from '../../domain/dates-shared.ts';
import type { DateAnswer } from '../../domain/dates.ts';
import { findRule } from '../../domain/rules/registry.ts';
import type { PackageKind } from '../../domain/working.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { adviceOf } from '../batches/advice.ts';
import { loadLineage, packOf } from '../batches/lineage.ts';
import type { Lineage } from '../batches/lineage.ts';
import { contentsOf } from '../batches/printed.ts';
import { dated, dateInput, judge } from '../batches/verdict.ts';
import type { DatedPack, Judgement } from '../batches/verdict.ts';

type PackDays = { id: string; batchId: string } & Omit<DatedPack, 'outBefore'>;

export type PackFacts = {
  lineage: Lineage;
  species: string[];
  /** These two of its batch and of everything that its batch was made from: what a lot was cured in is in the dip made of it. */
  allergens: string[];
  ingredients: string;
  advice: AdviceGiven;
  /** Those of its batch that bear on a pack of its kind. */
  checks: Check[];
  /** What stands against sharing it, in few words; null when nothing does. */
  holdReason: string | null;
  /** null where the date rules give the pack no day. */
  dates: DateAnswer | null;
  storageWords: string;
  labelWords: string[];
};

type OfBatch = Pick<PackFacts, 'lineage' | 'allergens' | 'ingredients' | 'advice'> & { judged: Judgement };

/** Reads what follows for packs from their batches' records; batches are read once. */
export function packFacts(query: RawQuery, timeZone: string): (pack: PackDays) => Promise<PackFacts> {
  const batches = new Map<string, Promise<OfBatch>>();
  const read = async (batchId: string) => {
    const lineage = await loadLineage(query, batchId);
    const contents = contentsOf(lineage);
    return { lineage, judged: judge(lineage, timeZone), allergens: contents.allergens, ingredients: contents.ingredients, advice: adviceOf(lineage, contents).advice };
  };
  return async (pack) => {
    if (!batches.has(pack.batchId)) batches.set(pack.batchId, read(pack.batchId));
    const { judged, ...ofBatch } = await batches.get(pack.batchId)!;
    const dates = dated(dateInput(ofBatch.lineage, { ...pack, outBefore: packOf(ofBatch.lineage, pack.id).outBefore }, judged, timeZone));
    const storageWords = dates?.storageWords ?? (pack.storage === 'frozen' && pack.thawedDay === null ? FROZEN_WORDS : REFRIGERATED_WORDS);
    return {
      ...ofBatch, species: [...new Set(ofBatch.lineage.landings.map((l) => l.species))].sort(), checks: checksOfPack(judged.checks, pack.packageKind), holdReason: holdReason(judged.checks), dates,
      storageWords, labelWords: dates?.labelWords ?? [storageWords],
    };
  };
}

/** A rule for other packages is left out, unless it stands against the batch: then this pack is on hold by it too. */
const checksOfPack = (checks: Check[], packageKind: PackageKind): Check[] => checks.filter((check) => check.means !== 'nothing' || (findRule(check.ruleId)?.appliesTo.packages?.includes(packageKind) ?? true));

function holdReason(checks: Check[]): string | null {
  const open = checks.filter((check) => check.means !== 'nothing').map((check) => `${check.state === 'not-met' ? 'Not met' : 'Not recorded'}: ${check.limit}`);
  return open.length === 0 ? null : [...new Set(open)].join('; ');
}
