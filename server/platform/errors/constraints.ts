import { badField, ProblemError } from './problem-error.ts';
import type { ProblemCode } from './codes.ts';

type Words = { code: ProblemCode; field: string; message: string; remedy: string };

/**
 * What each constraint of the database means to a person. The services check first and give better words where they
 * can; these are for the moment when two people are faster than the check. A test holds this list against the database.
 */
export const constraintWords: Record<string, Words> = {
  member_user_name_key: { code: 'name-taken', field: 'userName', message: 'That user name is taken.', remedy: 'Choose another.' },
  member_email_key: { code: 'name-taken', field: 'email', message: 'That e-mail address belongs to another member.', remedy: 'Use another, or leave it out.' },
  boat_name_key: { code: 'name-taken', field: 'name', message: 'There is a boat of that name.', remedy: 'Choose another name.' },
  species_name_key: { code: 'name-taken', field: 'name', message: 'There is a species of that name.', remedy: 'Choose it from the list, or use another name.' },
  species_name_any_case: { code: 'name-taken', field: 'name', message: 'There is a species of that name.', remedy: 'Choose it from the list, or use another name.' },
  species_pkey: { code: 'name-taken', field: 'name', message: 'There is a species of that name.', remedy: 'Choose it from the list, or use another name.' },
  station_name_key: { code: 'name-taken', field: 'name', message: 'There is a station of that name.', remedy: 'Choose another name.' },
  label_layout_name_key: { code: 'name-taken', field: 'name', message: 'There is a label sheet of that name.', remedy: 'Choose another name.' },
  formula_name_key: { code: 'name-taken', field: 'name', message: 'There is a formula of that name.', remedy: 'Choose another name.' },
  formula_name_any_case: { code: 'name-taken', field: 'name', message: 'There is a formula of that name.', remedy: 'Choose another name.' },
  formula_fish_positive: { code: 'invalid-value', field: 'fishGrams', message: 'The weight of fish is not from 1 g to 1,000 kg.', remedy: 'Enter the weight that the formula is for.' },
  formula_items_some: { code: 'invalid-value', field: 'items', message: 'A formula has 1 to 40 ingredients.', remedy: 'Add or take away ingredients.' },
  cure_stage_id_key: { code: 'conflict', field: 'version', message: 'Somebody else told how this was cured just now.', remedy: 'Look at it again.' },
  cure_where_cured: { code: 'conflict', field: 'cure', message: 'How fish was cured is told of a cure stage.', remedy: 'Choose the cure stage of the batch.' },
  trip_person_trip_id_member_id_key: { code: 'conflict', field: 'people', message: 'The same member is listed twice.', remedy: 'List each person once.' },
  trip_person_trip_id_guest_name_key: { code: 'conflict', field: 'people', message: 'The same guest is listed twice.', remedy: 'List each person once.' },
  club_only_one: { code: 'conflict', field: 'club', message: 'The club is set up already.', remedy: 'Sign in.' },
  club_pkey: { code: 'conflict', field: 'club', message: 'The club is set up already.', remedy: 'Sign in.' },
  member_last_captain: { code: 'last-captain', field: 'role', message: 'This is the last captain.', remedy: 'Make somebody else captain first.' },
  invitation_used_or_withdrawn: { code: 'conflict', field: 'id', message: 'This invitation was used or withdrawn just now.', remedy: 'Look at the invitations again.' },
  landing_drawn_within_weight: { code: 'not-enough-left', field: 'grams', message: 'More would be drawn than was landed.', remedy: 'Look again at what is left, and take less.' },
  landing_withdrawn_undrawn: { code: 'conflict', field: 'withdrawn', message: 'Fish of this landing is in a batch.', remedy: 'Take it out of the batch first.' },
  landing_iced_after_caught: { code: 'invalid-value', field: 'icedAt', message: 'Iced before it was caught.', remedy: 'Check both times.' },
  landing_landed_after_caught: { code: 'invalid-value', field: 'landedAt', message: 'Landed before it was caught.', remedy: 'Check both times.' },
  landing_gutted_after_caught: { code: 'invalid-value', field: 'guttedAt', message: 'Gutted before it was caught.', remedy: 'Check both times.' },
  landing_grams_positive: { code: 'invalid-value', field: 'grams', message: 'The weight is not above zero.', remedy: 'Enter the weight.' },
  landing_fish_count_positive: { code: 'invalid-value', field: 'fishCount', message: 'The count is not above zero.', remedy: 'Enter how many fish.' },
  landing_temperatures_possible: { code: 'invalid-value', field: 'coreC', message: 'A temperature is not possible.', remedy: 'Check the number and its unit.' },
  batch_on_hand_not_negative: { code: 'not-enough-left', field: 'grams', message: 'That is more than the batch holds.', remedy: 'Look again at what is on hand, and take less.' },
  batch_clear_nothing_not_met: { code: 'conflict', field: 'verdict', message: 'Something is not met, so it cannot be safe to share.', remedy: 'Look at the batch again.' },
  batch_closed_empty: { code: 'conflict', field: 'closed', message: 'A closed batch holds nothing.', remedy: 'Correct its packing stage first.' },
  draw_pack_used_once: { code: 'conflict', field: 'source', message: 'This pack is in a batch already.', remedy: 'Choose another pack.' },
  draw_within_source: { code: 'not-enough-left', field: 'grams', message: 'That is more than there is.', remedy: 'Take less.' },
  draw_not_from_itself: { code: 'conflict', field: 'source', message: 'A batch cannot draw from itself.', remedy: 'Choose another source.' },
  stage_one_running: { code: 'conflict', field: 'kind', message: 'A stage of this batch is running.', remedy: 'Finish it first.' },
  stage_batch_id_seq_key: { code: 'conflict', field: 'kind', message: 'Somebody else started a stage just now.', remedy: 'Look at the batch again.' },
  stage_mass_balances: { code: 'invalid-value', field: 'massOutG', message: 'The weights do not add up.', remedy: 'In and added must equal out, trim and loss.' },
  stage_masses_not_negative: { code: 'invalid-value', field: 'massOutG', message: 'More comes out than went in.', remedy: 'Check the weights in, added, out and trimmed.' },
  stage_added_where_usual: { code: 'invalid-value', field: 'addedG', message: 'Nothing is added at this kind of stage.', remedy: 'Enter it at the cure, rinse or mix stage.' },
  stage_finished_has_mass: { code: 'invalid-value', field: 'massOutG', message: 'A finished stage needs the weight that came out.', remedy: 'Enter both the weight and the time, or neither.' },
  stage_running_has_no_result: { code: 'invalid-value', field: 'massOutG', message: 'A running stage has no weights out yet.', remedy: 'Finish it, or leave added, trim and loss empty.' },
  stage_evidence_where_smoked: { code: 'invalid-value', field: 'maxCoreC', message: 'Core temperature and holding belong to the smoke stage, times of cooling to the cool stage, those of a dip to its mixing.', remedy: 'Enter them there.' },
  stage_finish_after_start: { code: 'invalid-value', field: 'finishedAt', message: 'It finishes before it starts.', remedy: 'Check both times.' },
  stage_due_after_start: { code: 'invalid-value', field: 'dueAt', message: 'It is due before it starts.', remedy: 'Check both times.' },
  stage_cooled_after_start: { code: 'invalid-value', field: 'cooledAt', message: 'It was cool before the stage started.', remedy: 'Check both times.' },
  stage_cooled_in_order: { code: 'invalid-value', field: 'cooledTo21At', message: 'It was back at 5 C before it was at 21 C.', remedy: 'Check both times.' },
  reading_final: { code: 'conflict', field: 'readings', message: 'A reading is never altered.', remedy: 'Withdraw it and enter it again.' },
  reading_celsius_possible: { code: 'invalid-value', field: 'readings', message: 'A temperature is not possible.', remedy: 'Check the number and its unit.' },
  withdrawn_with_reason: { code: 'invalid-value', field: 'reason', message: 'Evidence is withdrawn with a reason.', remedy: 'Say why it does not count.' },
  measurement_value_possible: { code: 'invalid-value', field: 'value', message: 'That value is not possible.', remedy: 'Check the number and its unit.' },
  measurement_reported_after_sampled: { code: 'invalid-value', field: 'reportedDay', message: 'Reported before it was sampled.', remedy: 'Check both days.' },
  club_limit_within_rule: { code: 'invalid-value', field: 'value', message: 'That limit is looser than the rule, or beyond what makes sense.', remedy: 'A club may tighten a limit and never loosen it.' },
  club_gutted_source_said: { code: 'invalid-value', field: 'guttedSource', message: 'The source for 12 hours is not named.', remedy: 'Write who allows it and where that stands, or leave it empty.' },
  release_once_a_rule: { code: 'conflict', field: 'ruleId', message: 'This rule was released just now.', remedy: 'Look at the batch again.' },
  release_never_of_these: { code: 'not-allowed', field: 'ruleId', message: 'Nobody releases this rule.', remedy: 'Hold the batch, or record what is missing.' },
  release_warm_without_air: { code: 'not-allowed', field: 'ruleId', message: 'It stood too warm, and a pack of it without air was not frozen at once.', remedy: 'Take out those that went into another batch, and discard them all. Nobody lets them go.' },
  pack_without_air_let_go_warm: { code: 'not-allowed', field: 'packageKind', message: 'This lot stood too warm and was let go: nothing of it is kept without air unfrozen.', remedy: 'Use a tub or bag, or freeze it.' },
  stage_thawed_where_prepared: { code: 'invalid-value', field: 'fromFrozen', message: 'Only the fish that is prepared comes out of a freezer.', remedy: 'Say so at the stage of preparing.' },
  stage_place_where_cured: { code: 'invalid-value', field: 'maxPlaceC', message: 'Only a cure tells how warm its place was.', remedy: 'Enter it at the cure stage.' },
  stage_added_day_where_mixed: { code: 'invalid-value', field: 'addedLastDay', message: 'Only mixing a dip adds other ingredients with a date.', remedy: 'Enter it at the mixing.' },
  stage_place_possible: { code: 'invalid-value', field: 'maxPlaceC', message: 'That temperature is not possible.', remedy: 'Check the number and its unit.' },
  stage_core_possible: { code: 'invalid-value', field: 'maxCoreC', message: 'That core temperature is not possible.', remedy: 'Check the number and its unit.' },
  stage_core_unit_of_a_core: { code: 'invalid-value', field: 'coreUnitConfirmed', message: 'There is no core temperature whose unit could be sure.', remedy: 'Enter the core temperature, or leave this out.' },
  stage_hold_possible: { code: 'invalid-value', field: 'holdMinutes', message: 'That many minutes is not possible.', remedy: 'Check the number.' },
  slot_within_capacity: { code: 'over-booked', field: 'amount', message: 'The station has no room for that then.', remedy: 'Take less, another time or another station.' },
  slot_batch_once: { code: 'over-booked', field: 'startsAt', message: 'This batch stands there already at that time.', remedy: 'Move the slot that is there.' },
  slot_end_after_start: { code: 'invalid-value', field: 'endsAt', message: 'The slot ends before it starts.', remedy: 'Check both times.' },
  slot_not_endless: { code: 'invalid-value', field: 'endsAt', message: 'A slot lasts at most 14 days.', remedy: 'Choose an earlier end.' },
  slot_amount_positive: { code: 'invalid-value', field: 'amount', message: 'The amount is not above zero.', remedy: 'Enter how much room it takes.' },
  station_capacity_holds_slots: { code: 'over-booked', field: 'capacity', message: 'More than that is booked.', remedy: 'Move slots first, or choose a larger capacity.' },
  smoker_smoke_once: { code: 'conflict', field: 'batchId', message: 'Somebody else let a smoker learn from this smoke just now.', remedy: 'Look at it again.' },
  smoker_smoke_in_a_smoker: { code: 'invalid-value', field: 'id', message: 'Only a smoker learns from smokes.', remedy: 'Choose a smoker.' },
  smoker_smoke_finished: { code: 'conflict', field: 'batchId', message: 'This smoke was undone or is not finished.', remedy: 'Finish the smoke stage first.' },
  smoker_smoke_thickness_range: { code: 'invalid-value', field: 'thicknessMm', message: 'The thickness is not from 3 to 150 mm.', remedy: 'Measure the thickest piece.' },
  smoker_fit_h_in_order: { code: 'invalid-value', field: 'add', message: 'These logs fit no smoker.', remedy: 'Check the thickness, and that the probe sat in the thickest place.' },
  station_hours_paired: { code: 'invalid-value', field: 'closesAt', message: 'Hours need both a start and an end.', remedy: 'Enter both or neither.' },
  pack_batch_id_pack_no_key: { code: 'conflict', field: 'weightsG', message: 'Somebody else packed from this batch just now.', remedy: 'Send it again.' },
  species_no_histamine_has_source: { code: 'invalid-value', field: 'scombrotoxinSource', message: 'Fish counts as forming histamine until a source says that it does not.', remedy: 'Name who says so and where it stands, or choose not known.' },
  pack_reduced_oxygen_frozen: { code: 'invalid-value', field: 'storage', message: 'Vacuum packs and jars are kept frozen.', remedy: 'Choose frozen, or a tub or bag that lets air in.' },
  pack_frozen_has_day: { code: 'invalid-value', field: 'frozenDay', message: 'A frozen pack needs the day it was frozen.', remedy: 'Enter the day.' },
  pack_thawed_after_frozen: { code: 'invalid-value', field: 'thawedDay', message: 'Thawed before it was frozen.', remedy: 'Check both days.' },
  pack_held_when_handed_over: { code: 'conflict', field: 'packIds', message: 'This pack changed hands just now.', remedy: 'Look at it again.' },
  batch_packed_not_negative: { code: 'conflict', field: 'grams', message: 'Packs of this batch changed just now.', remedy: 'Look at the batch again.' },
  claim_one_a_pack: { code: 'already-claimed', field: 'packId', message: 'Somebody else claimed this pack.', remedy: 'Choose another.' },
  claim_not_on_hold: { code: 'on-hold', field: 'packId', message: 'This pack is on hold.', remedy: 'Wait until its batch is cleared.' },
  claim_not_recalled: { code: 'recalled', field: 'packId', message: 'This lot is recalled.', remedy: 'Do not eat it or pass it on.' },
  hand_over_not_on_hold: { code: 'on-hold', field: 'packIds', message: 'This pack is on hold.', remedy: 'Record what is missing on its batch first.' },
  hand_over_not_recalled: { code: 'recalled', field: 'packIds', message: 'This lot is recalled.', remedy: 'Do not hand it over.' },
};

/** The refusal that a broken constraint means, or null when it is none that a person can cause. */
export function problemOfConstraint(broken: { kind: string; constraint: string; detail?: string | undefined }): ProblemError | null {
  const words = constraintWords[broken.constraint];
  if (words) return badField(words.field, undefined, words.message, words.remedy, words.code);
  if (broken.kind === 'unique') return new ProblemError('conflict', 'That is there already. Look at the list again.');
  if (broken.kind === 'foreign-key') return new ProblemError('conflict', 'Something that this refers to is not there any more. Look at it again.');
  if (broken.kind === 'check' || broken.kind === 'exclusion' || broken.kind === 'raised') {
    return new ProblemError('invalid-value', 'A value is outside what the records allow. Check the numbers and times.');
  }
  return null;
}
