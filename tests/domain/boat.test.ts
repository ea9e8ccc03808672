import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chillingHours } from '../../server/domain/boat/chilling.ts';
import { BANDS } from '../../server/domain/boat/exposure-table.ts';
import { cumulativeExposure } from '../../server/domain/boat/exposure.ts';
import { histamineLine } from '../../server/domain/boat/histamine.ts';
import type { HistamineInput } from '../../server/domain/boat/histamine.ts';
import { iceToLoad } from '../../server/domain/boat/ice.ts';
import { DomainError } from '../../server/domain/working.ts';

const start = Date.parse('2026-06-01T06:00:00Z');
const hour = (hours: number) => new Date(start + hours * 3_600_000);
function fieldOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof DomainError) return error.field;
    throw error;
  }
  return 'no error';
}

describe('ice', () => {
  it.each([[30, 3.4], [20, 2.3], [10, 1.2]])('10 kg of fish from %d C takes %d kg (FAO TP 331)', (fishC, kg) => {
    // Printed to a tenth: 0.05, and 0.006 for a specific heat that gives all three but for that.
    expect(Math.abs(iceToLoad({ catchG: 10_000, fishC, hours: 0, airC: 20 }).coolingG / 1000 - kg)).toBeLessThan(0.056);
  });

  it('10 kg from 30, 20 and 10 C takes 3.455, 2.303 and 1.152 kg (models.md: mass x cp x dT / 333.5 kJ/kg): of all specific heats 3.83525 alone comes out at all three as FAO TP 331 prints them, on the edge of two', () => {
    const printed = [[30, 3.4], [20, 2.3], [10, 1.2]] as const;
    expect(printed.map(([fishC]) => iceToLoad({ catchG: 10_000, fishC, hours: 0, airC: 20 }).coolingG)).toEqual([3455, 2303, 1152]);
    const needed = (fishC: number, kg: number) => (kg * 333.5) / (10 * fishC);
    expect(Math.max(...printed.map(([fishC, kg]) => needed(fishC, kg - 0.05)))).toBeCloseTo(3.83525, 9);
    expect(Math.min(...printed.map(([fishC, kg]) => needed(fishC, kg + 0.05)))).toBeCloseTo(3.83525, 9);
  });

  it('is never less than the fish (rules.md ice.amount: 1 kg for 1 kg)', () => {
    expect(iceToLoad({ catchG: 40_000, fishC: 18, hours: 5, airC: 20 })).toMatchObject({ loadG: 40_000, ruleOfThumbG: 40_000, meltG: null });
    expect(iceToLoad({ catchG: 40_000, fishC: 18, hours: 5, airC: 20 }).advice.join(' ')).toContain('75 mm');
  });

  it('adds what the box melts by its own measurement, in proportion to air and hours', () => {
    const load = iceToLoad({ catchG: 20_000, fishC: 25, hours: 48, airC: 30, boxMelt: { gPerDay: 10_000, airC: 20 } });
    expect(load.meltG).toBe(30_000);
    expect(load.loadG).toBe(load.coolingG + 30_000);
  });

  it('warmer fish and more of it never take less ice', () => {
    fc.assert(fc.property(fc.integer({ min: 0, max: 500_000 }), fc.integer({ min: 0, max: 100_000 }), fc.integer({ min: 0, max: 30 }), fc.integer({ min: 0, max: 8 }), (catchG, more, fishC, warmer) => {
      const load = (g: number, c: number) => iceToLoad({ catchG: g, fishC: c, hours: 6, airC: 20 }).loadG;
      expect(load(catchG + more, fishC)).toBeGreaterThanOrEqual(load(catchG, fishC));
      expect(load(catchG, fishC + warmer)).toBeGreaterThanOrEqual(load(catchG, fishC));
    }));
  });

  it.each([[{ catchG: -1 }, 'catchG'], [{ catchG: 1.5 }, 'catchG'], [{ fishC: 68 }, 'fishC'], [{ hours: -1 }, 'hours'], [{ airC: 85 }, 'airC'], [{ boxMelt: { gPerDay: 100, airC: 0 } }, 'boxMelt.airC']])('refuses %j', (change, field) => {
    expect(fieldOf(() => iceToLoad({ catchG: 1000, fishC: 10, hours: 1, airC: 10, ...change }))).toBe(field);
  });
});

