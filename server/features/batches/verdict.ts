import type { Check } from '../../contract/common.ts';
import { useBy } from '../../domain/dates.ts';
import type { DateAnswer, DateEvidence, DateInput } from '../../domain/dates.ts';
import type { BatchEvidence, EvidencePack } from '../../domain/rules/evidence.ts';
import { holdCold, warmShare } from '../../domain/rules/kept-cold.ts';
import { warmestStoreC } from '../../domain/rules/store-log.ts';
import { ofLot } from '../../domain/rules/of-lot.ts';
import { packFindings, saltAir, saltRop } from '../../domain/rules/packs.ts';
import { checksOf, dipFindings, partFindings, rawFindings, isFoundWrong, smokedFindings, verdictOf } from '../../domain/rules/judge.ts';
import { ruleOf } from '../../domain/rules/registry.ts';
import type { Finding } from '../../domain/rules/rule.ts';
import { findSpecies } from '../../domain/species/index.ts';
import { formsHistamine, refusedWord } from '../../domain/species/own-names.ts';
import { addDays, formatShortDay, localDay } from '../../domain/time.ts';
import { formatGrams } from '../../domain/units.ts';
import { DomainError } from '../../domain/working.ts';
import type { Day } from '../../domain/working.ts';
import { replay } from './ledger.ts';
import { batchOf, drawsInto, ledgerInput, once, packOf, sourceBatchOf, stagesOf } from './lineage.ts';
import type { Lineage, LineageLanding, LineagePack, LineageStage, Verdict } from './lineage.ts';
import { beforeOf, measurementsOf } from './before.ts';
import { reached } from './reached.ts';
import { at, recordedOf } from './recorded.ts';
import { liveStage, smokedLots, wasSmoked } from './smoked.ts';
import { coolingBetween, coolingOfTaken, mixedFrom, takenSmoked } from './taken-warm.ts';

export type Judgement = {
  verdict: Verdict; notMet: boolean; smokeDay: Day | null; mixedDay: Day | null; checks: Check[]; dateEvidence: DateEvidence;
  /** The warmest of the store up to where its log ends: for packs that left it with the days that this gave. */
  storeUpToItsEndC: number | null;
};

/**
 * What the records say of a batch: its checks, the verdict that follows from them, and the days that its packs count
 * from. The batches above it are taken as they were judged themselves, so judge those first. A missing record is never
 * met.
 */
export function judge(lineage: Lineage, zone: string): Judgement {
  const batch = batchOf(lineage);
  const smoke = liveStage(lineage, 'smoke');
  const mix = liveStage(lineage, 'mix');
  const mixedDay = mix ? localDay(new Date(mix.startedAt), zone) : null;
  const smokeDay = smokeDayOf(lineage, smoke, zone);
  const ofProduct =
    batch.productKind === 'dip' ? dipChecks(lineage, mix, mixedDay, zone) : batch.productKind === 'raw' ? rawChecks(lineage, zone) : smokedChecks(lineage, smoke, zone);
  const checks = checksOf([...speciesChecks(lineage), ...ofProduct], lineage.releases);
  return { verdict: verdictOf(checks), notMet: isFoundWrong(checks), smokeDay, mixedDay, checks, dateEvidence: dateEvidence(lineage, checks, zone), storeUpToItsEndC: warmestStoreC(evidenceOf(lineage, zone), 'its end') };
}

/** The earliest day on which any of it began to smoke: counting from there is the stricter. */
function smokeDayOf(lineage: Lineage, smoke: LineageStage | undefined, zone: string): Day | null {
  const days = smokedLots(lineage).flatMap((id) => batchOf(lineage, id).smokeDay ?? []);
  if (smoke) days.push(localDay(new Date(smoke.startedAt), zone));
  return days.sort()[0] ?? null;
}

/** Fish that the tables never let anybody share, however long ago it went in: the tables of a later release may say more. */
function speciesChecks(lineage: Lineage): Finding[] {
  const refused = new Map(lineage.landings.filter((l) => l.sharing === 'refuse' || findSpecies(l.speciesCode)?.sharing === 'refuse' || (l.ownSpecies && refusedWord(l.species, l.scientificName) !== null)).map((l) => [l.speciesCode, l.species]));
  return [...refused].map(([code, name]) => ({
    ...plain, ruleId: 'species.sharing', part: code, about: name, state: 'not-met', found: name, limit: 'no species that is never for sharing',
    whatToDo: `${findSpecies(code)?.sharingReason ?? 'Not for sharing.'} Hold it; recall the lot if packs of it are out.`,
  }));
}

