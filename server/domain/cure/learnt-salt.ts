import { fleshWater } from './pieces.ts';
import type { CureFacts } from './cure-facts.ts';
import { rounded } from '../bounds.ts';
import { findSpecies } from '../species/index.ts';
import type { FatClass } from '../species/types.ts';
import { DomainError } from '../working.ts';
import type { Day, Grams, StageKind, Working } from '../working.ts';
import { surroundings } from './amounts.ts';
import { bandInWords, MUSCLE_RANGE, START_AT_5C, START_BAND } from '../salt/diffusivity.ts';
import type { ClubDiffusivity } from '../salt/diffusivity.ts';
import { saltBeforeDrying } from '../salt/drying.ts';
import { checkMeasurement, refitDiffusivity, usualSdPercent } from '../salt/refit.ts';
import type { SaltMeasurement } from '../salt/refit.ts';
import { saltUptake } from '../salt/uptake.ts';
import { SATURATED_WPS } from '../salt/water-phase.ts';

export type WeighedStage = { kind: StageKind; startedDay: Day; finishedDay: Day | null; massInG: Grams; massOutG: Grams | null; trimG: Grams };
export type LabFigure = { id: string; part: 'loin' | 'belly' | 'tail' | 'whole'; percent: number; sampledDay: Day };

/** A batch as it stands in the record: how it was cured, what it weighed, what the laboratory found. */
export type CuredBatch = {
  batchId: string;
  lot: string;
  facts: CureFacts;
  /** From the stage's times; null while it runs. */
  minutes: number | null;
  massInG: Grams;
  massOutG: Grams | null;
  trimG: Grams;
  /** What the batch held when the cure began. */
  heldG: Grams;
  /** How many cure stages it has. */
  cures: number;
  /** Fish was drawn into it after the cure. */
  joinedAfter: boolean;
  packedDay: Day | null;
  /** Of the landings it was drawn from; empty when it was drawn from other batches. */
  species: { code: string; grams: Grams }[];
  /** The stages after the cure, in order, without packing. */
  later: WeighedStage[];
  figures: LabFigure[];
};

export type UsedFigure = {
  figureId: string; batchId: string; lot: string; part: 'loin' | 'whole'; sampledDay: Day; measuredPercent: number;
  /** Of finished fish: the weight it kept after the cure and the water it had then; null when it was sampled after the cure. */
  keptPercent: number | null;
  curedWaterPercent: number | null;
  /** The figure read back to the end of the cure; as measured when it was sampled there. */
  curedPercent: number;
  minutes: number; thicknessMm: number;
  /** With the published start, and with what the club's figures make of it, with the band. */
  startPercent: number; predictedPercent: number; lowPercent: number; highPercent: number;
  residual: number;
  working: Working;
};
/** `used` is false where there are no figures, or they come to a value that no muscle has: then the value is the published start. */
export type LearntClass = ClubDiffusivity & { fat: FatClass; startM2PerSAt5C: number; used: boolean; figures: UsedFigure[]; notes: string[]; working: Working };
export type LeftOutFigure = { batchId: string; lot: string; figureId: string; fat: FatClass | 'mixed'; why: string };
export type LearntSalt = { classes: LearntClass[]; leftOut: LeftOutFigure[] };

const FATS: readonly FatClass[] = ['lean', 'medium', 'fatty'];
/** What refitDiffusivity takes at once. */
const MOST_FIGURES = 500;

type Point = { batch: CuredBatch; figure: LabFigure; measurement: SaltMeasurement; curedPercent: number; working: Working };

/**
 * What the club's laboratory figures say of the diffusivity, by fat class: each figure of loin
 * or whole fish is held against its cure, a figure of finished fish read back to the end of the
 * cure by the weights kept after it. Several figures of one batch count as one; figures that
 * cannot be are left out, each with why. Range:
 * the first 500 figures of a class, each as refitDiffusivity takes it. Never throws for what a
 * batch lacks. Source: as refitDiffusivity and saltBeforeDrying.
 */
export function learntSalt(batches: readonly CuredBatch[]): LearntSalt {
  const leftOut: LeftOutFigure[] = [];
  const points: Point[] = [];
  for (const batch of batches) {
    for (const figure of batch.figures) {
      const read = pointOf(batch, figure);
      if (typeof read === 'string') leftOut.push({ batchId: batch.batchId, lot: batch.lot, figureId: figure.id, fat: batch.facts.fat, why: read });
      else points.push(read);
    }
  }
  return { classes: FATS.map((fat) => classOf(fat, points.filter(({ batch }) => batch.facts.fat === fat).slice(0, MOST_FIGURES))), leftOut };
}

