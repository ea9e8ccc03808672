import { DomainError, checkGrams } from './working.ts';
import type { Grams, StageKind, Working } from './working.ts';

export type StageMass = { kind: StageKind; massInG: Grams; addedG: Grams; massOutG: Grams; trimG: Grams };

/**
 * The most that may be added in a stage, as a part of what went in. A cure takes up
 * brine (models.md, from memory: +2 to +8 % in brine of 6 to 10 %) and a rinse leaves
 * water on the fish: ceilings of 20 and 10 % are common practice. A dip of less than a
 * tenth fish is taken for a slip (common practice). Other stages add nothing.
 */
const MOST_ADDED: Readonly<Partial<Record<StageKind, number>>> = { cure: 0.2, rinse: 0.1, mix: 9 };

/**
 * The loss of a stage: mass in + added = mass out + trim + loss, in grams, none below
 * zero. Throws DomainError on weights that are not whole grams, on something added
 * where nothing can be (only cure, rinse and mix take anything up) or above its
 * ceiling, and when more came out than went in.
 */
export function balance(stage: StageMass): { lossG: Grams; working: Working } {
  checkGrams(stage.massInG, 'massInG', 'weight in');
  checkGrams(stage.addedG, 'addedG', 'added');
  checkGrams(stage.massOutG, 'massOutG', 'weight out');
  checkGrams(stage.trimG, 'trimG', 'trim');
  checkAdded(stage);
  const lossG = stage.massInG + stage.addedG - stage.massOutG - stage.trimG;
  if (lossG < 0) throw moreOutThanIn(stage, -lossG);
  return {
    lossG,
    working: {
      inputs: [
        { name: 'mass in', value: stage.massInG, unit: 'g' }, { name: 'added', value: stage.addedG, unit: 'g' },
        { name: 'mass out', value: stage.massOutG, unit: 'g' }, { name: 'trim', value: stage.trimG, unit: 'g' },
      ],
      model: 'yield', formula: 'loss = mass in + added - mass out - trim', source: 'arithmetic', certainty: 'arithmetic',
    },
  };
}

/**
 * The least that must have been added for the weights to balance, in grams: what a
 * cure took up, when only the scale was read. Zero for a stage that takes nothing up.
 */
export function leastAddedG(stage: Omit<StageMass, 'addedG'>): Grams {
  if (MOST_ADDED[stage.kind] === undefined) return 0;
  return Math.max(0, stage.massOutG + stage.trimG - stage.massInG);
}

function checkAdded({ kind, massInG, addedG }: StageMass): void {
  if (addedG === 0) return;
  const most = MOST_ADDED[kind];
  const shared = { field: 'addedG', label: 'added', value: addedG, shown: `${addedG} g` };
  if (most === undefined) {
    throw new DomainError({ ...shared, code: 'mass.nothing-added', problem: `cannot be: nothing is added in the ${kind} stage`, remedy: 'enter 0, or correct the weight in' });
  }
  if (addedG > massInG * most) {
    throw new DomainError({
      ...shared, code: 'mass.too-much-added', problem: `is more than ${Math.round(most * 100)} % of the ${massInG} g that went into the ${kind} stage`,
      remedy: 'weigh again, or correct the weight in',
    });
  }
}

function moreOutThanIn({ kind, massInG, addedG, massOutG, trimG }: StageMass, excessG: Grams): DomainError {
  const trimmed = trimG > 0 ? ` with ${trimG} g trim` : '';
  const wetter = MOST_ADDED[kind] === undefined ? '' : ', or enter what was added';
  return new DomainError({
    code: 'mass.more-out-than-in', field: 'massOutG', label: 'weight out', value: massOutG, shown: `${massOutG} g${trimmed}`,
    problem: `is ${excessG} g more than the ${massInG + addedG} g that went in`, remedy: `weigh again, or correct the weight in${wetter}`,
  });
}

export type StageWeights = { kind: StageKind; massInG: Grams | null; massOutG: Grams | null; addedG?: Grams };
export type StageYield = { kind: StageKind; yieldPct: number | null };

/**
 * Yields in percent of what went in, by stage and overall. A weight that is not
 * recorded makes its stage null, and the overall yield null when it is the first mass
 * in or the last mass out. A gap in the middle is bridged from the weights on either
 * side of it. What a mix adds counts as going in, so that a dip yields no more than 100.
 * `missing` names the stages without both weights.
 */
export function overall(stages: readonly StageWeights[]): { stages: StageYield[]; overallPct: number | null; missing: StageKind[]; working: Working } {
  const yields = stages.map((stage) => ({ kind: stage.kind, yieldPct: stageYield(stage) }));
  return {
    stages: yields,
    overallPct: chain(stages),
    missing: yields.filter((stage) => stage.yieldPct === null).map((stage) => stage.kind),
    working: {
      inputs: stages.map((stage) => ({ name: stage.kind, value: `${stage.massInG ?? 'not recorded'} to ${stage.massOutG ?? 'not recorded'}`, unit: 'g' })),
      model: 'yield', formula: 'the yields of the stages multiplied; a stage without weights is bridged by its neighbours', source: 'arithmetic', certainty: 'arithmetic',
    },
  };
}

function wentIn(stage: StageWeights): number | null {
  if (stage.massInG === null) return null;
  return stage.massInG + (stage.kind === 'mix' ? (stage.addedG ?? 0) : 0);
}

function stageYield(stage: StageWeights): number | null {
  const inG = wentIn(stage);
  return inG === null || inG === 0 || stage.massOutG === null ? null : (100 * stage.massOutG) / inG;
}

/** Multiplies what each step keeps. Where two stages meet and both weights are known, a difference was drawn off, not lost. */
function chain(stages: readonly StageWeights[]): number | null {
  const first = stages[0];
  if (!first || first.massInG === null || first.massInG === 0) return null;
  let kept = 1;
  let lastG: number = wentIn(first)!;
  let outKnown = true;
  for (const stage of stages) {
    if (stage.massInG !== null) {
      if (!outKnown && lastG > 0) kept *= stage.massInG / lastG;
      lastG = wentIn(stage)!;
    }
    outKnown = stage.massOutG !== null;
    if (stage.massOutG === null) continue;
    if (lastG === 0) return null;
    kept *= stage.massOutG / lastG;
    lastG = stage.massOutG;
  }
  return outKnown ? 100 * kept : null;
}