/** What is recorded of the batch itself and of what its fish went through before, as the rules ask for it. */
export function evidenceOf(lineage: Lineage, zone: string): BatchEvidence {
  return {
    product: batchOf(lineage).productKind, ...recordedOf(lineage, lineage.id), ...beforeOf(lineage), measurements: measurementsOf(lineage, zone), guttedSource: lineage.guttedSource, taken: takenSmoked(lineage), judgedAt: at(lineage.judgedAt),
    packs: lineage.packs.filter((p) => p.batchId === lineage.id && p.status !== 'used' && p.status !== 'discarded').map((p) => evidencePack(p, zone)),
    packsUsed: lineage.packs.filter((p) => p.batchId === lineage.id && p.status === 'used').map((p) => evidencePack(p, zone)),
    landings: landingsIn(lineage).map((l) => ({
      species: l.species, speciesCode: l.speciesCode, called: `landing of ${formatShortDay(l.day)}, ${l.species}`, scombrotoxin: l.scombrotoxin === false && formsHistamine({ ...l, own: l.ownSpecies, name: l.species }) ? null : l.scombrotoxin, caughtAt: at(l.caughtAt), guttedAt: at(l.guttedAt), icedAt: at(l.icedAt), landedAt: at(l.landedAt), coreC: l.coreC, airC: l.airC, waterC: l.waterC, form: l.form,
      recordedAt: new Date(l.createdAt),
    })),
  };
}

/** A pack as the rules ask for it: frozen later than the day it was packed, or out of the freezer in between, it was not frozen at once. */
function evidencePack({ packageKind, storage, packedAt, frozenDay, outBefore }: LineagePack, zone: string): EvidencePack {
  const late = outBefore.length > 0 || (frozenDay !== null && frozenDay > localDay(new Date(packedAt), zone));
  return { packageKind, storage, frozenLate: late };
}

/** The landings that its fish may be of; all of them where none is left. */
function landingsIn(lineage: Lineage): readonly LineageLanding[] {
  const { landingIds } = reached(lineage);
  const some = lineage.landings.filter((l) => landingIds.has(l.id));
  return some.length === 0 ? lineage.landings : some;
}

const plain = { tightened: false, working: null } as const;

function smokedChecks(lineage: Lineage, smoke: LineageStage | undefined, zone: string): Finding[] {
  const draws = drawsInto(lineage);
  const evidence = evidenceOf(lineage, zone);
  const club = lineage.clubLimits;
  // What was smoked before is no better for being smoked again.
  const before = smokedLots(lineage).length > 0 ? [...sourceChecks(lineage), oneSmokeDayCheck(lineage, smoke, zone)] : [];
  if (!smoke && draws.length > 0 && draws.every((d) => wasSmoked(lineage, d))) return [...before, ...coolingOfTaken(lineage), ...partFindings(evidence, club)];
  return [...before, ...smokedFindings(evidence, club), ...(smoke ? [...coolingBetween(lineage, smoke), ...wholeBatchCheck(lineage, smoke)] : [])];
}

/** A raw batch takes no smoked fish; where a stored one did, it is no better than its lots. */
const rawChecks = (lineage: Lineage, zone: string): Finding[] => [...sourceChecks(lineage), ...rawFindings(evidenceOf(lineage, zone), lineage.clubLimits)];

/** What stayed out of the smoker has no evidence, and cannot be told from the rest once packed. */
function wholeBatchCheck(lineage: Lineage, smoke: LineageStage): Finding[] {
  const held = replay(ledgerInput(lineage)).before.get(smoke.id)!;
  if (smoke.massInG >= held) return [];
  return [{
    ...plain, ruleId: 'lot.code', part: 'load', state: 'not-met', found: `${formatGrams(smoke.massInG, 'metric')} of ${formatGrams(held, 'metric')} went into the smoker`,
    limit: 'all of the batch in one smoker load', whatToDo: 'Move what was not smoked into a batch of its own, or correct the weight that went in.',
  }];
}

/** A batch with smoked fish in it is no better than the lots that this came from. */
function sourceChecks(lineage: Lineage): Finding[] {
  const sources = smokedLots(lineage).map((id) => batchOf(lineage, id));
  return sources.map((s): Finding => ({
    ...plain, evidenceAt: 'contents', ruleId: 'smoke.core', part: 'lots', about: `lot ${s.lot}`, state: s.verdict === 'clear' ? 'met' : s.verdict === 'hold' && !s.notMet ? 'not-recorded' : 'not-met', found: `lot ${s.lot}: ${s.verdict === 'do-not-share' ? 'do not share' : s.verdict}`, limit: 'every lot in it is clear',
    whatToDo: s.verdict === 'clear' ? '' : `Hold it. See what lot ${s.lot} lacks.`, ...(s.verdict === 'do-not-share' ? { effect: 'do-not-share' as const } : {}),
  }));
}