/** A figure ready for the fit, or why it is left out. */
function pointOf(batch: CuredBatch, figure: LabFigure): Point | string {
  const why = whyNot(batch, figure);
  if (why !== null) return why;
  const { facts, minutes } = batch;
  const fat = facts.fat as FatClass;
  const water = waterOf(batch, fat);
  try {
    const dried = driedOf(batch, figure, water.percent);
    if (typeof dried === 'string') return dried;
    const conditions = { ...curedConditions(batch, water.percent), minutes: minutes! };
    const measurement = { ...conditions, measuredPercent: figure.percent, ...dried };
    checkMeasurement(measurement, fat);
    const curedPercent = dried === null ? figure.percent : saltBeforeDrying({ finishedPercent: figure.percent, ...dried }).waterPhaseSaltPercent;
    return {
      batch, figure, curedPercent, measurement,
      working: {
        inputs: [
          { name: 'measured', value: figure.percent, unit: '%' }, { name: 'water in the raw flesh', value: water.percent, unit: '%' }, { name: 'time in the cure', value: rounded(minutes!, 1), unit: 'min' },
          { name: 'thickness', value: facts.thicknessMm, unit: 'mm' }, { name: 'open faces', value: conditions.openFaces }, { name: 'brine', value: conditions.brinePercent, unit: '%' }, { name: 'place', value: facts.temperatureC, unit: 'C' },
          ...(dried === null ? [] : [{ name: 'weight kept after the cure', value: dried.keptPercent, unit: '%' }, { name: 'water after the cure', value: dried.curedWaterPercent, unit: '%' }]),
        ],
        model: 'salt-fit', formula: dried === null ? 'as measured: it was sampled after the cure' : 'salt = s x water left/(100 - s); 100 x salt/(salt + water before)',
        source: `${water.source}; weights of the stages; the laboratory's figure`, range: 'loin or whole fish of one cure', uncertainty: 'all weight lost after the cure counts as water: fat that drips off, salt that a rinse takes and pieces that were lost are not told apart', certainty: 'arithmetic',
      },
    };
  } catch (cause) {
    if (cause instanceof DomainError) return cause.message;
    throw cause;
  }
}

/** What makes a figure say nothing of its cure. */
function whyNot(batch: CuredBatch, figure: LabFigure): string | null {
  const { facts } = batch;
  if (figure.part === 'belly' || figure.part === 'tail') return 'Bellies and tails are thinner than the cure says: only loin and whole fish count.';
  if (facts.fat === 'mixed') return 'Fish of several fat classes lay in the cure together.';
  const known = new Set(batch.species.flatMap(({ code }) => findSpecies(code)?.fat ?? []));
  if (known.size > 1) return 'Fish of several fat classes was drawn into the batch.';
  if (known.size === 1 && !known.has(facts.fat)) return `The cure says ${facts.fat}, the species says ${[...known][0]}: correct one of them.`;
  if (batch.minutes === null || batch.massOutG === null) return 'The cure is not finished.';
  if (batch.cures > 1) return 'The batch was cured more than once.';
  if (batch.massInG < batch.heldG) return 'Only part of the fish lay in the cure.';
  if (batch.joinedAfter) return 'Fish was added after the cure.';
  return null;
}

type Dried = { keptPercent: number; curedWaterPercent: number };

/**
 * What a sample lost after the cure: null when it was taken before anything came after, a sentence when a weight is
 * missing. A sample of the day on which a stage ended counts as taken after it: read back it is the lower figure.
 */
function driedOf(batch: CuredBatch, { sampledDay, percent }: LabFigure, rawWaterPercent: number): Dried | string | null {
  const before = batch.later.filter(({ startedDay }) => startedDay <= sampledDay);
  if (before.length === 0) return batch.packedDay !== null && batch.packedDay <= sampledDay ? 'No weight is recorded between the cure and packing.' : null;
  const open = before.find(({ massOutG }) => massOutG === null);
  if (open) return `The ${open.kind} stage is not finished: its weight is missing.`;
  const during = before.find(({ finishedDay }) => finishedDay! > sampledDay);
  if (during) return `It was sampled while the ${during.kind} stage ran: its weight then is not known.`;
  const kept = before.reduce((part, stage) => part * keptOf(stage), 1);
  if (kept > 1) return 'The fish weighs more than after the cure: check the weights.';
  // Per 100 g after the cure: what is neither water nor salt is as it was raw.
  const solids = (100 - rawWaterPercent) / keptOf(batch);
  const r = percent / (100 - percent);
  const keptPercent = rounded(100 * kept, 2);
  return { keptPercent, curedWaterPercent: rounded((100 - solids + r * (100 - keptPercent)) / (1 + r), 2) };
}

/** Trim is of the same make as the rest, so it takes nothing from what was kept. */
const keptOf = ({ massInG, massOutG, trimG }: Pick<WeighedStage, 'massInG' | 'massOutG' | 'trimG'>): number => (massOutG! + trimG) / massInG;

