import { expect, test } from 'vitest';
import { loadDemonstration } from '../../prisma/demo/load.ts';
import { testClub } from '../support/app.ts';

type Agreement = { lot: string; kind: string; station: string | null; runs: boolean; from: Date; to: Date; startedAt: Date | null; dueAt: Date | null };

test('the demonstration as loaded: what runs stands in its slot, whose hours are the stage\'s, and no slot of now is without its stage', async () => {
  const club = await testClub({ now: '2026-06-10T12:00:00Z', withClub: false });
  try {
    await loadDemonstration(club.context);
    const now = club.clock.now;
    const slots = await club.database.query<Agreement>('t-demo-slots', `select b.lot, sl.stage_kind as kind, st.name as station, sl.starts_at as "from", sl.ends_at as "to", g.id is not null and g.finished_at is null as runs,
        g.started_at as "startedAt", coalesce(g.finished_at, g.due_at) as "dueAt"
      from slot sl join batch b on b.id = sl.batch_id join station st on st.id = sl.station_id left join stage g on g.batch_id = sl.batch_id and g.kind = sl.stage_kind and g.cancelled_at is null
      where sl.cancelled_at is null`, []);
    const current = slots.filter((s) => s.from <= now && s.to > now);
    expect(current.length).toBeGreaterThanOrEqual(2);
    for (const slot of current) expect(slot).toMatchObject({ runs: true, from: slot.startedAt, to: slot.dueAt });
    // What lies ahead has not begun yet.
    for (const slot of slots.filter((s) => s.from > now)) expect(slot).toMatchObject({ runs: false, startedAt: null });
    const cooking = await club.database.query<{ lot: string }>('t-demo-running', `select b.lot from stage g join batch b on b.id = g.batch_id where g.kind in ('cure', 'dry', 'smoke') and g.finished_at is null and g.cancelled_at is null`, []);
    expect(cooking.map((c) => c.lot).sort()).toEqual(current.map((s) => s.lot).sort());
    // Its logs are made with an h of 13 and 31 %: that is what the smoker has learnt of itself.
    const [fit] = await club.database.query<{ name: string; h: number; error: number; humidity: number }>('t-demo-fit', `select st.name, f.h_w_per_m2_k as h, f.h_standard_error as error, f.humidity_pct as humidity from smoker_fit f join station st on st.id = f.station_id`, []);
    expect(fit).toMatchObject({ name: 'Alder smoker' });
    expect([Math.abs(fit!.h - 13) < 2 * fit!.error, Math.abs(fit!.humidity - 31) < 2]).toEqual([true, true]);
  } finally {
    await club.close();
  }
}, 120_000);