/** Fish that was smoked before keeps that day, whatever day it is smoked again. */
function oneSmokeDayCheck(lineage: Lineage, smoke: LineageStage | undefined, zone: string): Finding {
  const own = smoke ? localDay(new Date(smoke.startedAt), zone) : null;
  const fresh = drawsInto(lineage).some((d) => !wasSmoked(lineage, d));
  const days = [...new Set([...smokedLots(lineage).map((id) => batchOf(lineage, id).smokeDay), ...(fresh ? [own] : [])])].sort();
  const found = days.map((d) => d ?? 'not recorded').join(', ');
  const shared = { ...plain, ruleId: 'lot.no-mix', part: 'days', found, limit: 'one smoke day under one lot' };
  if (days.includes(null)) return { ...shared, state: 'not-recorded', whatToDo: 'Record the smoke stage of every lot in it.' };
  return days.length === 1 ? { ...shared, state: 'met', whatToDo: '' } : { ...shared, state: 'not-met', whatToDo: ruleOf('lot.no-mix').whatToDo };
}

function dipChecks(lineage: Lineage, mix: LineageStage | undefined, mixedDay: Day | null, zone: string): Finding[] {
  const draws = drawsInto(lineage);
  if (draws.length === 0) {
    return [{ ...plain, evidenceAt: 'contents', ruleId: 'smoke.core', part: 'lots', state: 'not-recorded', found: 'no fish yet', limit: 'every lot in it is clear', whatToDo: 'Draw the packs that go into it.' }];
  }
  const unsmoked = draws.filter((d) => !wasSmoked(lineage, d));
  const raw = unsmoked.map((d): Finding => ({
    ...plain, evidenceAt: 'contents', ruleId: 'smoke.core', part: 'raw', state: 'not-met', found: `${formatGrams(d.grams, 'metric')} that was not smoked when it was drawn`, limit: 'smoked fish alone', whatToDo: 'Undo that draw.',
  }));
  const evidence = evidenceOf(lineage, zone);
  // Taken from a dip that was not cold yet, it has stood in the warm since that was mixed.
  const from = evidence.mix && mixedFrom(lineage);
  const mixed = evidence.mix && from ? { ...evidence, mix: { ...evidence.mix, startedAt: from } } : evidence;
  return [
    ...raw, ...sourceChecks(lineage), ...drawnPackChecks(lineage, zone), mixedCheck(mix, mixedDay), ingredientCheck(lineage, mixedDay, zone), ...othersCheck(lineage, mixedDay), ...coolingOfTaken(lineage), ...dipFindings(mixed, lineage.clubLimits),
  ];
}

/** Packs without air that went in, as their own lots are held to: used up, they count there no more. */
function drawnPackChecks(lineage: Lineage, zone: string): Finding[] {
  const drawn = Map.groupBy(drawsInto(lineage).flatMap((d) => (d.sourcePackId === null ? [] : [packOf(lineage, d.sourcePackId)])), (pack) => pack.batchId);
  return [...drawn].flatMap(([id, packs]) => {
    if (packs.every((pack) => pack.packageKind !== 'vacuum' && pack.packageKind !== 'jar')) return [];
    const drawnOf = { ...evidenceOf({ ...lineage, id }, zone), packs: packs.map((pack) => evidencePack(pack, zone)) };
    const found = packFindings(drawnOf, lineage.clubLimits).filter((finding) => finding.ruleId !== 'salt.air');
    // What a captain may let go is let go in that lot.
    const warm = holdCold({ ...drawnOf, packs: [], packsUsed: drawnOf.packs }, lineage.clubLimits).filter((finding) => finding.releasable === false);
    return [...found, ...warm].filter((finding) => finding.state !== 'met').map((finding) => ofLot(finding, batchOf(lineage, id).lot));
  });
}

function mixedCheck(mix: LineageStage | undefined, mixedDay: Day | null): Finding {
  const done = mix?.finishedAt != null;
  return {
    ...plain, ruleId: 'date.dip', part: 'mixed', state: done ? 'met' : 'not-recorded', found: done ? `mixed ${mixedDay}` : mix ? 'mixing is not finished' : 'not recorded', limit: 'the day of mixing is recorded',
    whatToDo: done ? '' : 'Record the mixing stage to its end.',
  };
}

