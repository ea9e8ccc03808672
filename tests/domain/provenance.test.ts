import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { traceOrigins } from '../../server/domain/provenance.ts';
import type { BatchMass, Draw, Landing, Origin, Pack } from '../../server/domain/provenance.ts';
import { DomainError } from '../../server/domain/working.ts';

const landing = (id: string, grams: number, fishCount: number | null): Landing => ({ id, catcherKey: `member:${id}`, grams, fishCount });
const drawn = (id: string, batchId: string, landingId: string, grams: number, trayNo = 1): Draw => ({ id, batchId, grams, trayNo, source: { kind: 'landing', id: landingId } });
const batch = (id: string, productGrams: number, closed: boolean): BatchMass => ({ id, productGrams, closed });
const pack = (id: string, batchId: string, grams: number, trayNo: number | null = 1): Pack => ({ id, batchId, trayNo, grams });
const fish = (origins: Origin[]) => origins.reduce((total, origin) => total + (origin.fishMilli ?? 0), 0);
const landed = (origins: Origin[]) => origins.reduce((total, origin) => total + origin.landedGrams, 0);

describe('fish that travel with weight (arithmetic)', () => {
  it('a draw takes fish in proportion to its weight', () => {
    const trace = traceOrigins({ landings: [landing('a', 10_000, 25)], draws: [drawn('d', 'x', 'a', 4000)], batches: [batch('x', 4000, false)], packs: [] });
    expect(trace.ofDraw('d')).toEqual([{ landingId: 'a', landedGrams: 4000, fishMilli: 10_000 }]);
    expect(trace.ofBatch('x')).toEqual([{ landingId: 'a', landedGrams: 4000, fishMilli: 10_000 }]);
  });

  it('packs share by weight over packed and unpacked mass while packing, and stand for all the fish once closed', () => {
    const records = (closed: boolean) => ({ landings: [landing('a', 4000, 10)], draws: [drawn('d', 'x', 'a', 4000)], batches: [batch('x', 2000, closed)], packs: [pack('p', 'x', 500), pack('q', 'x', 300)] });
    const open = traceOrigins(records(false));
    expect([open.ofPack('p'), open.ofPack('q')].map(fish)).toEqual([2500, 1500]);
    const closed = traceOrigins(records(true));
    expect([closed.ofPack('p'), closed.ofPack('q')].map(fish)).toEqual([6250, 3750]);
    expect([closed.ofPack('p'), closed.ofPack('q')].map(landed)).toEqual([2500, 1500]);
  });

  it("keeps each tray's fish on its own packs", () => {
    const trace = traceOrigins({
      landings: [landing('a', 3000, 6), landing('b', 1000, 4)], draws: [drawn('d', 'x', 'a', 3000, 1), drawn('e', 'x', 'b', 1000, 2)],
      batches: [batch('x', 2000, true)], packs: [pack('p', 'x', 1500, 1), pack('q', 'x', 400, 2)],
    });
    expect(trace.ofPack('p')).toEqual([{ landingId: 'a', landedGrams: 3000, fishMilli: 6000 }]);
    expect(trace.ofPack('q')).toEqual([{ landingId: 'b', landedGrams: 1000, fishMilli: 4000 }]);
  });

  it('spreads a pack of no tray over all trays', () => {
    const trace = traceOrigins({
      landings: [landing('a', 3000, 6), landing('b', 1000, 4)], draws: [drawn('d', 'x', 'a', 3000, 1), drawn('e', 'x', 'b', 1000, 2)],
      batches: [batch('x', 2000, false)], packs: [pack('p', 'x', 1000, null)],
    });
    expect(trace.ofPack('p')).toEqual([{ landingId: 'a', landedGrams: 1500, fishMilli: 3000 }, { landingId: 'b', landedGrams: 500, fishMilli: 2000 }]);
  });

  it('follows packs and batches into a dip: the proportion of the mass then there', () => {
    const trace = traceOrigins({
      landings: [landing('a', 8000, 20)],
      draws: [
        drawn('d', 'x', 'a', 8000),
        { id: 'e', batchId: 'dip', grams: 1000, trayNo: 1, source: { kind: 'batch', id: 'x', trayNo: null } },
        { id: 'f', batchId: 'dip', grams: 250, trayNo: 1, source: { kind: 'pack', id: 'p' } },
      ],
      batches: [batch('x', 4000, true), batch('dip', 2500, true)],
      packs: [pack('p', 'x', 500), pack('q', 'x', 2500), pack('t', 'dip', 1250), pack('u', 'dip', 1250)],
    });
    expect(fish(trace.ofDraw('e'))).toBe(5000);
    expect(fish(trace.ofPack('p'))).toBe(2500);
    expect(fish(trace.ofDraw('f'))).toBe(1250);
    expect(fish(trace.ofBatch('dip'))).toBe(6250);
    expect([trace.ofPack('t'), trace.ofPack('u')].map(fish)).toEqual([3125, 3125]);
  });

  it('reckons a draw of an earlier stage from what the batch held then, packs weighed out before included', () => {
    const records = (at: { draw: number; pack: number }) => ({
      landings: [landing('a', 5000, 10)],
      draws: [drawn('d', 'x', 'a', 5000), { id: 'e', batchId: 'y', grams: 1000, trayNo: 1, source: { kind: 'batch', id: 'x', trayNo: null }, ofGrams: 4000, at: at.draw } as Draw],
      batches: [batch('x', 3000, true), batch('y', 1000, false)],
      packs: [{ ...pack('p', 'x', 1000), at: at.pack }],
    });
    expect(fish(traceOrigins(records({ draw: 1, pack: 2 })).ofDraw('e'))).toBe(2500);
    expect(fish(traceOrigins(records({ draw: 2, pack: 1 })).ofDraw('e'))).toBe(2000);
    expect(fish(traceOrigins(records({ draw: 1, pack: 2 })).ofPack('p'))).toBe(7500);
  });

  it('gives a draw nothing of the fish that came in after it', () => {
    const records = (draws: Draw[]) => ({ landings: [landing('a', 4000, 8), landing('b', 4000, 4)], draws, batches: [batch('x', 6000, false), batch('y', 2000, false)], packs: [] });
    const out: Draw = { id: 'out', batchId: 'y', grams: 2000, trayNo: 1, source: { kind: 'batch', id: 'x', trayNo: null }, ofGrams: 4000 };
    const between = traceOrigins(records([drawn('d', 'x', 'a', 4000), out, drawn('e', 'x', 'b', 4000)]));
    expect(between.ofDraw('out')).toEqual([{ landingId: 'a', landedGrams: 2000, fishMilli: 4000 }]);
    const after = traceOrigins(records([drawn('d', 'x', 'a', 4000), drawn('e', 'x', 'b', 4000), { ...out, ofGrams: 8000 }]));
    expect(after.ofDraw('out')).toEqual([{ landingId: 'a', landedGrams: 1000, fishMilli: 2000 }, { landingId: 'b', landedGrams: 1000, fishMilli: 1000 }]);
  });

  it('says null, not zero, for fish that were not counted', () => {
    const trace = traceOrigins({ landings: [landing('a', 3000, null)], draws: [drawn('d', 'x', 'a', 1000)], batches: [batch('x', 500, true)], packs: [pack('p', 'x', 500)] });
    expect(trace.ofPack('p')).toEqual([{ landingId: 'a', landedGrams: 1000, fishMilli: null }]);
  });

  it('keeps a landing in the trace even where its portion rounds to nothing', () => {
    const trace = traceOrigins({
      landings: [landing('a', 100_000, 1), landing('b', 1, 1)], draws: [drawn('d', 'x', 'a', 100_000), drawn('e', 'x', 'b', 1)],
      batches: [batch('x', 50_000, false)], packs: [pack('p', 'x', 5)],
    });
    expect(trace.ofPack('p').map((origin) => origin.landingId)).toEqual(['a', 'b']);
  });

  it('refuses a batch made from itself, by way of a batch or a pack, and unknown ids', () => {
    const from = (source: Draw['source'], batchId: string): Draw => ({ id: `${batchId}<${source.id}`, batchId, grams: 10, trayNo: 1, source });
    const rounds = traceOrigins({
      landings: [], batches: [batch('x', 100, false), batch('y', 100, false)], packs: [pack('p', 'y', 10)],
      draws: [from({ kind: 'batch', id: 'y', trayNo: null }, 'x'), from({ kind: 'batch', id: 'x', trayNo: null }, 'y')],
    });
    expect(() => rounds.ofBatch('x')).toThrow(/made from itself/);
    expect(() => rounds.ofPack('p')).toThrow(/made from itself/);
    const own = traceOrigins({ landings: [], batches: [batch('x', 100, false)], packs: [pack('p', 'x', 10)], draws: [from({ kind: 'pack', id: 'p' }, 'x')] });
    expect(() => own.ofBatch('x')).toThrow(DomainError);
    expect(() => own.ofPack('nothing')).toThrow(DomainError);
    expect(() => own.ofDraw('nothing')).toThrow(DomainError);
  });
});

