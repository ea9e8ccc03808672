import type { z } from 'zod';
import type { Species, speciesBody, speciesPatch } from '../../contract/catch.ts';
import { findSpecies, SPECIES } from '../../domain/species/index.ts';
import { formerWord, formsHistamine, refusedWord } from '../../domain/species/own-names.ts';
import { need } from '../../platform/auth/access.ts';
import type { Context } from '../../platform/context.ts';
import type { Database, RawQuery } from '../../platform/database/open.ts';
import { badField, notFound } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
import { holdClub } from '../batches/batches.store.ts';
import { followNames } from '../batches/follow.ts';
import { hold } from '../batches/locks.ts';
import { JUDGING_MS, judgeLiveBatches } from '../batches/rules.service.ts';
import * as store from './species.store.ts';

const toSpecies = (row: store.SpeciesRow): Species => ({
  code: row.code,
  name: row.name,
  scientificName: row.scientificName,
  own: row.own,
  scombrotoxin: row.scombrotoxin,
  scombrotoxinSource: row.scombrotoxinSource,
  sharing: row.sharing,
  maxFishGrams: row.maxFishGrams,
  hasLengthWeight: findSpecies(row.code)?.lengthWeight !== undefined,
  version: row.version,
});

/** Brings the species of the tables into the database. Called at every start, by any number of processes at once. */
export async function syncSpecies(database: Database): Promise<void> {
  await database.rawTransaction(async (query) => {
    await store.upsertTable(query, SPECIES);
    await tightenOwnSpecies(query);
  });
}

/** Names of the club's own from before the words were known are read as they would be now. */
async function tightenOwnSpecies(query: RawQuery): Promise<void> {
  for (const row of (await store.listSpecies(query)).filter(({ own }) => own)) {
    const to = { formsHistamine: row.scombrotoxin === false && formsHistamine(row), refused: row.sharing !== 'refuse' && refusedWord(row.name, row.scientificName) !== null };
    if (to.formsHistamine || to.refused) await store.tightenOwn(query, row.code, to);
  }
}

export async function listSpecies(context: Context): Promise<{ items: Species[] }> {
  return { items: (await store.listSpecies(context.database.query)).map(toSpecies) };
}

/** Adds a species of the club's own. Its name may not be one that is there already, in whatever case. */
export async function addSpecies(unit: Unit, body: z.infer<typeof speciesBody>): Promise<Species> {
  need(unit.actor, 'crew');
  return unit.runRaw(async (query) => {
    const present = await store.listSpecies(query);
    refuseKnownName(body.name, present);
    refuseWords(body);
    if (body.scombrotoxin === false) need(unit.actor, 'captain');
    const code = freeCode(body.name, present);
    return toSpecies(await store.insertOwnSpecies(query, { ...body, code }, unit.now));
  });
}

/** Changes a species of the club's own; its code and its landings stay. What the tables say is not changed here. */
export async function changeSpecies(unit: Unit, code: string, patch: z.infer<typeof speciesPatch>): Promise<Species> {
  need(unit.actor, 'crew');
  return unit.runRaw(async (query) => {
    if (patch.scombrotoxin !== undefined || patch.name !== undefined) await holdClub(query);
    const was = await store.lockSpecies(query, code);
    if (!was) throw notFound('This species');
    if (!was.own) throw badField('code', code, `${was.name} comes from the tables and stays as they have it.`, 'Add a species of your own under another name.', 'conflict');
    if (patch.version !== was.version) throw refuseStale('species', patch, was);
    const wanted = {
      name: patch.name ?? was.name,
      scientificName: patch.scientificName ?? was.scientificName,
      scombrotoxin: patch.scombrotoxin === undefined ? was.scombrotoxin : patch.scombrotoxin,
      scombrotoxinSource: (patch.scombrotoxin ?? was.scombrotoxin) === false && patch.scombrotoxin !== null ? (patch.scombrotoxinSource ?? was.scombrotoxinSource) : '',
      maxFishGrams: patch.maxFishGrams ?? was.maxFishGrams,
    };
    // What a captain vouched for is that fish, under those names, by that source.
    if (wanted.scombrotoxin === false && (['name', 'scientificName', 'scombrotoxin', 'scombrotoxinSource'] as const).some((field) => wanted[field] !== was[field])) need(unit.actor, 'captain');
    if (wanted.name !== was.name) refuseKnownName(wanted.name, (await store.listSpecies(query)).filter((row) => row.code !== code));
    refuseWords(wanted);
    const changed = await store.updateOwnSpecies(query, code, wanted);
    if (wanted.name !== was.name) await renameBatchesOf(query, code);
    // Whether fish forms histamine decides which rules its batches are held against.
    if (wanted.scombrotoxin !== was.scombrotoxin) await judgeLiveBatches(query, unit.now);
    return toSpecies(changed);
  }, { timeoutMs: JUDGING_MS });
}