function ingredientCheck(lineage: Lineage, mixedDay: Day | null, zone: string): Finding {
  const days = ingredientLastDays(lineage, zone);
  const shared = { ...plain, ruleId: 'date.mixed', part: 'ingredients', limit: 'no fish past its last day when mixed' };
  if (days === null || mixedDay === null) return { ...shared, state: 'not-recorded', found: 'a day is not recorded', whatToDo: 'Record the smoke stage of every lot in it, and the mixing.' };
  const earliest = [...days].sort()[0]!;
  const good = earliest >= mixedDay;
  return { ...shared, state: good ? 'met' : 'not-met', found: `earliest last day ${earliest}, mixed ${mixedDay}`, whatToDo: good ? '' : 'Do not share it. Fish past its last day went in.' };
}

/** The other ingredients of a dip, where its weights, its words or its allergens tell of any: the earliest date on their packages is asked for, and shortens. */
function othersCheck(lineage: Lineage, mixedDay: Day | null): Finding[] {
  const { ingredients, allergens } = batchOf(lineage);
  const adding = stagesOf(lineage).filter((stage) => stage.addedG > 0);
  const mixes = stagesOf(lineage).filter((stage) => stage.kind === 'mix');
  // Not mixed yet it is on hold for that (date.dip).
  if (mixes.length === 0) return [];
  if (adding.length === 0 && ingredients.trim() === '' && allergens.every((allergen) => allergen === 'fish') && mixes.every((stage) => stage.addedLastDay === null)) return [];
  const shared = { ...plain, evidenceAt: 'stage' as const, evidenceStage: 'mix' as const, ruleId: 'date.mixed', part: 'others', about: 'other ingredients', limit: 'no other ingredient past its last day when mixed' };
  const untold = mixes.filter((stage) => stage.addedLastDay === null && (stage.addedG > 0 || mixes.length === 1));
  const days = addedLastDays(lineage);
  const earliest = [...days].sort()[0];
  if (earliest !== undefined && mixedDay !== null && earliest < mixedDay) return [{ ...shared, state: 'not-met', found: `earliest last day ${earliest}, mixed ${mixedDay}`, whatToDo: 'Do not share it. An ingredient past its last day went in.' }];
  if (earliest === undefined || untold.length > 0 || mixedDay === null) return [{ ...shared, state: 'not-recorded', found: 'the earliest last day of the other ingredients is not recorded', whatToDo: 'Enter it at the mixing: the earliest date on their packages. Of what has none, such as fresh herbs, the last day on which you would eat it.' }];
  return [{ ...shared, state: 'met', found: `earliest last day ${earliest}, mixed ${mixedDay}`, whatToDo: '' }];
}

const addedLastDays = (lineage: Lineage): Day[] => stagesOf(lineage).flatMap((stage) => stage.addedLastDay ?? []);

/** The last day of each lot or pack in a dip, as it is once thawed; null when one of them cannot be told. */
function ingredientLastDays(lineage: Lineage, zone: string): Day[] | null {
  const mix = liveStage(lineage, 'mix');
  const mixedDay = mix ? localDay(new Date(mix.startedAt), zone) : null;
  const days = drawsInto(lineage).map((draw) => {
    const source = batchOf(lineage, sourceBatchOf(lineage, draw) ?? lineage.id);
    if (source.productKind === 'dip' && draw.sourcePackId === null) return lastDayOfDip({ ...lineage, id: source.id }, zone);
    if (draw.landingId !== null || source.productKind !== 'hot-smoked') return draw.sourcePackId === null ? null : packOf(lineage, draw.sourcePackId).lastDay;
    const pack = draw.sourcePackId === null ? null : packOf(lineage, draw.sourcePackId);
    // Never frozen, it keeps as long as its own label says.
    if (pack && pack.storage === 'refrigerated' && pack.frozenDay === null) return pack.lastDay;
    // A frozen pack thaws to be mixed: its count goes on that day, if nobody said when.
    const thawedDay = pack && (pack.thawedDay ?? (pack.storage === 'frozen' ? mixedDay : null));
    if (pack?.storage === 'frozen' && thawedDay === null) return null;
    return dated({
      product: 'hot-smoked', packageKind: pack?.packageKind ?? 'tub', storage: 'refrigerated', smokeDay: source.smokeDay, mixedDay: null, ingredientLastDays: [],
      frozenDay: pack?.frozenDay ?? null, thawedDay, outBefore: pack?.outBefore ?? [], club: lineage.clubLimits, evidence: warmthAlone(lineage, source.id, zone),
    })?.lastDay ?? null;
  });
  return days.includes(null) ? null : (days as Day[]);
}

