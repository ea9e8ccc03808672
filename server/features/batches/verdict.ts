import type { Check } from '../../contract/common.ts';
import { useBy } from '../../domain/dates.ts';
import type { DateAnswer, DateInput } from '../../domain/dates.ts';
import { smokeEvidence } from '../../domain/evidence.ts';
import { findSpecies } from '../../domain/species/index.ts';
import { localDay } from '../../domain/time.ts';
import { formatGrams } from '../../domain/units.ts';
import { DomainError } from '../../domain/working.ts';
import type { Day } from '../../domain/working.ts';
import { replay } from './ledger.ts';
import { batchOf, drawsInto, ledgerInput, packOf, sourceBatchOf, stagesOf } from './lineage.ts';
import type { Lineage, LineageDraw, LineagePack, LineageStage, Verdict } from './lineage.ts';

export type Judgement = { verdict: Verdict; smokeDay: Day | null; mixedDay: Day | null; checks: Check[] };

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
    batch.productKind === 'dip' ? dipChecks(lineage, mix, mixedDay, zone) : batch.productKind === 'raw' ? rawChecks() : smokedChecks(lineage, smoke);
  const checks = [...speciesChecks(lineage), ...ofProduct];
  return { verdict: checks.length > 0 && checks.every((c) => c.state === 'met') ? 'clear' : 'hold', smokeDay, mixedDay, checks };
}

const liveStage = (lineage: Lineage, kind: LineageStage['kind'], id = lineage.id) => stagesOf(lineage, id).find((s) => s.kind === kind);

/** The earliest day on which any of it began to smoke: counting from there is the stricter. */
function smokeDayOf(lineage: Lineage, smoke: LineageStage | undefined, zone: string): Day | null {
  const days = drawsInto(lineage).flatMap((draw) => {
    const source = sourceBatchOf(lineage, draw);
    const day = source !== null && wasSmoked(lineage, draw) ? batchOf(lineage, source).smokeDay : null;
    return day === null ? [] : [day];
  });
  if (smoke) days.push(localDay(new Date(smoke.startedAt), zone));
  return days.sort()[0] ?? null;
}

/** Whether what a draw took had been through the smoker by then. Told by the order of the records, not by typed times. */
export function wasSmoked(lineage: Lineage, draw: LineageDraw): boolean {
  const source = sourceBatchOf(lineage, draw);
  if (source === null) return false;
  return smokedBy(lineage, source, draw.sourcePackId === null ? draw.eventNo : Infinity);
}
function smokedBy(lineage: Lineage, id: string, eventNo: number): boolean {
  const smoke = liveStage(lineage, 'smoke', id);
  if (smoke && smoke.finishedAt !== null && smoke.eventNo < eventNo) return true;
  const before = drawsInto(lineage, id).filter((d) => d.eventNo < eventNo);
  return before.length > 0 && before.every((d) => wasSmoked(lineage, d));
}

/** Fish that the tables never let anybody share, however long ago it went in: the tables of a later release may say more. */
function speciesChecks(lineage: Lineage): Check[] {
  const refused = new Map(lineage.landings.filter((l) => l.sharing === 'refuse' || findSpecies(l.speciesCode)?.sharing === 'refuse').map((l) => [l.speciesCode, l.species]));
  return [...refused].map(([code, name]) => ({
    ruleId: 'species.sharing', state: 'not-met', found: name, limit: 'no species that is never for sharing', source: findSpecies(code)?.hazardSource ?? 'tables/hazards.csv',
    whatToDo: `${findSpecies(code)?.sharingReason ?? 'Not for sharing.'} Hold it; recall the lot if packs of it are out.`,
  }));
}

const withoutPart = ({ ruleId, state, found, limit, source, whatToDo }: Check): Check => ({ ruleId, state, found, limit, source, whatToDo });

function smokedChecks(lineage: Lineage, smoke: LineageStage | undefined): Check[] {
  const draws = drawsInto(lineage);
  if (!smoke && draws.length > 0 && draws.every((d) => wasSmoked(lineage, d))) return [...sourceChecks(lineage), oneSmokeDayCheck(lineage)];
  const { checks } = smokeEvidence({
    maxCoreC: smoke?.maxCoreC ?? null,
    holdMinutes: smoke?.holdMinutes ?? null,
    smokeFinishedAt: smoke?.finishedAt ? new Date(smoke.finishedAt) : null,
    cooledAt: smoke?.cooledAt ? new Date(smoke.cooledAt) : null,
  });
  return [...checks.map(withoutPart), ...(smoke ? [...endedCheck(smoke), ...wholeBatchCheck(lineage, smoke)] : [])];
}