describe('chilling in ice', () => {
  it.each([[75, 2], [100, 4], [125, 6.5], [87.5, 3], [80, 2.4], [110, 5], [120, 6]])('%d mm takes %d h (FAO TP 331; between its points by arithmetic)', (thicknessMm, hours) => {
    expect(chillingHours({ thicknessMm }).hours).toBeCloseTo(hours, 9);
  });

  it.each([0, 50, 74, 126, 500, Number.NaN])('says nothing of %d mm', (thicknessMm) => {
    expect(fieldOf(() => chillingHours({ thicknessMm }))).toBe('thicknessMm');
  });

  it('says what to do beyond the published thicknesses (75 to 125 mm, FAO TP 331)', () => {
    expect(() => chillingHours({ thicknessMm: 50 })).toThrow('Thickness of the layer 50 mm is not from 75 to 125 mm; a thinner layer is cold sooner: take the hours of 75 mm.');
    expect(() => chillingHours({ thicknessMm: 150 })).toThrow(/150 mm is not from 75 to 125 mm; a thicker layer takes longer than anybody has measured: put ice between, so that no layer is deeper than 125 mm\./);
  });
});

const good: HistamineInput = { speciesCode: 'king-mackerel', deathAt: hour(0), maxAirC: 25, maxWaterC: 22, icedAt: hour(1), medium: 'ice', landedAt: hour(5), landingCoreC: 8 };
const line = (change: Partial<HistamineInput> = {}) => histamineLine({ ...good, ...change });
const states = (change: Partial<HistamineInput> = {}) => [line(change).state, ...line(change).checks.map(({ state }) => state)];

