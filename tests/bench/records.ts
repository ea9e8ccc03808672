// Years of a club's records, put in by SQL. The triggers are off meanwhile: the counters that they would keep are given.
import type { PoolClient } from 'pg';

export type Amount = {
  batches: number;
  members: number;
  packsEach: number;
  /** From one batch to the next. */
  hoursApart: number;
  /** How many of the newest batches still have packs to claim. */
  open: number;
};

/** Ten years: 5,000 batches are one in 17.5 hours. */
const HOURS_APART = 17.5;
const OPEN = 8;
export const tenYears: Amount = { batches: 5000, members: 200, packsEach: 12, hoursApart: HOURS_APART, open: OPEN };
/** The same pace for as long as 50 batches last, so that what is under way now is alike. */
export const fiftyBatches: Amount = { batches: 50, members: 20, packsEach: 12, hoursApart: HOURS_APART, open: OPEN };
/** Everything made this week and claimable, for the page of a batch with 50 packs and for claims. */
export const fullLarder: Amount = { batches: 160, members: 60, packsEach: 50, hoursApart: 0.5, open: 160 };

/** Row i of a table, k within it; the newest batch has the highest i, and ids grow with time as the service's own do. */
export const idOf = (i: number, k = 0) => `${i.toString(16).padStart(8, '0')}-0000-7000-8000-${k.toString(16).padStart(12, '0')}`;
export const captain = idOf(1);
export const member = idOf(7);

const id = (i: string, k = '0') => `(lpad(to_hex((${i})::int), 8, '0') || '-0000-7000-8000-' || lpad(to_hex((${k})::int), 12, '0'))::uuid`;
const someone = (n: string, members: number) => id(`1 + (${n}) % ${members}`);
const captain$ = id('1');
const LANDED_G = 8000;
const SMOKED_G = 13_000;

export async function fillRecords(sql: PoolClient, amount: Amount): Promise<void> {
  await sql.query(`set session_replication_role = 'replica'`);
  try {
    for (const statement of [...people(amount), ...catches(amount), ...batches(amount), ...packs(amount)]) await sql.query(statement);
  } finally {
    await sql.query(`set session_replication_role = 'origin'`);
  }
}

/** Each batch i with the time it was made. */
const each = ({ batches, hoursApart }: Amount) =>
  `(select i, date_trunc('hour', now()) - interval '8 hours' - (${batches} - i) * ${hoursApart} * interval '1 hour' as at from generate_series(1, ${batches}) i) b`;
const eachPack = (amount: Amount) => `${each(amount)} cross join generate_series(1, ${amount.packsEach}) k`;

function people({ members }: Amount): string[] {
  return [
    `insert into club (name, time_zone) values ('Years Of Smoke', 'Europe/London')`,
    `insert into member (id, name, user_name, role, password_hash, joined_at) select ${id('j')}, 'Member ' || j, 'm' || j,
      case when j = 1 then 'captain' when j < 6 then 'crew' else 'member' end, '-', now() - interval '10 years' from generate_series(1, ${members}) j`,
    `insert into boat (id, name) select ${id('j')}, 'Boat ' || j from generate_series(1, 10) j`,
    `insert into station (id, name, kind, capacity_unit, capacity) values (${id('1')}, 'Rack', 'drying-rack', 'racks', 20), (${id('2')}, 'Kiln', 'smoker', 'racks', 20)`,
  ];
}

function catches(amount: Amount): string[] {
  const { batches, members } = amount;
  return [
    `insert into trip (id, boat_id, day, area, closed_at, created_by_id, created_at) select ${id('i')}, ${id('1 + i % 10')}, (at - interval '1 day')::date, 'The Narrows',
      case when i < ${batches} - 1 then at end, ${captain$}, at - interval '1 day' from ${each(amount)}`,
    `insert into trip_person (id, trip_id, member_id) select ${id('i', 'k')}, ${id('i')}, ${someone('i + k', members)} from ${each(amount)} cross join generate_series(1, 3) k`,
    `insert into landing (id, trip_id, catcher_kind, catcher_member_id, species_code, fish_count, grams, drawn_grams, pooling, created_by_id, created_at)
      select ${id('i', 'k')}, ${id('i')}, 'member', ${someone('i + k', members)}, 'atlantic-mackerel', 20, ${LANDED_G} + case when i > ${batches} - 2 then 2000 else 0 end, ${LANDED_G}, 'pooled',
        ${captain$}, at - interval '20 hours' + k * interval '1 minute' from ${each(amount)} cross join generate_series(1, 2) k`,
  ];
}