/** Evidence typed while the smoker still runs may yet change. */
function endedCheck(smoke: LineageStage): Check[] {
  if (smoke.finishedAt !== null) return [];
  return [{ ruleId: 'smoke.core', state: 'not-recorded', found: 'smoking is not finished', limit: 'smoking recorded to its end', source: 'MI569.7', whatToDo: 'Finish the smoke stage.' }];
}

/** What stayed out of the smoker has no evidence, and cannot be told from the rest once packed. */
function wholeBatchCheck(lineage: Lineage, smoke: LineageStage): Check[] {
  const held = replay(ledgerInput(lineage)).before.get(smoke.id)!;
  if (smoke.massInG >= held) return [];
  return [{
    ruleId: 'lot.code', state: 'not-met', found: `${formatGrams(smoke.massInG, 'metric')} of ${formatGrams(held, 'metric')} went into the smoker`,
    limit: 'all of the batch in one smoker load', source: 'MI569.7', whatToDo: 'Move what was not smoked into a batch of its own, or correct the weight that went in.',
  }];
}

/** A batch that was made of smoked fish is no better than the lots that it came from. */
function sourceChecks(lineage: Lineage): Check[] {
  const sources = [...new Set(drawsInto(lineage).map((d) => sourceBatchOf(lineage, d)!))].map((id) => batchOf(lineage, id));
  return sources.map((s) => ({
    ruleId: 'smoke.core', state: s.verdict === 'clear' ? 'met' : 'not-met', found: `lot ${s.lot}: ${s.verdict}`, limit: 'every lot in it is clear',
    source: 'MI569.7; HG ch. 13; AFDO', whatToDo: s.verdict === 'clear' ? '' : `Hold it. See what lot ${s.lot} lacks.`,
  }));
}

function oneSmokeDayCheck(lineage: Lineage): Check {
  const days = [...new Set(drawsInto(lineage).map((d) => batchOf(lineage, sourceBatchOf(lineage, d)!).smokeDay))].sort();
  const found = days.map((d) => d ?? 'not recorded').join(', ');
  const shared = { ruleId: 'lot.no-mix', found, limit: 'one smoke day under one lot', source: 'WI ATCP 70.46' };
  if (days.includes(null)) return { ...shared, state: 'not-recorded', whatToDo: 'Record the smoke stage of every lot in it.' };
  return days.length === 1 ? { ...shared, state: 'met', whatToDo: '' } : { ...shared, state: 'not-met', whatToDo: 'Undo the draw of one of them: two smoke days are never packed under one label.' };
}

/** Nothing that is recorded here shows raw fish safe to share: that takes a freezing log against parasites. */
function rawChecks(): Check[] {
  return [{
    ruleId: 'parasite', state: 'not-recorded', found: 'no freezing log', limit: '-20 C for 168 h, or -35 C frozen solid and 15 h', source: 'FC 3-402.11; EU 853/2004',
    whatToDo: 'Raw fish stays on hold: no record here can show that it was frozen long enough.',
  }];
}

function dipChecks(lineage: Lineage, mix: LineageStage | undefined, mixedDay: Day | null, zone: string): Check[] {
  const draws = drawsInto(lineage);
  if (draws.length === 0) {
    return [{ ruleId: 'smoke.core', state: 'not-recorded', found: 'no fish yet', limit: 'every lot in it is clear', source: 'MI569.7; HG ch. 13; AFDO', whatToDo: 'Draw the packs that go into it.' }];
  }
  const unsmoked = draws.filter((d) => !wasSmoked(lineage, d));
  const raw: Check[] = unsmoked.map((d) => ({
    ruleId: 'smoke.core', state: 'not-met', found: `${formatGrams(d.grams, 'metric')} that was not smoked when it was drawn`, limit: 'smoked fish alone',
    source: 'MI569.7; HG ch. 13; AFDO', whatToDo: 'Undo that draw.',
  }));
  const smokedOnly = { ...lineage, draws: lineage.draws.filter((d) => !unsmoked.includes(d)) };
  return [...raw, ...sourceChecks(smokedOnly), mixedCheck(mix, mixedDay), ingredientCheck(lineage, mixedDay, zone)];
}

