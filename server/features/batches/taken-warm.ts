import { cooledDip } from '../../domain/rules/dip.ts';
import { cooling } from '../../domain/rules/cooling.ts';
import type { BatchEvidence, EvidenceReadings, EvidenceSmoke } from '../../domain/rules/evidence.ts';
import { limitOf } from '../../domain/rules/limits.ts';
import { between } from '../../domain/rules/logs.ts';
import type { ClubLimits, Finding } from '../../domain/rules/rule.ts';
import { batchOf, drawsInto, once, sourceBatchOf } from './lineage.ts';
import type { Lineage, LineageDraw, LineageStage } from './lineage.ts';
import { recordedOf } from './recorded.ts';
import { smokeOf, takenAt, wasSmoked } from './smoked.ts';

type Times = { cooledTo21At: Date | null; cooledAt: Date | null };
/** What tells of a batch's cooling: its stages and core readings, up to an instant. */
type Cooling = { stages: BatchEvidence['stages']; cores: EvidenceReadings[] };

/**
 * cool.fc and cool.hg of fish that was smoked in other lots, of each of them the worse. Where it was taken before its lot is known to have been cold, only what
 * was recorded of this batch shows its cooling, together with what was read in that lot up to then. Where it was taken cold, its lot's verdict
 * tells of the cooling, and what was recorded here can only show it too slow.
 */
export function coolingOfTaken(lineage: Lineage): Finding[] {
  const own = upTo(recordedOf(lineage, lineage.id), Infinity);
  const dip = batchOf(lineage).productKind === 'dip';
  const told = smokedDraws(lineage).flatMap((draw) => {
    const warm = !coldWhenDrawn(lineage, draw);
    // A dip is cold again by its mixing, which says nothing of fish that went in cold, or whose lot is on hold for its cooling.
    if (dip ? !warm || !coldInTheEnd(lineage, draw) : !warm && own.cores.length === 0 && !own.stages.some((s) => s.kind === 'cool')) return [];
    const found = cooling(asCooled(lineage, draw, own), lineage.clubLimits);
    const why = `; lot ${batchOf(lineage, sourceBatchOf(lineage, draw)!).lot} was not known to be cold when it was taken`;
    return warm ? found.map((finding) => (finding.state === 'met' ? finding : { ...finding, found: `${finding.found}${why}` })) : found.filter((finding) => finding.state === 'not-met');
  });
  const rank = ({ state }: Finding) => ['not-met', 'not-recorded', 'met'].indexOf(state);
  const worst = [...Map.groupBy(told, (finding) => `${finding.ruleId} ${finding.part}`).values()].map((each) => each.reduce((a, b) => (rank(b) < rank(a) ? b : a)));
  // Once it is packed no stage of cooling can be told any more, nor can one of a dip.
  return dip || own.stages.some((s) => s.kind === 'pack') ? worst.map((finding) => readOnly(lineage, finding)) : worst;
}

const readOnly = (lineage: Lineage, finding: Finding): Finding => ({ ...finding, evidenceAt: 'readings', whatToDo: finding.state === 'not-recorded' ? `Record core readings from the smoke down to ${limitOf(lineage.clubLimits, 'cool.fc.end.celsius').value} C.` : finding.whatToDo });

/**
 * cool.fc of fish that was taken warm and smoked again here: longer after its first smoke than the first step of cooling may take, what was read of it in
 * between has to show that it was cold. Nothing where its lot is on hold for its cooling.
 */
export function coolingBetween(lineage: Lineage, smoke: LineageStage): Finding[] {
  const againMs = Date.parse(smoke.startedAt);
  const { value } = limitOf(lineage.clubLimits, 'cool.fc.first-minutes');
  return smokedDraws(lineage).flatMap((draw) => {
    const soon = againMs - Date.parse(smokeOf(lineage, draw)!.finishedAt!) <= value * 60_000;
    if (soon || coldWhenDrawn(lineage, draw) || !coldInTheEnd(lineage, draw)) return [];
    const { lot } = batchOf(lineage, sourceBatchOf(lineage, draw)!);
    const found = cooling(asCooled(lineage, draw, upTo(recordedOf(lineage, lineage.id), againMs)), lineage.clubLimits);
    return found.filter((finding) => finding.ruleId === 'cool.fc' && finding.state !== 'met').map((finding) => ({ ...readOnly(lineage, finding), part: `${finding.part} ${lot}`, about: `between the smoke of lot ${lot} and this one` }));
  });
}

/** The draws of smoked fish, of many packs of one lot that came at once only one. */
const smokedDraws = (lineage: Lineage): LineageDraw[] => [...new Map(drawsInto(lineage).filter((draw) => wasSmoked(lineage, draw)).map((draw) => [keyOf(lineage, draw), draw])).values()];
const keyOf = (lineage: Lineage, draw: LineageDraw) => `${sourceBatchOf(lineage, draw)} ${takenAt(draw)} ${draw.createdAt}`;

/** When the smoke ended that smoked fish in a batch was taken from, the last where there are several, and when all of it had been taken cold; null where none was taken. */
export function takenSmoked(lineage: Lineage): { endedMs: number; coldMs: number | null } | null {
  const draws = smokedDraws(lineage);
  if (draws.length === 0) return null;
  const cold = draws.every((draw) => coldWhenDrawn(lineage, draw, Date.parse(draw.createdAt), withoutEnds(lineage.clubLimits)));
  return { endedMs: Math.max(...draws.map((draw) => Date.parse(smokeOf(lineage, draw)!.finishedAt!))), coldMs: cold ? Math.max(...draws.map((draw) => Date.parse(draw.createdAt))) : null };
}

