import type { StageYield } from '../../contract/batches.ts';
import { overall } from '../../domain/mass.ts';
import { compare, expectedYield } from '../../domain/yield.ts';
import type { ExpectedYield, YieldQuestion } from '../../domain/yield.ts';
import type { Form, StageKind } from '../../domain/working.ts';
import { batchOf, drawsInto, stagesOf } from './lineage.ts';
import type { Lineage } from './lineage.ts';

const tenth = (pct: number | null) => (pct === null ? null : Math.round(pct * 10) / 10);

function stageYield(actualPct: number | null, expected: ExpectedYield, notYet: string): StageYield {
  const missing = actualPct === null ? notYet : expected.known ? null : expected.reason;
  return {
    yieldPct: tenth(actualPct),
    expected: expected.known ? { lowPct: tenth(expected.lowPct)!, likelyPct: tenth(expected.likelyPct)!, highPct: tenth(expected.highPct)!, working: expected.working } : null,
    standing: compare(actualPct, expected) ?? 'unknown',
    missing,
  };
}

/** What each stage and the whole batch kept of its weight, against what the tables expect; what is missing is said. */
export function yieldsOf(lineage: Lineage): { ofStage(id: string): StageYield; overallYield: StageYield } {
  const stages = stagesOf(lineage);
  const expected = (stage: StageKind | 'overall') => expectedOf(lineage, stage);
  const all = overall(stages.map((s) => ({ kind: s.kind, massInG: s.massInG, massOutG: s.massOutG, addedG: s.addedG })));
  const byId = new Map(stages.map((s, i) => [s.id, stageYield(all.stages[i]!.yieldPct, expected(s.kind), 'Not finished yet.')]));
  const running = stages.find((s) => s.massOutG === null);
  const notYet = stages.length === 0 ? 'No stage is recorded yet.' : running ? `The ${running.kind} stage is not finished.` : 'A weight is not recorded.';
  return { ofStage: (id) => byId.get(id)!, overallYield: stageYield(running ? null : all.overallPct, expected('overall'), notYet) };
}

function expectedOf(lineage: Lineage, stage: StageKind | 'overall'): ExpectedYield {
  const asked = questionOf(lineage, stage);
  return 'reason' in asked ? { known: false, reason: asked.reason, highPct: null } : expectedYield(asked.question);
}

/** What to ask of the tables for a stage of this batch, or why nothing can be asked. */
export function questionOf(lineage: Lineage, stage: StageKind | 'overall'): { question: YieldQuestion } | { reason: string } {
  const landings = drawsInto(lineage).flatMap((d) => lineage.landings.filter((l) => l.id === d.landingId));
  const forms = [...new Set(landings.map((l) => l.form))];
  const species = [...new Set(lineage.landings.map((l) => l.speciesCode))];
  const product = batchOf(lineage).productKind;
  if (species.length === 0) return { reason: 'Nothing is drawn yet.' };
  if (product !== 'dip' && species.length > 1) return { reason: 'It holds several species.' };
  const fromLandings = drawsInto(lineage).every((d) => d.landingId !== null);
  if (stage === 'prepare' || (stage === 'overall' && product !== 'dip')) {
    if (!fromLandings) return { reason: 'It was made from other batches, which have their own yields.' };
    if (forms.length > 1) return { reason: `The fish came in several forms: ${forms.join(', ')}.` };
    if (stage === 'overall' && forms[0] !== 'fillet' && staysUncut(lineage)) return { reason: `Nothing to compare with: the range is for fillets, this fish came ${forms[0]} and no preparing is recorded.` };
  }
  return { question: { species: species[0]!, form: forms[0] ?? ('whole' satisfies Form), product, stage } };
}

/** Whether it went on without being prepared: smoked whole, gutted or headed, it keeps what fillets leave on the bench. Before its first stage nobody knows. */
function staysUncut(lineage: Lineage): boolean {
  const stages = stagesOf(lineage);
  return stages.length > 0 && !stages.some((s) => s.kind === 'prepare');
}