/** A made-up season: landings split over batches and trays, a dip drawn from batches and packs, everything packed. */
const season = fc.record({
  landings: fc.array(fc.record({ grams: fc.integer({ min: 50, max: 500_000 }), fishCount: fc.integer({ min: 1, max: 900 }), cuts: fc.array(fc.integer({ min: 1, max: 100 }), { minLength: 1, maxLength: 4 }), all: fc.boolean() }), { minLength: 1, maxLength: 5 }),
  loss: fc.integer({ min: 40, max: 100 }),
  trays: fc.integer({ min: 1, max: 3 }),
  packCuts: fc.array(fc.integer({ min: 1, max: 50 }), { minLength: 1, maxLength: 9 }),
  dip: fc.record({ fromBatch: fc.integer({ min: 0, max: 60 }), fromPack: fc.integer({ min: 0, max: 100 }) }),
  closed: fc.boolean(),
  anyTray: fc.boolean(),
});

function build(made: typeof season extends fc.Arbitrary<infer T> ? T : never) {
  const landings = made.landings.map((one, i) => landing(`l${i}`, one.grams, one.fishCount));
  const draws: Draw[] = [];
  made.landings.forEach((one, i) => {
    const whole = one.cuts.reduce((a, b) => a + b, 0) + (one.all ? 0 : 30);
    one.cuts.forEach((cut, j) => draws.push(drawn(`d${i}.${j}`, 'x', `l${i}`, Math.max(1, Math.floor((one.grams * cut) / whole)), (j % made.trays) + 1)));
    const taken = draws.filter((draw) => draw.source.id === `l${i}`).reduce((total, draw) => total + draw.grams, 0);
    if (one.all && taken < one.grams) draws.push(drawn(`d${i}.rest`, 'x', `l${i}`, one.grams - taken));
  });
  const inGrams = draws.reduce((total, draw) => total + draw.grams, 0);
  const productGrams = Math.max(1, Math.floor((inGrams * made.loss) / 100));
  const toDip = Math.floor((productGrams * made.dip.fromBatch) / 100);
  if (toDip > 0) draws.push({ id: 'toDip', batchId: 'dip', grams: toDip, trayNo: 1, source: { kind: 'batch', id: 'x', trayNo: null } });
  const cuts = made.packCuts.reduce((a, b) => a + b, 0);
  const packs = made.packCuts.map((cut, i) => pack(`p${i}`, 'x', Math.max(1, Math.floor(((productGrams - toDip) * cut) / cuts)), made.anyTray ? null : 1));
  const again = Math.floor((packs[0]!.grams * made.dip.fromPack) / 100);
  if (again > 0) draws.push({ id: 'again', batchId: 'dip', grams: again, trayNo: 1, source: { kind: 'pack', id: 'p0' } });
  const dipMade = toDip + again > 0;
  const dipPacks = dipMade ? [pack('u0', 'dip', 100), pack('u1', 'dip', 33)] : [];
  const batches = [batch('x', productGrams, made.closed), batch('dip', Math.max(1, 2 * (toDip + again)), true)];
  return { landings, draws, batches, packs: [...packs, ...dipPacks] };
}