/** Whether the records show that what a draw took was at 5 C by then, or its lot by another instant, in good time. A dip answers for itself. */
function coldWhenDrawn(lineage: Lineage, draw: LineageDraw, untilMs = Date.parse(draw.createdAt), limits = lineage.clubLimits): boolean {
  return once(lineage, `cold ${keyOf(lineage, draw)} ${untilMs}${limits === lineage.clubLimits ? '' : ' by the rules'}`, () => {
    const source = sourceBatchOf(lineage, draw)!;
    if (batchOf(lineage, source).productKind === 'dip') return true;
    const own = upTo(recordedOf(lineage, source), untilMs);
    const into = smokeOf(lineage, draw)!.batchId === source ? [draw] : drawsInto(lineage, source).filter((d) => d.eventNo < takenAt(draw));
    if (into[0] !== draw && into.every((d) => coldWhenDrawn(lineage, d, Date.parse(d.createdAt), limits))) return true;
    return into.every((d) => cooling(asCooled(lineage, d, own), limits).every((finding) => finding.ruleId !== 'cool.fc' || finding.state === 'met'));
  });
}

/**
 * The club's limits without its own colder ends of cooling. What such an end leaves open was cold by the rule all the same: from then on it is held against what
 * is for cold fish, and a lot that is on hold for that alone must not excuse what was made of it.
 */
const withoutEnds = (limits: ClubLimits): ClubLimits => Object.fromEntries(Object.entries(limits).filter(([id]) => !/^cool\..*celsius$/.test(id)));
const coldInTheEnd = (lineage: Lineage, draw: LineageDraw): boolean => coldWhenDrawn(lineage, draw, Infinity, withoutEnds(lineage.clubLimits));

/** One batch's cooling after the smoke of what a draw took, with what was read of that before the draw. */
function asCooled(lineage: Lineage, draw: LineageDraw, own: Cooling): BatchEvidence {
  const drawnMs = Date.parse(draw.createdAt);
  const smoke = smokeOf(lineage, draw)!;
  const of = sourceBatchOf(lineage, draw)!;
  const source = recordedOf(lineage, of);
  const before = own.stages.some((s) => s.id === smoke.id) ? [] : [...upTo(source, drawnMs).cores, ...(smoke.batchId === of ? [] : upTo(recordedOf(lineage, smoke.batchId), drawnMs).cores)];
  const typed = own.stages.find((s) => s.id === smoke.id) ?? own.stages.find((s) => s.kind === 'mix');
  const finishedAt = new Date(smoke.finishedAt!);
  // What is of before that smoke's end is of other fish.
  const since = (times: { cooledTo21At?: Date | null; cooledAt?: Date | null }): Times => ({ cooledTo21At: notBefore(times.cooledTo21At, finishedAt), cooledAt: notBefore(times.cooledAt, finishedAt) });
  const stage: EvidenceSmoke = { id: smoke.id, kind: 'smoke', startedAt: new Date(smoke.startedAt), finishedAt, maxCoreC: null, holdMinutes: null, ...since(typed ?? {}) };
  const stages = [stage, ...own.stages.filter((s) => s.kind === 'cool').map((s) => ({ ...s, ...since(s) }))];
  const cores = own.stages.some((s) => s.id === smoke.id) ? own.cores : own.cores.flatMap((list) => between(list, finishedAt.getTime(), Infinity) ?? []);
  return { ...NOTHING, smoke: stage, stages, readings: [...before, ...cores].map((list) => ({ ...list, stageId: null })) };
}

const notBefore = (at: Date | null | undefined, from: Date) => (at && at >= from ? at : null);

const NOTHING: BatchEvidence = {
  product: 'hot-smoked', smoke: null, mix: null, stages: [], readings: [], readingsBefore: [], curesBefore: [], curedBeforeMs: 0, joinedAt: null, drawnAt: null, judgedAt: null, frozenBefore: 'none', guttedSource: '', measurements: [], measurementsBefore: [], landings: [], packs: [],
};

function upTo({ stages, readings }: Pick<BatchEvidence, 'stages' | 'readings'>, untilMs: number): Cooling {
  const known = (at: Date | null | undefined) => (at && at.getTime() <= untilMs ? at : null);
  return {
    stages: stages.map((s) => ({ ...s, cooledTo21At: known(s.cooledTo21At), cooledAt: known(s.cooledAt) })),
    cores: readings.filter((list) => list.place === 'core').flatMap((list) => between(list, -Infinity, untilMs) ?? []),
  };
}

/** When the first mixing began from which a dip counts: its own, or that of a dip that it was taken from before that was cold. */
export const mixedFrom = (lineage: Lineage, id = lineage.id): Date | null => once(lineage, `mixed from ${id}`, () => {
  const { mix } = recordedOf(lineage, id);
  const earlier = drawsInto(lineage, id).flatMap((draw) => {
    const source = sourceBatchOf(lineage, draw);
    if (source === null || batchOf(lineage, source).productKind !== 'dip') return [];
    const from = mixedFrom(lineage, source);
    const of = recordedOf(lineage, source);
    if (from === null || of.mix === null) return [];
    const coldBy = (untilMs: number) => {
      const { stages, cores } = upTo(of, untilMs);
      const { cooledAt = null } = stages.find((s) => s.id === of.mix!.id) ?? {};
      return cooledDip({ ...NOTHING, mix: { ...of.mix!, startedAt: from, cooledAt }, stages, readings: cores }, withoutEnds(lineage.clubLimits))[0]?.state;
    };
    // One of which nothing is known is on hold itself, and this one with it.
    return coldBy(Date.parse(draw.createdAt)) === 'met' || coldBy(Infinity) === 'not-recorded' ? [] : [from];
  });
  const all = [...(mix ? [mix.startedAt] : []), ...earlier];
  return all.length === 0 ? null : new Date(Math.min(...all.map((at) => at.getTime())));
});