/** Those of the fish and of what was added to it; none where the fish's own cannot be told, so that the dip has no date. */
function withAdded(lineage: Lineage, zone: string): Day[] {
  const fish = ingredientLastDays(lineage, zone);
  return fish === null ? [] : [...fish, ...addedLastDays(lineage)];
}

/** Of a dip that nobody packed. */
const lastDayOfDip = (lineage: Lineage, zone: string): Day | null =>
  dated({
    product: 'dip', packageKind: 'tub', storage: 'refrigerated', smokeDay: null, mixedDay: batchOf(lineage).mixedDay, ingredientLastDays: withAdded(lineage, zone), frozenDay: null, thawedDay: null, club: lineage.clubLimits, evidence: warmthAlone(lineage, lineage.id, zone),
  })?.lastDay ?? null;

/** Of what dates rest on, the warmth of a lot alone: the rest could only lengthen. */
const warmthAlone = (lineage: Lineage, id: string, zone: string): DateEvidence =>
  once(lineage, `warmth of ${id}`, () => ({ coreMet: false, coolingMet: false, saltAirMet: false, saltRopMet: false, warmestStoreC: null, warmShare: warmShare(evidenceOf({ ...lineage, id }, zone), lineage.clubLimits) }));

/** What the days of a pack go by; `lastDay`: as it stands. */
export type DatedPack = Pick<LineagePack, 'packageKind' | 'storage' | 'frozenDay' | 'thawedDay' | 'outBefore' | 'status' | 'lastDay'>;

/** What the date rules ask for about one pack of the batch; `judged` gives the batch's own days. */
export function dateInput(lineage: Lineage, pack: DatedPack, judged: Pick<Judgement, 'smokeDay' | 'mixedDay' | 'dateEvidence' | 'storeUpToItsEndC'>, zone: string): DateInput {
  const product = batchOf(lineage).productKind;
  // Nobody logs it any more; it keeps the days that it left with as long as what showed them stands.
  const left = (pack.status === 'used' || pack.status === 'handed-over') && judged.smokeDay !== null && pack.lastDay !== null && pack.lastDay > addDays(judged.smokeDay, 6);
  const shown = { evidence: left ? { ...judged.dateEvidence, warmestStoreC: judged.storeUpToItsEndC } : judged.dateEvidence, club: lineage.clubLimits };
  const own = { ...shown, product, packageKind: pack.packageKind, storage: pack.storage, frozenDay: pack.frozenDay, thawedDay: pack.thawedDay, outBefore: pack.outBefore, mixedDay: judged.mixedDay };
  if (product === 'dip') return { ...own, smokeDay: null, ingredientLastDays: withAdded(lineage, zone) };
  if (product === 'hot-smoked') return { ...own, smokeDay: judged.smokeDay, ingredientLastDays: [] };
  const days = lineage.landings.map((l) => (l.caughtAt === null ? l.day : localDay(new Date(l.caughtAt), zone))).sort();
  const lean = lineage.landings.length > 0 && lineage.landings.every((l) => findSpecies(l.speciesCode)?.fat === 'lean');
  return { ...own, smokeDay: null, ingredientLastDays: [], caughtDay: days[0] ?? null, ...(lean ? { fat: 'lean' as const } : {}) };
}

/** What a longer date may rest on, as the checks found it. */
function dateEvidence(lineage: Lineage, checks: readonly Check[], zone: string): DateEvidence {
  const evidence = evidenceOf(lineage, zone);
  const met = (ruleId: string) => checks.some((c) => c.ruleId === ruleId) && checks.every((c) => c.ruleId !== ruleId || c.state === 'met');
  return {
    coreMet: met('smoke.core'), coolingMet: met('cool.fc'), warmestStoreC: warmestStoreC(evidence), warmShare: warmShare(evidence, lineage.clubLimits), saltAirMet: saltAir(evidence, lineage.clubLimits).state === 'met', saltRopMet: saltOfPackWithoutAir(lineage, zone),
  };
}

/** Whether a laboratory measured enough salt to keep packs of the batch without air unfrozen (salt.rop). */
export const saltOfPackWithoutAir = (lineage: Lineage, zone: string): boolean => batchOf(lineage).productKind === 'hot-smoked' && saltRop(evidenceOf(lineage, zone), lineage.clubLimits).state === 'met';

/** The dates of a pack, or null where the rules give it none: then it has no day to be shared by. */
export function dated(input: DateInput): DateAnswer | null {
  try {
    return useBy(input);
  } catch (error) {
    if (error instanceof DomainError) return null;
    throw error;
  }
}
