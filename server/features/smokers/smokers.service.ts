import type { LearnBody, LearntFit, LearntSmoke, SmokeToLearnFrom, SmokerLearning } from '../../contract/smokers.ts';
import { MOST_LOGS } from '../../domain/heat/fit.ts';
import type { LogFit, SmokerFit } from '../../domain/heat/fit.ts';
import { findSpecies } from '../../domain/species/index.ts';
import { need } from '../../platform/auth/access.ts';
import type { Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { newId } from '../../platform/new-id.ts';
import type { Unit } from '../../platform/unit.ts';
import { evidenceOf, fitChosen, toFit } from './fitting.ts';
import type { ToFit } from './fitting.ts';
import * as fits from './fits.store.ts';
import * as store from './smokers.store.ts';

type Adding = NonNullable<LearnBody['add']>;

const knownFlesh = (code: string | null): code is string => code !== null && findSpecies(code)?.proximate !== undefined;

const toLearnt = (row: fits.FitRow, chosen: readonly store.ChosenRow[]): LearntFit => {
  const { logs: _logs, ...answer } = row.answer;
  return {
    ...answer, draught: row.draught, residualC: row.residualC, pointsUsed: row.pointCount, smokes: row.smokeCount, madeBy: { id: row.madeById, name: row.madeByName }, madeAt: row.madeAt.toISOString(),
    stale: row.evidence !== evidenceOf(row.draught, chosen),
  };
};
const toSmoke = (c: store.ChosenRow, fit: LogFit | null): LearntSmoke => ({
  id: c.id, batch: { id: c.batchId, lot: c.lot, name: c.batchName }, stageId: c.stageId, startedAt: c.startedAt.toISOString(), finishedAt: (c.finishedAt ?? c.startedAt).toISOString(), speciesCode: c.speciesCode,
  thicknessMm: c.thicknessMm, facesOpen: c.facesOpen, saltPct: c.saltPct, addedBy: { id: c.addedById, name: c.addedByName }, addedAt: c.addedAt.toISOString(), fit,
});
const toOther = (s: store.SmokeRow, stationId: string): SmokeToLearnFrom => ({
  batch: { id: s.batchId, lot: s.lot, name: s.batchName }, stageId: s.stageId, startedAt: s.startedAt.toISOString(), finishedAt: s.finishedAt!.toISOString(), speciesCode: knownFlesh(s.speciesCode) ? s.speciesCode : null,
  thicknessMm: s.thicknessMm, saltPct: s.saltPct, smokedAt: s.smokers.find((st) => st.id === stationId) ?? s.smokers[0] ?? null,
});

/** What each smoker has learnt, by station; `stationId` for one alone. */
export async function learntFits(query: RawQuery, stationId: string | null): Promise<Map<string, LearntFit>> {
  const rows = await fits.fitsOf(query, stationId);
  if (rows.length === 0) return new Map();
  const chosen = Map.groupBy(await store.chosenSmokes(query, stationId), (c) => c.stationId);
  return new Map(rows.map((row) => [row.stationId, toLearnt(row, chosen.get(row.stationId) ?? [])]));
}

export async function readLearning(context: Context, stationId: string): Promise<SmokerLearning> {
  const { query } = context.database;
  return learningOf(query, aSmoker(await store.findStation(query, stationId)));
}

async function learningOf(query: RawQuery, station: store.StationRow): Promise<SmokerLearning> {
  const chosen = await store.chosenSmokes(query, station.id);
  const [row] = await fits.fitsOf(query, station.id);
  const others = await store.otherSmokes(query);
  return {
    station: { id: station.id, name: station.name }, fit: row ? toLearnt(row, chosen) : null,
    smokes: chosen.map((c) => toSmoke(c, row?.answer.logs[c.id] ?? null)), others: others.map((s) => toOther(s, station.id)),
  };
}

function aSmoker(station: store.StationRow | null): store.StationRow {
  if (!station) throw notFound('This station');
  if (station.kind !== 'smoker') throw badField('id', station.name, `${station.name} is no smoker.`, 'Choose a smoker.');
  return station;
}

/** Readings that change during every one of so many fits leave somebody else's hand on them. */
const MOST_TRIES = 5;

/**
 * Changes which smokes a smoker learns from and fits them all anew, from the start value of its draught: what was learnt
 * before is never put in again. With nothing to add or remove it fits what is there, for when its readings changed.
 *
 * The fit takes seconds, so it is made between two transactions: the first tries the change out and takes it back, the second makes it and
 * keeps the fit, if what it comes from still stands; else it is fitted again.
 */
export async function learn(context: Context, unit: Unit, stationId: string, body: LearnBody): Promise<SmokerLearning> {
  const actor = need(unit.actor, 'crew');
  const newSmokeId = newId(unit.now, context.random);
  let made: Made | null = null;
  for (let tries = 0; tries <= MOST_TRIES; tries += 1) {
    try {
      return await unit.runRaw((query) => change(context, query, unit, { stationId, body, newSmokeId, by: actor.id, made }));
    } catch (error) {
      if (!(error instanceof ToBeFitted)) throw error;
      if (tries < MOST_TRIES) made = { evidence: error.what.evidence, fit: await fitChosen(error.what) };
    }
  }
  throw new ProblemError('conflict', 'What this smoker learns from changed again and again while it was being reckoned. Try once more.');
}

type Made = { evidence: string; fit: SmokerFit };
/** Takes the transaction back: what it found is to be fitted first. */
class ToBeFitted extends Error {
  what: ToFit;
  constructor(what: ToFit) {
    super('To be fitted first');
    this.what = what;
  }
}

type Change = { stationId: string; body: LearnBody; newSmokeId: string; by: string; made: Made | null };
async function change(context: Context, query: RawQuery, unit: Unit, { stationId, body, newSmokeId, by, made }: Change): Promise<SmokerLearning> {
  // The batch is held first, as everywhere.
  if (body.add && (await store.lockBatch(query, body.add.batchId)).length === 0) throw notFound('This batch');
  const station = aSmoker(await store.lockStation(query, stationId));
  await store.removeSmokes(query, station.id, body.remove, unit.now);
  const addedId = body.add ? await addSmoke(query, unit, station, body.add, newSmokeId) : null;
  const chosen = await store.chosenSmokes(query, station.id);
  if (chosen.length > MOST_LOGS) throw badField('add', chosen.length, `${station.name} learns from ${MOST_LOGS} smokes already.`, 'Take the oldest out first.', 'conflict');
  if (chosen.length === 0) await fits.dropFit(query, station.id);
  else if (made === null || made.evidence !== evidenceOf(body.draught, chosen)) throw new ToBeFitted(toFit(body.draught, chosen, await store.readingsOf(query, chosen.map((c) => c.id)), addedId));
  else await keepFit(context, query, { station, draught: body.draught, chosen, made, by, at: unit.now });
  return learningOf(query, station);
}

type Keeping = { station: store.StationRow; draught: LearntFit['draught']; chosen: store.ChosenRow[]; made: Made; by: string; at: Date };

async function keepFit(context: Context, query: RawQuery, { station, draught, chosen, made: { evidence, fit }, by, at }: Keeping): Promise<void> {
  const { hWPerM2K, relativeHumidityPct, heat, found, working } = fit;
  const logs = Object.fromEntries(chosen.map((c, i) => [c.id, fit.logs[i]!]));
  await fits.saveFit(query, {
    id: newId(at, context.random), stationId: station.id, draught, smokeCount: chosen.length, pointCount: fit.pointsUsed, residualC: fit.residualC,
    answer: { hWPerM2K, relativeHumidityPct, heat, found, working, logs }, evidence, madeById: by, madeAt: at,
  });
}

async function addSmoke(query: RawQuery, unit: Unit, station: store.StationRow, add: Adding, id: string): Promise<string> {
  const smoke = await store.lastSmoke(query, add.batchId);
  const refuse = (field: keyof Adding, value: unknown, message: string, remedy: string, code: 'invalid-value' | 'conflict' = 'conflict') => badField(`add.${field}`, value, message, remedy, code);
  if (!smoke) throw refuse('batchId', add.batchId, 'This batch was not smoked.', 'Choose a smoked one.');
  const lot = `Lot ${smoke.lot}`;
  if (smoke.finishedAt === null) throw refuse('batchId', smoke.lot, `${lot} is still in the smoke.`, 'Finish the smoke stage first.');
  if (smoke.learntAt !== null) throw refuse('batchId', smoke.lot, `${smoke.learntAt} learns from lot ${smoke.lot} already.`, smoke.learntAt === station.name ? 'Choose another smoke.' : 'Take it out there first.');
  if (!add.smokedHere && !smoke.smokers.some((s) => s.id === station.id)) {
    const [other] = smoke.smokers;
    throw refuse('smokedHere', smoke.lot, other ? `The calendar has lot ${smoke.lot} in ${other.name}.` : `No slot says where lot ${smoke.lot} was smoked.`, `Say that it was smoked in ${station.name}.`);
  }
  const speciesCode = add.speciesCode ?? smoke.speciesCode;
  if (!knownFlesh(speciesCode)) throw refuse('speciesCode', speciesCode, 'The tables do not say what the flesh of this fish is made of.', 'Choose one of like fat.', 'invalid-value');
  await store.insertSmoke(query, { id, stationId: station.id, batchId: smoke.batchId, stageId: smoke.stageId, speciesCode, thicknessMm: add.thicknessMm, facesOpen: add.facesOpen, saltPct: add.saltPct, by: unit.actor!.id, at: unit.now });
  return id;
}
