import { afterAll, beforeAll, expect, test } from 'vitest';
import { problemCodes } from '../../server/platform/errors/codes.ts';
import { constraintWords, problemOfConstraint } from '../../server/platform/errors/constraints.ts';
import { freshDatabase } from '../support/database.ts';
import type { FreshDatabase } from '../support/database.ts';

let fresh: FreshDatabase;
let rules: string[];

const constraintSql = `select c.conname as name from pg_constraint c join pg_class t on t.oid = c.conrelid
  where t.relnamespace = 'public'::regnamespace and c.contype in ('c', 'u', 'x', 'p') and t.relname <> '_prisma_migrations'
  union select i.relname from pg_index x join pg_class i on i.oid = x.indexrelid join pg_class t on t.oid = x.indrelid
  where x.indisunique and i.relnamespace = 'public'::regnamespace and t.relname <> '_prisma_migrations'`;
const sourceSql = `select proname as name, prosrc as source from pg_proc where pronamespace = 'public'::regnamespace and prosrc ilike '%raise exception%'`;

async function rulesOf({ database }: FreshDatabase): Promise<string[]> {
  const declared = await database.query<{ name: string }>('', constraintSql);
  const functions = await database.query<{ name: string; source: string }>('', sourceSql);
  const raised = functions.flatMap(({ name, source }) => {
    const names = [...source.matchAll(/constraint\s*=\s*'(\w+)'/gi)].map((match) => match[1]!);
    const raises = source.match(/raise\s+exception/gi)!.length;
    if (names.length !== raises) throw new Error(`Function ${name} raises ${raises} times and names ${names.length} rules`);
    return names;
  });
  return [...new Set([...declared.map(({ name }) => name), ...raised])].sort();
}

beforeAll(async () => {
  fresh = await freshDatabase();
  rules = await rulesOf(fresh);
});
afterAll(() => fresh.drop());


/** Rules that no person can break, and why. Whatever breaks one is a fault of the service and is answered in general words. */
const beyondPeople: [why: string, names: string[]][] = [
  ['a key that the service makes at random', [
    'batch_pkey', 'boat_pkey', 'claim_pkey', 'cure_pkey', 'cure_stock_pkey', 'draw_pkey', 'formula_pkey', 'hand_over_pkey', 'invitation_pkey', 'label_layout_pkey', 'label_run_pkey', 'landing_pkey', 'measurement_pkey', 'member_pkey',
    'pack_pkey', 'password_reset_pkey', 'reading_list_pkey', 'refresh_token_pkey', 'release_pkey', 'slot_pkey', 'smoker_fit_pkey', 'smoker_smoke_pkey', 'stage_pkey', 'station_pkey', 'trip_person_pkey', 'trip_pkey',
    'batch_lot_key', 'pack_public_code_key', 'invitation_token_hash_key', 'password_reset_token_hash_key', 'refresh_token_token_hash_key',
  ]],
  ['a key that the database counts up', ['pack_out_pkey', 'record_entry_pkey']],
  ['written with "on conflict", so that a second row is no error', ['attempt_count_pkey', 'club_limit_pkey', 'cure_stock_ingredient_key', 'cure_stock_name_any_case', 'idempotent_answer_pkey', 'rules_applied_pkey', 'smoker_fit_station_id_key']],
  ['the service writes its first row alone', ['rules_applied_only_one']],
  ['the packs of a print are a set', ['label_run_pack_pkey']],
  ['the contract takes no other word', [
    'batch_product_kind_known', 'club_units_known', 'cure_fat_known', 'cure_method_known', 'formula_method_known', 'invitation_role_known', 'landing_form_known', 'landing_length_kind_known', 'landing_pooling_known', 'measurement_kind_known', 'measurement_part_known', 'member_role_known',
    'reading_list_place_known', 'reading_list_source_known', 'smoker_fit_draught_known', 'smoker_smoke_faces_known',
    'pack_kind_known', 'pack_storage_known', 'slot_stage_kind_known', 'stage_kind_known', 'station_capacity_unit_known', 'station_kind_known', 'station_hours_written_well',
  ]],
  ['the service writes one of a few words of its own', [
    'batch_verdict_known', 'claim_status_known', 'hand_over_kind_known', 'landing_weight_source_known', 'pack_date_kind_known', 'pack_status_known', 'reading_flag_known', 'species_sharing_known',
  ]],
  ['the contract refuses the number', [
    'cure_others_listed', 'cure_stock_grams_range', 'draw_tray_positive', 'measurement_laboratory_named', 'reading_humidity_possible', 'reading_list_count_range', 'reading_list_nos_there', 'release_has_reason', 'smoker_smoke_salt_range', 'label_run_copies_range', 'label_run_start_positive', 'pack_grams_positive', 'species_max_fish_positive', 'station_capacity_positive', 'trip_person_share_range',
  ]],
  ['the contract takes exactly one kind', ['draw_one_source', 'hand_over_to_one', 'landing_catcher_one_kind', 'trip_person_one_kind']],
  ['the contract makes it lower case', ['member_email_lower', 'member_user_name_lower']],
  ['a draw of nothing is refused in the words of its source before it is written', ['draw_grams_positive']],
  ['the domain refuses the facts of a cure in the words of its field before they are written', ['cure_amounts_for_method', 'cure_brine_range', 'cure_grams_range', 'cure_sugar_named', 'cure_temperature_range', 'cure_thickness_range']],
  ['the service finds the name or refuses its lack', ['cure_stock_named']],
  ['the service counts brown sugar as one', ['cure_stock_brown_sugar_once']],
  ['the service counts packs and readings from 1', ['pack_no_positive', 'reading_no_positive', 'reading_pkey']],
  ['the service writes both halves in one statement', ['batch_recall_has_reason', 'claim_decided_by_someone', 'hand_over_gift_has_giver', 'invitation_used_by_someone', 'invitation_expires_later']],
  ['the service reckons both from the readings', ['reading_list_span', 'reading_list_extremes']],
  ['no route changes it', ['batch_lot_fixed', 'draw_ends_fixed', 'pack_out_final', 'record_entry_final', 'smoker_smoke_final']],
  ['the domain answers with nothing else', ['smoker_fit_counts_range', 'smoker_fit_errors_positive', 'smoker_fit_humidity_possible']],
  ['an index in the shape of a rule, over a column that never repeats', ['landing_left']],
];
const excused = beyondPeople.flatMap(([, names]) => names);

