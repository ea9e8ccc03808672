import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { loadLineage } from '../../server/features/batches/lineage.ts';
import { traceOf } from '../../server/features/batches/origins.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

type Step =
  | { do: 'draw'; batch: number; landing: number; part: number }
  | { do: 'split'; batch: number; part: number }
  | { do: 'merge'; a: number; b: number; part: number }
  | { do: 'stage'; batch: number; kind: 'prepare' | 'cure' | 'dry' | 'smoke'; out: number }
  | { do: 'undo'; nth: number }
  | { do: 'correct'; nth: number; part: number }
  | { do: 'pack'; batch: number; part: number };

const nat = fc.nat(7);
const part = fc.double({ min: 0.05, max: 1.2, noNaN: true });
const step: fc.Arbitrary<Step> = fc.oneof(
  fc.record({ do: fc.constant('draw' as const), batch: nat, landing: nat, part }),
  fc.record({ do: fc.constant('split' as const), batch: nat, part }),
  fc.record({ do: fc.constant('merge' as const), a: nat, b: nat, part }),
  fc.record({ do: fc.constant('stage' as const), batch: nat, kind: fc.constantFrom('prepare' as const, 'cure' as const, 'dry' as const, 'smoke' as const), out: fc.double({ min: 0.3, max: 1.05, noNaN: true }) }),
  fc.record({ do: fc.constant('undo' as const), nth: fc.nat(20) }),
  fc.record({ do: fc.constant('correct' as const), nth: fc.nat(20), part }),
  fc.record({ do: fc.constant('pack' as const), batch: nat, part }),
);

/** Does the step if the service lets it; a refusal must be a clear one. */
async function attempt(st: Step, batches: string[], landings: string[]): Promise<void> {
  const batch = (i: number) => batches[i % batches.length]!;
  const held = async (id: string) => (await s.page({ id })).onHandGrams as number;
  const grams = (of: number, p: number) => Math.max(1, Math.round(of * p));
  let answer: { status: number; body: any };
  if (st.do === 'draw') answer = await s.captain.post(`/api/batches/${batch(st.batch)}/draws`, { draws: [s.landing(landings[st.landing % landings.length]!, grams(2000, st.part))] });
  else if (st.do === 'split') answer = await s.captain.post('/api/batches', { draws: [s.fromBatch(batch(st.batch), grams(await held(batch(st.batch)), st.part))] });
  else if (st.do === 'merge') answer = await s.captain.post(`/api/batches/${batch(st.a)}/draws`, { draws: [s.fromBatch(batch(st.b), grams(await held(batch(st.b)), st.part))] });
  else if (st.do === 'stage') answer = await s.stage({ id: batch(st.batch) }, st.kind, '09:00', '09:00', { massOutG: grams(await held(batch(st.batch)), st.out) });
  else if (st.do === 'pack') answer = await s.crew.post(`/api/batches/${batch(st.batch)}/packs`, { weightsG: [grams(await held(batch(st.batch)), st.part)], packageKind: 'tub', storage: 'refrigerated', packedAt: s.at('17:00') });
  else {
    const draws = await s.club.database.query<any>('', `select d.id, d.batch_id, d.grams, d.version from draw d where d.cancelled_at is null and d.batch_id = any($1::uuid[]) order by d.event_no`, [batches]);
    if (draws.length === 0) return;
    const draw = draws[st.nth % draws.length];
    const told = (await s.page({ id: draw.batch_id })).draws.find((d: any) => d.id === draw.id).undoable;
    answer = await s.captain.patch(`/api/draws/${draw.id}`, st.do === 'undo' ? { version: draw.version, cancelled: true } : { version: draw.version, grams: grams(draw.grams, st.part) });
    // Nothing is offered that is refused, and nothing kept back that would be done.
    if (st.do === 'undo') expect(told).toBe(answer.status === 200);
  }
  expect(answer.status, JSON.stringify(answer.body)).toBeLessThan(500);
  if (st.do === 'split' && answer.status === 201) batches.push(answer.body.id);
}

/** Weight in equals weight out everywhere, and every page shows it. */
async function inspect(batches: string[], landings: string[]): Promise<void> {
  let drawn = 0;
  let onward = 0;
  const pages = new Map<string, any>();
  for (const id of batches) {
    const page = await s.page({ id });
    pages.set(id, page);
    const sum = (list: any[], of: (x: any) => number) => list.reduce((t, x) => t + of(x), 0);
    const into = sum(page.draws, (d) => d.grams);
    const out = sum(page.drawnBy, (d) => d.grams);
    const kept = sum(page.stages, (x) => x.addedG - x.trimG - x.lossG);
    expect(page.onHandGrams).toBe(into + kept - out - page.packedGrams);
    expect(page.onHandGrams).toBeGreaterThanOrEqual(0);
    for (const x of page.stages) if (x.massOutG !== null) expect(x.massInG + x.addedG).toBe(x.massOutG + x.trimG + x.lossG);
    drawn += sum(page.draws.filter((d: any) => d.source.kind === 'landing'), (d) => d.grams);
    const fromBatches = page.draws.filter((d: any) => d.source.kind === 'batch').length > 0;
    const origins = sum(page.origins, (o) => o.landedGrams);
    if (!fromBatches) expect(origins).toBe(into);
    onward += origins - sum(page.draws.filter((d: any) => d.source.kind === 'landing'), (d) => d.grams);
  }
  const rows = await s.club.database.query<any>('', `select id, grams, fish_count as fish, drawn_grams as drawn from landing where id = any($1::uuid[])`, [landings]);
  expect(rows.reduce((t, r) => t + r.drawn, 0)).toBe(drawn);
  expect(rows.every((r) => r.drawn <= r.grams)).toBe(true);
  expect(onward).toBeGreaterThanOrEqual(0);
  // What batches passed on never stands for more of a landing than what they got of it.
  for (const id of batches) {
    const lineage = await loadLineage(s.club.database.query, id);
    const trace = traceOf(lineage);
    const gone = new Map<string, { grams: number; fish: number }>();
    const parts = [...lineage.draws.filter((d) => d.sourceBatchId === id).map((d) => trace.ofDraw(d.id)), ...lineage.packs.filter((p) => p.batchId === id).map((p) => trace.ofPack(p.id))];
    for (const o of parts.flat()) {
      const was = gone.get(o.landingId) ?? { grams: 0, fish: 0 };
      gone.set(o.landingId, { grams: was.grams + o.landedGrams, fish: was.fish + o.fishMilli! });
    }
    const had = new Map(trace.ofBatch(id).map((o) => [o.landingId, o]));
    for (const [landingId, part] of gone) {
      expect(part.grams).toBeLessThanOrEqual(had.get(landingId)!.landedGrams);
      expect(part.fish).toBeLessThanOrEqual(had.get(landingId)!.fishMilli!);
    }
  }
}

// Random input: what it finds once is a fault, and is not tried again.
test('whatever is drawn, split, merged, staged, packed, corrected and undone, weight and fish are conserved', { retry: 0, timeout: 240_000 }, async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 6, maxLength: 14 }), async (steps) => {
      const landings = [await s.land({ grams: 4000, fish_count: 7 }), await s.land({ grams: 3000, fish_count: 3 })];
      const batches = [(await s.make([s.landing(landings[0]!, 1500)])).id, (await s.make([s.landing(landings[1]!, 1000)])).id];
      for (const st of steps) await attempt(st, batches, landings);
      await inspect(batches, landings);
    }),
    { numRuns: Number(process.env['CONSERVATION_RUNS'] ?? 8) },
  );
});