function mixedCheck(mix: LineageStage | undefined, mixedDay: Day | null): Check {
  const done = mix?.finishedAt != null;
  return {
    ruleId: 'date.dip', state: done ? 'met' : 'not-recorded', found: done ? `mixed ${mixedDay}` : mix ? 'mixing is not finished' : 'not recorded', limit: 'the day of mixing is recorded',
    source: 'FDA/USDA storage chart for tuna salad: 3 to 4 days', whatToDo: done ? '' : 'Record the mixing stage to its end.',
  };
}

function ingredientCheck(lineage: Lineage, mixedDay: Day | null, zone: string): Check {
  const days = ingredientLastDays(lineage, zone);
  const shared = { ruleId: 'date.mixed', limit: 'no fish past its last day when mixed', source: 'FC 3-501.17(C)' };
  if (days === null || mixedDay === null) return { ...shared, state: 'not-recorded', found: 'a day is not recorded', whatToDo: 'Record the smoke stage of every lot in it, and the mixing.' };
  const earliest = [...days].sort()[0]!;
  const good = earliest >= mixedDay;
  return { ...shared, state: good ? 'met' : 'not-met', found: `earliest last day ${earliest}, mixed ${mixedDay}`, whatToDo: good ? '' : 'Hold it. Fish past its last day went in.' };
}

/** The last day of each lot or pack in a dip, as it is once thawed; null when one of them cannot be told. */
function ingredientLastDays(lineage: Lineage, zone: string): Day[] | null {
  const mix = liveStage(lineage, 'mix');
  const mixedDay = mix ? localDay(new Date(mix.startedAt), zone) : null;
  const days = drawsInto(lineage).map((draw) => {
    const source = batchOf(lineage, sourceBatchOf(lineage, draw) ?? lineage.id);
    if (draw.landingId !== null || source.productKind !== 'hot-smoked') return draw.sourcePackId === null ? null : packOf(lineage, draw.sourcePackId).lastDay;
    const pack = draw.sourcePackId === null ? null : packOf(lineage, draw.sourcePackId);
    // A frozen pack thaws to be mixed: its count goes on that day, if nobody said when.
    const thawedDay = pack && (pack.thawedDay ?? (pack.storage === 'frozen' ? mixedDay : null));
    if (pack?.storage === 'frozen' && thawedDay === null) return null;
    return dated({
      product: 'hot-smoked', packageKind: pack?.packageKind ?? 'tub', storage: 'refrigerated', smokeDay: source.smokeDay, mixedDay: null, ingredientLastDays: [],
      frozenDay: pack?.frozenDay ?? null, thawedDay,
    })?.lastDay ?? null;
  });
  return days.includes(null) ? null : (days as Day[]);
}

/** What the date rules ask for about one pack of the batch; `judged` gives the batch's own days. */
export function dateInput(lineage: Lineage, pack: Pick<LineagePack, 'packageKind' | 'storage' | 'frozenDay' | 'thawedDay'>, judged: Pick<Judgement, 'smokeDay' | 'mixedDay'>, zone: string): DateInput {
  const product = batchOf(lineage).productKind;
  const own = { product, packageKind: pack.packageKind, storage: pack.storage, frozenDay: pack.frozenDay, thawedDay: pack.thawedDay, mixedDay: judged.mixedDay };
  if (product === 'dip') return { ...own, smokeDay: null, ingredientLastDays: ingredientLastDays(lineage, zone) ?? [] };
  if (product === 'hot-smoked') return { ...own, smokeDay: judged.smokeDay, ingredientLastDays: [] };
  const days = lineage.landings.map((l) => (l.caughtAt === null ? l.day : localDay(new Date(l.caughtAt), zone))).sort();
  const lean = lineage.landings.length > 0 && lineage.landings.every((l) => findSpecies(l.speciesCode)?.fat === 'lean');
  return { ...own, smokeDay: null, ingredientLastDays: [], caughtDay: days[0] ?? null, ...(lean ? { fat: 'lean' as const } : {}) };
}

/** The dates of a pack, or null where the rules give it none: then it has no day to be shared by. */
export function dated(input: DateInput): DateAnswer | null {
  try {
    return useBy(input);
  } catch (error) {
    if (error instanceof DomainError) return null;
    throw error;
  }
}