describe('conservation (properties)', () => {
  it('draws of a landing never hold more fish than were landed, and all of them when all is drawn', () => {
    fc.assert(fc.property(season, (made) => {
      const records = build(made);
      const trace = traceOrigins(records);
      records.landings.forEach((one, i) => {
        const own = records.draws.filter((draw) => draw.source.kind === 'landing' && draw.source.id === one.id);
        const total = own.reduce((sum, draw) => sum + fish(trace.ofDraw(draw.id)), 0);
        expect(total).toBeLessThanOrEqual(one.fishCount! * 1000);
        if (made.landings[i]!.all && own.reduce((sum, draw) => sum + draw.grams, 0) === one.grams) expect(total).toBe(one.fishCount! * 1000);
      });
    }));
  });

  it('what leaves a batch never holds more of any landing than came in, in fish and in grams', () => {
    fc.assert(fc.property(season, (made) => {
      const records = build(made);
      const trace = traceOrigins(records);
      const out = [...records.packs.filter((one) => one.batchId === 'x').map((one) => trace.ofPack(one.id)), ...records.draws.filter((draw) => draw.source.kind === 'batch').map((draw) => trace.ofDraw(draw.id))];
      for (const came of trace.ofBatch('x')) {
        const left = out.flat().filter((origin) => origin.landingId === came.landingId);
        expect(fish(left)).toBeLessThanOrEqual(came.fishMilli!);
        expect(landed(left)).toBeLessThanOrEqual(came.landedGrams);
        for (const origin of left) expect(Number.isInteger(origin.fishMilli) && Number.isInteger(origin.landedGrams) && origin.fishMilli! >= 0).toBe(true);
      }
    }));
  });

  it('packs and draws of a closed batch whose packs come from every tray stand for all its fish', () => {
    fc.assert(fc.property(season, (made) => {
      const records = build({ ...made, closed: true, trays: 1 });
      const trace = traceOrigins(records);
      const out = [...records.packs.filter((one) => one.batchId === 'x').map((one) => trace.ofPack(one.id)), ...records.draws.filter((draw) => draw.source.kind === 'batch').map((draw) => trace.ofDraw(draw.id))];
      expect(fish(out.flat())).toBe(fish(trace.ofBatch('x')));
      expect(landed(out.flat())).toBe(landed(trace.ofBatch('x')));
    }));
  });

  it('gives two packs of one weight and tray the same fish, to a thousandth', () => {
    fc.assert(fc.property(season, fc.integer({ min: 10, max: 900 }), (made, grams) => {
      const records = build(made);
      const trace = traceOrigins({ ...records, packs: [...records.packs, pack('same1', 'x', grams), pack('same2', 'x', grams)] });
      const [one, two] = [trace.ofPack('same1'), trace.ofPack('same2')];
      one.forEach((origin, i) => expect(Math.abs(origin.fishMilli! - two[i]!.fishMilli!)).toBeLessThanOrEqual(1));
    }));
  });
});