describe('the histamine time line (HG ch. 7, from memory)', () => {
  it('air and water at or below 28.3 C give 9 hours (rules.md chill.mild)', () => {
    expect(states({ icedAt: hour(9), landedAt: hour(10) })).toEqual(['met', 'met', 'met']);
    expect(line({ icedAt: new Date(hour(9).getTime() + 1000), landedAt: hour(10) })).toMatchObject({ state: 'not-met', chosenCase: 'mild', noRescue: expect.stringContaining('cannot be made good') });
    expect(line({ maxAirC: 28.3, maxWaterC: 28.3 }).chosenCase).toBe('mild');
  });

  it.each([{ maxAirC: 28.4 }, { maxWaterC: 28.4 }, { maxAirC: null }, { maxWaterC: undefined }])('%j gives 6 hours: hot, or not known to be mild (rules.md chill.hot)', (heat) => {
    expect(line(heat).chosenCase).toBe('hot');
    expect(line({ ...heat, icedAt: hour(6) }).checks[0]!.state).toBe('met');
    expect(line({ ...heat, icedAt: hour(6.1), landedAt: hour(7) }).checks[0]!.state).toBe('not-met');
    expect(line(heat).reasons.join(' ')).toContain('chill.hot');
  });

  it('gutting gives 12 hours only with the club\'s own source, and never in heat (rules.md chill.gutted)', () => {
    const gutted = { guttedAt: hour(0.5), icedAt: hour(11), landedAt: hour(11.5) };
    expect(line(gutted)).toMatchObject({ chosenCase: 'mild', state: 'not-met' });
    expect(line({ ...gutted, guttedTwelveHourSource: '  ' }).chosenCase).toBe('mild');
    expect(line({ ...gutted, guttedTwelveHourSource: 'Our health officer, letter of 3 May 2026' })).toMatchObject({ chosenCase: 'gutted', state: 'met' });
    expect(line({ ...gutted, guttedTwelveHourSource: 'Our health officer', maxAirC: 30 }).chosenCase).toBe('hot');
    expect(line({ ...gutted, guttedAt: hour(11.2), guttedTwelveHourSource: 'Our health officer' }).chosenCase).toBe('mild');
  });

  it('an unknown time of death counts from the earliest it can have been (rules.md chill.unknown)', () => {
    expect(line({ deathAt: null, earliestDeathAt: hour(-8) })).toMatchObject({ countedFromAt: hour(-8).toISOString(), chosenCase: 'mild', reasons: [expect.stringContaining('chill.unknown'), expect.anything()] });
    expect(states({ deathAt: null, earliestDeathAt: hour(-8) })[1]).toBe('met');
    expect(states({ deathAt: null, earliestDeathAt: hour(-8.1) })[1]).toBe('not-met');
    expect(states({ deathAt: null })).toEqual(['not-recorded', 'not-recorded', 'not-recorded']);
  });

  it.each([[24, 4.4, 4.5], [23.9, 10, 10.1], [15, 10, 10.1], [14.9, 15.6, 15.7], [12, 15.6, 15.7], [11.9, 19, 19.1]])('landed %d h after death at %d C is met and at %d C is not (rules.md chill.internal; under 12 h common practice)', (hours, cold, warm) => {
    expect(states({ landedAt: hour(hours), landingCoreC: cold })[2]).toBe('met');
    expect(states({ landedAt: hour(hours), landingCoreC: warm })[2]).toBe('not-met');
  });

  it.each<[Partial<HistamineInput>, number]>([
    [{ icedAt: null }, 1], [{ medium: null }, 1], [{ medium: 'slurry' }, 1], [{ landedAt: null }, 2], [{ landingCoreC: null }, 2], [{ maxAirC: null }, 2],
  ])('missing evidence is never a pass: %j', (change, i) => {
    expect(states(change)[i]).toBe('not-recorded');
    expect(states(change)[0]).not.toBe('met');
  });

  it('slurry above 4.4 C is no chilling', () => {
    expect(states({ medium: 'slurry', mediumC: 4.4 })[1]).toBe('met');
    expect(states({ medium: 'slurry', mediumC: 4.5 })[1]).toBe('not-met');
  });

  it('applies to fish that forms histamine and is advice for the rest (tables/hazards.csv)', () => {
    expect(line().applies).toBe(true);
    expect(line({ speciesCode: 'atlantic-cod' }).applies).toBe(false);
  });

  it('a club may tighten and never loosen', () => {
    expect(states({ clubMaxHours: 0.5 })[1]).toBe('not-met');
    expect(states({ clubMaxHours: 20, icedAt: hour(10), landedAt: hour(11) })[1]).toBe('not-met');
    const landed = (hours: number, landingCoreC: number, clubCoreC: HistamineInput['clubCoreC']) => states({ landedAt: hour(hours), landingCoreC, clubCoreC })[2];
    expect([landed(24, 4, { from24h: 3 }), landed(24, 4.5, { from24h: 9 }), landed(16, 8, { from12h: 5 }), landed(16, 8, { from24h: 1 }), landed(24, 4.5, { from24h: Number.NaN })]).toEqual(['not-met', 'not-met', 'not-met', 'met', 'not-met']);
  });

  it('taking evidence away never turns a line into a pass', () => {
    const keys = ['deathAt', 'maxAirC', 'maxWaterC', 'icedAt', 'medium', 'landedAt', 'landingCoreC', 'guttedAt'] as const;
    fc.assert(fc.property(fc.double({ min: 0, max: 30, noNaN: true }), fc.double({ min: 0, max: 30, noNaN: true }), fc.double({ min: 0, max: 30, noNaN: true }), fc.subarray([...keys]), (iced, landed, core, without) => {
      const full = { ...good, icedAt: hour(iced), landedAt: hour(landed), landingCoreC: core, guttedAt: hour(0) };
      const less = { ...full, ...Object.fromEntries(without.map((key) => [key, null])) };
      if (histamineLine(less).state === 'met') expect(histamineLine(full).state).toBe('met');
    }));
  });

  it.each<[Partial<HistamineInput>, string]>([
    [{ icedAt: hour(-1) }, 'icedAt'], [{ landedAt: hour(-1) }, 'landedAt'], [{ guttedAt: hour(-1) }, 'guttedAt'], [{ deathAt: 'dawn' }, 'deathAt'], [{ speciesCode: 'kraken' }, 'speciesCode'],
    [{ maxAirC: 83 }, 'maxAirC'], [{ landingCoreC: 46 }, 'landingCoreC'], [{ clubMaxHours: 0 }, 'clubMaxHours'], [{ earliestDeathAt: hour(1) }, 'deathAt'],
  ])('refuses %j', (change, field) => {
    expect(fieldOf(() => line(change))).toBe(field);
  });
});

const steady = (celsius: number, hours: number, fromHour = 0) => Array.from({ length: hours * 4 + 1 }, (_, i) => ({ at: hour(fromHour + i / 4), celsius }));
const exposed = (readings: { at: Date; celsius: number }[], previouslyFrozen = false) => cumulativeExposure({ readings, previouslyFrozen });