/** A batch that nobody named is called by its fish. */
async function renameBatchesOf(query: RawQuery, code: string): Promise<void> {
  const batchIds = await store.batchesOf(query, code);
  await hold(query, { batchIds });
  for (const id of batchIds) await followNames(query, id);
}

/** A fish that is never shared is not the club's own under another name, and "no histamine" needs a source and a name that does not say otherwise. */
function refuseWords(species: Pick<store.SpeciesRow, 'name' | 'scientificName' | 'scombrotoxin' | 'scombrotoxinSource'>): void {
  for (const field of ['name', 'scientificName'] as const) {
    const refused = refusedWord(species[field]);
    if (refused !== null) throw badField(field, species[field], `"${refused}" is a fish that is never for sharing: its poison stays whatever is done to it (HG ch. 3 and 6).`, 'Choose it from the list, and let nobody eat it. Another fish needs another name.');
  }
  if (species.scombrotoxin !== false) return;
  for (const field of ['name', 'scientificName'] as const) {
    const former = formerWord(species[field]);
    if (former !== null) throw badField('scombrotoxin', false, `"${former}" in its ${field === 'name' ? 'name' : 'scientific name'} is a fish that forms histamine (HG ch. 3 and 7).`, 'Choose yes, or the fish from the list. Another fish needs another name.');
  }
  if (species.scombrotoxinSource.trim().length < 3) throw badField('scombrotoxinSource', species.scombrotoxinSource, 'Fish counts as forming histamine until a source says that it does not.', 'Name who says so and where it stands, or choose not known.');
}

/** Names are compared as people read them: whatever their case and however their accents are encoded. */
const key = (name: string) => name.normalize('NFKC').toLowerCase().replace(/\s+/g, ' ').trim();

function refuseKnownName(name: string, present: readonly store.SpeciesRow[]): void {
  const wanted = key(name);
  const same = present.find((row) => key(row.name) === wanted);
  if (same) throw badField('name', name, `${same.name} is in the list already.`, 'Choose it from the list, or use another name.', 'name-taken');
  const alias = SPECIES.find((species) => species.alsoCalled.some((other) => key(other) === wanted));
  if (alias) throw badField('name', name, `${alias.name} is also called ${name}.`, `Choose ${alias.name} from the list, or use a fuller name.`, 'name-taken');
}

/**
 * 'own-' and the name in plain letters. Two people who add the same name at once get the same code, and the key of the
 * table lets one of them through.
 */
function freeCode(name: string, present: readonly store.SpeciesRow[]): string {
  const taken = new Set(present.map((row) => row.code));
  const code = `own-${slug(name)}`;
  for (let n = 1; ; n += 1) {
    const candidate = n === 1 ? code : `${code}-${n}`;
    if (!taken.has(candidate)) return candidate;
  }
}

function slug(name: string): string {
  const plain = key(name).normalize('NFD').replace(/\p{M}/gu, '').replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '').slice(0, 60);
  // A name without a Latin letter or a digit is written by its characters' numbers.
  return plain || [...key(name)].map((c) => c.codePointAt(0)!.toString(36)).join('-').slice(0, 60);
}