test('every rule of the database has words, or stands on the list of those that no person can break', () => {
  expect(rules.length).toBeGreaterThan(100);
  expect(rules.filter((rule) => !(rule in constraintWords) && !excused.includes(rule))).toEqual([]);
});

test('no words and no excuse are left over for a rule that is gone', () => {
  expect([...Object.keys(constraintWords), ...excused].filter((rule) => !rules.includes(rule))).toEqual([]);
});

test('no rule has both words and an excuse, or two excuses', () => {
  expect(excused.filter((rule) => rule in constraintWords)).toEqual([]);
  expect(new Set(excused).size).toBe(excused.length);
});

test.each(Object.keys(constraintWords))('%s is told in words, with a field and what to do', (constraint) => {
  const problem = problemOfConstraint({ kind: 'check', constraint })!;
  const { field, message, remedy, code } = constraintWords[constraint]!;
  expect(problem.body('r')).toMatchObject({ code, status: problemCodes[code].status, detail: `${message} ${remedy}`, errors: [{ field, message, remedy }] });
  expect(problem.status).toBeGreaterThanOrEqual(400);
  expect(problem.status).toBeLessThan(500);
  expect(field).toMatch(/^[a-z][A-Za-z0-9]+$/);
  for (const sentence of [message, remedy]) expect(sentence).toMatch(/^[A-Z].*\.$/);
  // Nothing of the database's own language.
  expect(`${message} ${remedy}`).not.toMatch(/_|constraint|null\b|violat/i);
});

test.each(['unique', 'foreign-key', 'check', 'exclusion', 'raised'] as const)('a broken %s rule without words is still refused, not a fault', (kind) => {
  const problem = problemOfConstraint({ kind, constraint: 'nowhere_named' })!;
  expect(problem.status).toBeGreaterThanOrEqual(400);
  expect(problem.status).toBeLessThan(500);
  expect(problem.message).not.toContain('nowhere_named');
});