function batches(amount: Amount): string[] {
  const { batches: count, open, packsEach } = amount;
  const packed = Math.floor(SMOKED_G / packsEach) * packsEach;
  return [
    `insert into batch (id, lot, product_kind, name, smoke_day, verdict, on_hand_grams, packed_grams, pack_count, closed_at, created_by_id, created_at)
      select ${id('i')}, 'Y' || lpad(i::text, 6, '0'), 'hot-smoked', 'Hot-smoked mackerel', at::date, 'clear', ${SMOKED_G - packed}, ${packed}, ${packsEach},
        case when i <= ${count - open} then at + interval '8 hours' end, ${captain$}, at from ${each(amount)}`,
    `insert into draw (id, batch_id, grams, landing_id, of_grams, event_no, created_by_id, created_at)
      select ${id('i', 'k')}, ${id('i')}, ${LANDED_G}, ${id('i', 'k')}, ${LANDED_G}, k, ${captain$}, at from ${each(amount)} cross join generate_series(1, 2) k`,
    `insert into stage (id, batch_id, seq, event_no, kind, started_at, finished_at, mass_in_g, mass_out_g, loss_g, max_core_c, hold_minutes, cooled_at, created_by_id, created_at)
      select ${id('i', 's.seq')}, ${id('i')}, s.seq, s.seq + 2, s.kind, at + s.seq * interval '1 hour', case when not running then at + (s.seq + 1) * interval '1 hour' end, s.mass_in,
        case when not running then s.mass_out end, case when running then 0 else s.mass_in - s.mass_out end, s.core, s.hold, case when s.kind = 'smoke' then at + interval '6 hours' end,
        ${captain$}, at + s.seq * interval '1 hour'
      from ${each(amount)} cross join (values (1, 'cure', 16000, 15500, null::float, null::float), (2, 'dry', 15500, 15000, null, null), (3, 'smoke', 15000, ${SMOKED_G}, 66, 40),
        (4, 'cool', ${SMOKED_G}, ${SMOKED_G}, null, null)) s(seq, kind, mass_in, mass_out, core, hold)
      cross join lateral (select s.seq = 4 and i > ${count} - 2 as running) r`,
    `insert into slot (id, station_id, batch_id, stage_kind, starts_at, ends_at, amount, created_by_id, created_at)
      select ${id('i', 's.no')}, ${id('s.no')}, ${id('i')}, s.kind, at + (s.no + 1) * interval '1 hour', at + (s.no + 2) * interval '1 hour', 1, ${captain$}, at
      from ${each(amount)} cross join (values (1, 'dry'), (2, 'smoke')) s(no, kind)`,
  ];
}

/** Of the newest batches every fourth pack is claimed and the rest are free; of the others one is thrown away and the rest have gone to members. */
function packs(amount: Amount): string[] {
  const { batches: count, open, packsEach, members } = amount;
  const out = `i <= ${count - open}`;
  const taker = someone('i + k', members);
  const gone = `(${out} and k > 1)`;
  return [
    `insert into pack (id, batch_id, pack_no, grams, package_kind, storage, packed_at, last_day, status, public_code, print_count, holder_id, created_by_id, created_at)
      select ${id('i', 'k')}, ${id('i')}, k, ${Math.floor(SMOKED_G / packsEach)}, 'tub', 'refrigerated', at + interval '7 hours', at::date + 6,
        case when ${gone} then 'handed-over' when ${out} then 'discarded' when k % 4 = 0 then 'claimed' else 'ready' end, 'code-' || i || '-' || k, 1,
        case when ${gone} then ${taker} end, ${captain$}, at + interval '7 hours' from ${eachPack(amount)}`,
    `insert into claim (id, pack_id, member_id, status, decided_by_id, decided_at, created_at)
      select ${id('i', 'k')}, ${id('i', 'k')}, ${taker}, case when ${gone} then 'handed-over' when k % 8 = 0 then 'asked' else 'confirmed' end,
        case when ${gone} or k % 8 <> 0 then ${captain$} end, case when ${gone} or k % 8 <> 0 then at + interval '8 hours' end, at + interval '7 hours' + k * interval '1 second'
      from ${eachPack(amount)} where ${gone} or (not ${out} and k % 4 = 0)`,
    `insert into hand_over (id, pack_id, kind, to_member_id, handed_at, created_by_id, created_at)
      select ${id('i', 'k')}, ${id('i', 'k')}, 'hand-over', ${taker}, at + interval '9 hours', ${captain$}, at + interval '9 hours' + k * interval '1 second' from ${eachPack(amount)} where ${gone}`,
  ];
}