type LaidIn = Pick<CureFacts, 'method' | 'saltGrams' | 'waterGrams' | 'brinePercent' | 'thicknessMm' | 'skin' | 'temperatureC' | 'onceFrozen'>;

/**
 * What the fish of a recorded cure lay in, for the salt functions; its fat class and time apart. Takes the weight that went in and
 * the water of the raw flesh in percent. Range: facts as checkCureFacts takes them. Source: as surroundings.
 */
export function curedConditions({ facts, massInG }: { facts: LaidIn; massInG: Grams }, waterPercent: number): Omit<SaltMeasurement, 'minutes' | 'measuredPercent'> {
  const { method, saltGrams, waterGrams, brinePercent } = facts;
  const shared = { thicknessMm: facts.thicknessMm, openFaces: facts.skin ? (1 as const) : (2 as const), temperatureC: facts.temperatureC, onceFrozen: facts.onceFrozen };
  // Of a brine whose amounts nobody wrote down it is only known how strong it was.
  if (saltGrams === null || (method !== 'dry' && waterGrams === null)) return { ...shared, brinePercent: brinePercent! };
  const strengthPercent = method === 'dry' ? null : rounded(Math.min(SATURATED_WPS, brinePercent ?? (100 * saltGrams) / (saltGrams + waterGrams!)), 3);
  const around = surroundings({ strengthPercent, saltGrams, waterGrams: waterGrams ?? 0, fishWaterGrams: (massInG * waterPercent) / 100 });
  return { ...shared, brinePercent: around.surfacePercent, brinePerFishWater: around.brinePerFishWater };
}

function waterOf({ species }: CuredBatch, fat: FatClass): { percent: number; source: string } {
  const kinds = species.map(({ code, grams }) => ({ grams, ...fleshWater(code, fat) }));
  const total = kinds.reduce((sum, { grams }) => sum + grams, 0);
  if (total === 0) {
    const usual = fleshWater(undefined, fat);
    return { percent: usual.waterPercent, source: usual.waterSource };
  }
  return { percent: rounded(kinds.reduce((sum, { grams, waterPercent }) => sum + grams * waterPercent, 0) / total, 2), source: [...new Set(kinds.map(({ waterSource }) => waterSource))].join(', ') };
}

function classOf(fat: FatClass, points: readonly Point[]): LearntClass {
  const startM2PerSAt5C = START_AT_5C[fat];
  if (points.length === 0) {
    return {
      fat, startM2PerSAt5C, used: false, m2PerSAt5C: startM2PerSAt5C, bandFactor: START_BAND, figures: [], notes: [],
      working: { inputs: [{ name: 'start at 5 C', value: startM2PerSAt5C, unit: 'm2/s' }, { name: 'measurements', value: 0 }], model: 'salt-fit', formula: 'the published start: there is no laboratory figure yet', source: 'from memory, low confidence', uncertainty: bandInWords(START_BAND), certainty: 'from memory' },
    };
  }
  const measurements = points.map((point) => ({ ...point.measurement, sdPercent: spreadOf(point, points) }));
  const fit = refitDiffusivity({ fat, measurements });
  const used = fit.m2PerSAt5C >= MUSCLE_RANGE.low && fit.m2PerSAt5C <= MUSCLE_RANGE.high;
  const club = used ? { m2PerSAt5C: fit.m2PerSAt5C, bandFactor: fit.bandFactor } : { m2PerSAt5C: startM2PerSAt5C, bandFactor: START_BAND };
  const notes = used ? fit.notes : [...fit.notes, 'So the published start is used until that is put right.'];
  return { fat, startM2PerSAt5C, used, ...club, figures: points.map((point, index) => usedFigure(point, fat, club, fit.residuals[index]!)), notes, working: fit.working };
}

/** Figures of one batch share its thickness, times and weights, right or wrong: together they count as one. */
function spreadOf({ batch, figure }: Point, points: readonly Point[]): number {
  return usualSdPercent(figure.percent) * Math.sqrt(points.filter((other) => other.batch.batchId === batch.batchId).length);
}

function usedFigure({ batch, figure, measurement, curedPercent, working }: Point, fat: FatClass, club: ClubDiffusivity, residual: number): UsedFigure {
  const predicted = saltUptake({ ...measurement, fat, club });
  return {
    figureId: figure.id, batchId: batch.batchId, lot: batch.lot, part: figure.part as 'loin' | 'whole', sampledDay: figure.sampledDay, measuredPercent: figure.percent,
    keptPercent: measurement.keptPercent ?? null, curedWaterPercent: measurement.curedWaterPercent ?? null, curedPercent, minutes: measurement.minutes, thicknessMm: measurement.thicknessMm,
    startPercent: saltUptake({ ...measurement, fat }).meanPercent, predictedPercent: predicted.meanPercent, lowPercent: predicted.meanLowPercent, highPercent: predicted.meanHighPercent, residual, working,
  };
}
