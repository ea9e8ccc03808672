import type { RawQuery } from '../../platform/database/open.ts';

export type SpeciesRow = {
  code: string;
  name: string;
  scientificName: string;
  own: boolean;
  scombrotoxin: boolean | null;
  scombrotoxinSource: string;
  sharing: 'ok' | 'refuse';
  maxFishGrams: number;
  version: number;
};

const columns = `code, name, scientific_name as "scientificName", own, scombrotoxin, scombrotoxin_source as "scombrotoxinSource", sharing, max_fish_grams as "maxFishGrams", version`;

export const listSpecies = (query: RawQuery) => query<SpeciesRow>('species-list', `select ${columns} from species order by lower(name), code`, []);

export async function findSpeciesRow(query: RawQuery, code: string): Promise<SpeciesRow | null> {
  const [row] = await query<SpeciesRow>('species-find', `select ${columns} from species where code = $1`, [code]);
  return row ?? null;
}

/** Takes the species' row, so that two edits come one after the other. */
export async function lockSpecies(query: RawQuery, code: string): Promise<SpeciesRow | null> {
  await query('species-lock', 'select 1 from species where code = $1 for no key update', [code]);
  return findSpeciesRow(query, code);
}

type OwnFields = Pick<SpeciesRow, 'name' | 'scientificName' | 'scombrotoxin' | 'scombrotoxinSource' | 'maxFishGrams'>;

const insertSql = `insert into species (code, name, scientific_name, own, scombrotoxin, scombrotoxin_source, max_fish_grams, created_at)
  values ($1, $2, $3, true, $4, $5, $6, $7) returning ${columns}`;

export async function insertOwnSpecies(query: RawQuery, row: OwnFields & { code: string }, now: Date): Promise<SpeciesRow> {
  const [made] = await query<SpeciesRow>('species-insert', insertSql, [row.code, row.name, row.scientificName, row.scombrotoxin, row.scombrotoxinSource, row.maxFishGrams, now]);
  return made!;
}

const updateSql = `update species set name = $2, scientific_name = $3, scombrotoxin = $4, scombrotoxin_source = $5, max_fish_grams = $6, version = version + 1
  where code = $1 and own returning ${columns}`;

export async function updateOwnSpecies(query: RawQuery, code: string, row: OwnFields): Promise<SpeciesRow> {
  const [changed] = await query<SpeciesRow>('species-update', updateSql, [code, row.name, row.scientificName, row.scombrotoxin, row.scombrotoxinSource, row.maxFishGrams]);
  return changed!;
}

/** Two processes that start at once take turns; the second then finds nothing left to do. */
const syncLockSql = `select pg_advisory_xact_lock(hashtext('tidelarder.species'))`;

/** A club's own species whose name the table has gained since: it keeps its landings and gets a name beside the new one. */
const stepAsideSql = `update species s set name = s.name || ' (' || s.code || ')', version = s.version + 1
  from jsonb_to_recordset($1::jsonb) as t(name text) where s.own and lower(s.name) = lower(t.name)`;

const upsertSql = `insert into species as s (code, name, scientific_name, own, scombrotoxin, sharing, max_fish_grams)
  select t.code, t.name, t.scientific_name, false, t.scombrotoxin, t.sharing, t.max_fish_grams
    from jsonb_to_recordset($1::jsonb) as t(code text, name text, scientific_name text, scombrotoxin boolean, sharing text, max_fish_grams integer)
  on conflict (code) do update set name = excluded.name, scientific_name = excluded.scientific_name, own = false,
    scombrotoxin = excluded.scombrotoxin, sharing = excluded.sharing, max_fish_grams = excluded.max_fish_grams, version = s.version + 1
  where (s.name, s.scientific_name, s.own, s.scombrotoxin, s.sharing, s.max_fish_grams) is distinct from
    (excluded.name, excluded.scientific_name, false, excluded.scombrotoxin, excluded.sharing, excluded.max_fish_grams)`;

/** Brings the table's species in step; a species that the table no longer has stays, since landings may name it. */
export async function upsertTable(query: RawQuery, rows: readonly Omit<SpeciesRow, 'own' | 'version' | 'scombrotoxinSource'>[]): Promise<void> {
  const json = JSON.stringify(
    rows.map((row) => ({
      code: row.code, name: row.name, scientific_name: row.scientificName, scombrotoxin: row.scombrotoxin, sharing: row.sharing, max_fish_grams: row.maxFishGrams,
    })),
  );
  await query('species-sync-lock', syncLockSql, []);
  await query('species-step-aside', stepAsideSql, [json]);
  await query('species-sync', upsertSql, [json]);
}

/** Reads an own species as strictly as its names ask for; what is as strict stays. */
export async function tightenOwn(query: RawQuery, code: string, to: { formsHistamine: boolean; refused: boolean }): Promise<void> {
  const sql = `update species set scombrotoxin = case when $2::boolean then null else scombrotoxin end, scombrotoxin_source = case when $2::boolean then '' else scombrotoxin_source end,
    sharing = case when $3::boolean then 'refuse' else sharing end, version = version + 1 where code = $1 and own`;
  await query('species-tighten', sql, [code, to.formsHistamine, to.refused]);
}

/** The batches that landings of a species went into directly. */
export async function batchesOf(query: RawQuery, code: string): Promise<string[]> {
  const sql = `select distinct d.batch_id as id from draw d join landing l on l.id = d.landing_id where l.species_code = $1 and d.cancelled_at is null order by 1`;
  return (await query<{ id: string }>('species-batches', sql, [code])).map(({ id }) => id);
}