describe('cumulative exposure', () => {
  it('every row of the table (tables/cumulative-exposure.csv)', () => {
    const rows = readFileSync(new URL('tables/cumulative-exposure.csv', import.meta.url), 'utf8').trim().split('\n').slice(1).map((row) => row.split(','));
    expect(BANDS).toEqual(rows.map(([organism, from, to, most]) => ({ organism, fromC: Number(from), toC: to === '' ? null : Number(to), maxHours: Number(most) })));
  });

  it.each([[8, false, 10, 'met'], [8.25, false, 10, 'not-met'], [4, false, 22, 'met'], [4.25, false, 22, 'not-met'], [24, true, 10, 'met'], [24.25, true, 10, 'not-met'], [12, true, 22, 'met'], [12.25, true, 22, 'not-met']])(
    '%d h, frozen before: %s, at %d C is %s (rules.md chill.exposure, HG ch. 7, from memory)', (hours, frozen, celsius, state) => {
      expect(exposed(steady(celsius, hours), frozen).state).toBe(state);
    });

  it('adds up over the day, counts nothing at 4.4 C, and a moment above 21.1 C halves what is left', () => {
    const day = [...steady(10, 3), ...steady(2, 3, 3.25), ...steady(10, 3, 6.5)];
    const found = exposed(day);
    expect(found.hoursAbove4C4).toBeGreaterThan(6);
    expect(found.state).toBe('met');
    expect(exposed([...day, ...steady(22, 0.25, 9.75)])).toMatchObject({ state: 'not-met', limitHours: 4 });
    expect(exposed(steady(4.4, 100)).hoursAbove4C4).toBe(0);
  });

  it('a gap leaves it open and is never a pass by itself', () => {
    const holed = [...steady(2, 1), ...steady(2, 1, 8)];
    expect(exposed(holed)).toMatchObject({ state: 'not-recorded', gapHours: 7, gaps: [{ minutes: 420 }] });
    expect(exposed([...steady(2, 1), ...steady(2, 1, 3)]).state).toBe('met');
    expect(exposed([]).state).toBe('not-recorded');
  });

  it.each([['Listeria monocytogenes', 8, 24], ['Staphylococcus aureus', 15, 12], ['Clostridium perfringens', 25, 2], ['C. botulinum E and non-proteolytic B F', 25, 6]])('%s at %d C: %d hours is all of it (tables/cumulative-exposure.csv)', (organism, celsius, hours) => {
    const of = (h: number) => exposed(steady(celsius, h)).organisms.find((each) => each.organism === organism)!;
    expect(of(hours).shareUsed).toBeCloseTo(1, 9);
    expect(of(hours).state).toBe('met');
    expect(of(hours + 0.25).state).toBe('not-met');
  });

  it('temperatures between two printed bands count in the warmer', () => {
    const listeria = exposed(steady(5.5, 10)).organisms.find(({ organism }) => organism.startsWith('Listeria'))!;
    expect(listeria.bands.map(({ hours }) => hours)).toEqual([0, 10, 0, 0, 0]);
  });

  it('warmer is never less exposure', () => {
    const core = fc.array(fc.double({ min: -2, max: 34, noNaN: true }), { minLength: 2, maxLength: 30 });
    fc.assert(fc.property(core, fc.double({ min: 0, max: 4, noNaN: true }), (list, warmer) => {
      const of = (add: number) => exposed(list.map((celsius, i) => ({ at: hour(i / 4), celsius: celsius + add })));
      expect(of(warmer).hoursAbove4C4).toBeGreaterThanOrEqual(of(0).hoursAbove4C4 - 1e-9);
      for (const [i, { shareUsed }] of of(warmer).organisms.entries()) expect(shareUsed).toBeGreaterThanOrEqual(of(0).organisms[i]!.shareUsed - 1e-9);
    }));
  });

  it('Fahrenheit and failed probes are flagged and judge nothing', () => {
    expect(exposed(steady(145, 2))).toMatchObject({ state: 'not-recorded', found: 'The unit of the log is in doubt.' });
    expect(exposed([...steady(2, 1), { at: hour(1.1), celsius: -999 }]).flags.map(({ kind }) => kind)).toEqual(['probe-error']);
  });
});
