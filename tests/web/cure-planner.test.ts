import { describe, expect, test } from 'vitest';
import type { Origin } from '../../server/contract/batches.ts';
import { saltCourse } from '../../web/src/lib/cure/course.ts';
import { fishByHand, fishOfBatch } from '../../web/src/lib/cure/fish.ts';
import type { Formula } from '../../server/contract/formulas.ts';
import { bodyOf, formulaOf, linesOf, newLine, scaled, startFrom } from '../../web/src/lib/cure/formula.ts';
import { factsOf } from '../../web/src/lib/cure/facts.ts';
import { draftFormula, handOver, takeDraft, takeOver } from '../../web/src/lib/cure/handed-over.ts';
import { planOf } from '../../web/src/lib/cure/plan.ts';
import { shop } from '../../web/src/lib/cure/stock.ts';
import { exampleParts, startValues, type PlannerValues } from '../../web/src/lib/cure/values.ts';
import { units } from '../../web/src/lib/units.svelte.ts';
import { coldFor, exampleWords, firstMinutes, groupName, noteOf, otherWeight, prepareFirst, showMinutes, staysLong, summary, warningWord } from '../../web/src/lib/cure/words.ts';

const origin = (speciesCode: string, landedGrams: number, form: Origin['form'] = 'fillet'): Origin => ({
  landingId: 'l', species: speciesCode, speciesCode, form, catcher: 'Guest', tripId: 't', day: '2026-06-03', boat: 'Grey Plover', area: 'North ledge', landedGrams, estimated: false, fish: null,
});
type Batch = Parameters<typeof fishOfBatch>[0];
const draw = (kind: 'landing' | 'batch') => ({ source: { kind } }) as Batch['draws'][number];
const batch = (change: Partial<Batch> = {}): Batch => ({ origins: [origin('atlantic-mackerel', 5000)], stages: [], draws: [draw('landing')], onHandGrams: 5000, ...change });
const prepared = [{ kind: 'prepare', finishedAt: '2026-06-03T10:00:00.000Z' }] as Batch['stages'];

describe('the fish of a batch', () => {
  test('fillets weigh what is on hand, whatever was drawn', () => {
    expect(fishOfBatch(batch({ onHandGrams: 4200 })).weightOf('fillet-skin')).toEqual({ grams: 4200, words: '' });
  });

  test('whole fish that is not cut yet is estimated by its conversion factors, and says so (MFR conversion factors through expectedYield)', () => {
    const whole = fishOfBatch(batch({ origins: [origin('atlantic-cod', 5000, 'whole')] }));
    const { grams, words } = whole.weightOf('fillet-skin');
    expect(grams).toBeGreaterThan(1200);
    expect(grams).toBeLessThan(2800);
    expect(words).toContain('estimate');
    expect(whole.weightOf('fillet').grams).toBeLessThanOrEqual(grams!);
  });

  test('without a published factor it asks for the weight instead of making one up', () => {
    expect(fishOfBatch(batch({ origins: [origin('own-garfish', 5000, 'whole')] })).weightOf('fillet-skin')).toMatchObject({ grams: null });
  });

  test('prepared fish, and fish from another lot, is what lies there', () => {
    const whole = [origin('own-garfish', 5000, 'whole')];
    expect(fishOfBatch(batch({ origins: whole, stages: prepared, onHandGrams: 2100 })).weightOf('fillet-skin').grams).toBe(2100);
    expect(fishOfBatch(batch({ origins: whole, draws: [draw('batch')], onHandGrams: 2100 })).weightOf('fillet-skin').grams).toBe(2100);
  });

  test('gutted fish stays gutted until somebody cuts it', () => {
    expect(fishOfBatch(batch({ origins: [origin('atlantic-mackerel', 5000, 'headed-gutted')] }))).toMatchObject({ cut: 'gutted', guttedForm: 'headed-gutted' });
    expect(fishOfBatch(batch()).cuts).not.toContain('gutted');
  });

  test('kinds share the weight as they were drawn, the same kind once', () => {
    expect(fishOfBatch(batch({ origins: [origin('atlantic-mackerel', 3000), origin('atlantic-cod', 1000), origin('atlantic-mackerel', 1000)] })).kinds).toMatchObject([{ species: 'atlantic-mackerel', share: 4000 }, { species: 'atlantic-cod', share: 1000 }]);
  });
});

const fish = fishOfBatch(batch());
const values = (change: Partial<PlannerValues> = {}): PlannerValues => ({ ...startValues(fish, 'table-salt'), ...change });
const plan = (change: Partial<PlannerValues> = {}) => planOf(values(change), fish).plan!;

describe('the plan', () => {
  test('is there at once, with the usual start: 20 g of salt to 100 g of fish (common practice)', () => {
    expect(plan()).toMatchObject({ fishGrams: 5000, amounts: { saltGrams: 1000, sugarGrams: 750 }, measured: false });
    expect(firstMinutes(plan())).toBeGreaterThan(60);
  });

  test('brine starts at 15 %, 57 degrees (rule brine.strong, WSU extension)', () => {
    const brine = plan({ method: 'brine' });
    expect(brine.amounts.strength!.percentByWeight).toBeCloseTo(15, 1);
    expect(Math.round(brine.amounts.strength!.degreesSaturated)).toBe(57);
    expect(brine.amounts.waterGrams).toBe(5000);
  });

  test('weight does not wait for the kind of salt', () => {
    expect(plan({ saltKind: '' }).amounts.saltGrams).toBe(plan({ saltKind: 'kosher-salt-flake' }).amounts.saltGrams);
  });

  test.each([
    [{ method: 'brine', brinePercent: 30 }, 'brinePercent', /26\.395/], [{ thicknessMm: 0 }, 'thicknessMm', /Thickness 0 mm is not from 1 to 150 mm/], [{ thicknessMm: 500 }, 'thicknessMm', /150/], [{ targetPercent: 40 }, 'targetPercent', /15/],
    [{ placeC: 60 }, 'placeC', /25/], [{ grams: 0 }, 'grams', /0 g/], [{ grams: null }, 'grams', /Enter the weight/], [{ thicknessMm: null }, 'thicknessMm', /Enter the thickness/], [{ targetPercent: null }, 'targetPercent', /Enter/],
    [{ method: 'brine', brinePercent: null }, 'brinePercent', /Enter/], [{ placeC: null }, 'placeC', /Enter/], [{ method: 'equilibrium-brine', targetPercent: 14, waterGrams: 1000 }, 'waterGrams', /cannot hold/],
    [{ method: 'brine', brineC: 90 }, 'brineC', /60/], [{ saltPercentOfFish: 0 }, 'saltPercentOfFish', /0\.5/], [{ sugarPer100Salt: -1 }, 'sugarPer100Salt', /0 to 1000/],
    [{ groups: [{ key: 0, kind: 'tail', grams: 500, thicknessMm: 0 }] }, 'groups.0.thicknessMm', /0 mm/], [{ groups: [{ key: 0, kind: 'tail', grams: 9000, thicknessMm: 9 }] }, 'groups', /more than all/],
    [{ groups: [{ key: 0, kind: 'tail', grams: 500, thicknessMm: null }] }, 'groups.0.thicknessMm', /Enter/],
  ] as [Partial<PlannerValues>, string, RegExp][])('refuses %j beside its field, with the remedy', (change, field, words) => {
    const refused = planOf(values(change), fish);
    expect(refused.plan).toBeNull();
    expect(refused.wrong).toMatch(words);
    expect(refused.errors[field]).toBe(refused.wrong);
  });

  test('what lies in no group is the rest, and every group has its clock', () => {
    const groups = plan({ groups: [{ key: 0, kind: 'tail', grams: 1000, thicknessMm: 8 }, { key: 1, kind: 'thin', grams: null, thicknessMm: 10 }] }).groups;
    expect(groups.map(({ grams }) => grams)).toEqual([4000, 1000]);
    expect(groups[1]!.takeOutMinutes!).toBeLessThan(groups[0]!.takeOutMinutes!);
    expect(plan({ groups: [{ key: 0, kind: 'tail', grams: 5000, thicknessMm: 8 }] }).groups).toHaveLength(1);
  });

  test('fish that no table has is asked for its fat', () => {
    const own = fishOfBatch(batch({ origins: [origin('own-garfish', 5000)] }));
    expect(planOf(values(), own).errors['fat']).toMatch(/how fat/);
    expect(planOf(values({ fat: 'medium' }), own).plan!.fishGrams).toBe(5000);
    expect(planOf(values({ fat: 'lean' }), fishByHand(null)).plan).not.toBeNull();
  });

  test('two kinds lose no gram, are named, and may not share a brine (rule brine.no-mix)', () => {
    const two = fishOfBatch(batch({ origins: [origin('atlantic-mackerel', 2), origin('atlantic-cod', 1)] }));
    const mixed = planOf(values({ method: 'brine' }), two).plan!;
    expect(mixed.fishGrams).toBe(5000);
    expect(mixed.warnings.map((w) => w.ruleId)).toContain('brine.no-mix');
    expect(groupName(mixed.groups[0]!, two.kinds)).toContain('atlantic-mackerel');
  });

  test('stays long when it never ends, or beyond 4 hours (rule brine.cold)', () => {
    expect(staysLong(plan({ thicknessMm: 2 }))).toBe(false);
    expect(staysLong(plan({ thicknessMm: 60 }))).toBe(true);
  });

  test('a dry cure at 12 °C that may run past 4 hours is said to be too warm, not "not so" (rule brine.cold)', () => {
    const warm = plan({ thicknessMm: 14, placeC: 12 });
    expect([warm.longestMinutes! < 240, staysLong(warm)]).toEqual([true, true]);
    expect(warm.warnings.map(warningWord)).toEqual(['too warm']);
    expect(plan({ method: 'brine', placeC: 3 }).warnings.map(warningWord)).toEqual(['check', 'check']);
  });

  test('goes by the club’s own hours and temperatures (rules brine.cold, brine.start)', () => {
    const by = (limits: Parameters<typeof planOf>[2], change: Partial<PlannerValues> = {}) => planOf(values({ thicknessMm: 14, placeC: 3, ...change }), fish, limits).plan!;
    expect(by({}).warnings).toEqual([]);
    expect(by({ limits: { coldC: 2 } }).warnings.map(warningWord)).toEqual(['too warm']);
    const soon = by({ limits: { coldAfterMinutes: 30 } });
    expect([staysLong(soon), coldFor(soon), coldFor(by({ limits: { coldAfterMinutes: 0 } })), coldFor(plan({ thicknessMm: 60 }))]).toEqual([true, 'It stays more than 30 minutes:', 'However long it stays:', 'It stays more than 4 hours:']);
    expect(by({ limits: { startC: 8 } }, { method: 'brine', brineC: 9, brine: 'fresh' }).warnings.map((w) => w.text)).toEqual(['The brine is at 8 C or colder when the fish goes in; it is 9 C: cool it with ice first.']);
  });

  test('the note keeps amounts, clocks, and that it was not measured', () => {
    const words = noteOf(plan({ method: 'brine' }), values({ method: 'brine' }), fish.kinds);
    expect(words).toContain('brine for 5 kg of fish: 882 g table salt');
    expect(words).toContain('57 degrees salometer before the sugar goes in');
    expect(noteOf(plan({ method: 'brine', sugarKind: '' }), values({ method: 'brine', sugarKind: '' }), fish.kinds)).toContain('57 degrees salometer. ');
    expect(words).toContain('not measured');
    expect(summary(plan({ method: 'brine' }))).toMatch(/^882 g salt · 15\.0 % brine · .+/);
    // The range of the clocks, never the likely time alone.
    const dry = plan({ thicknessMm: 14, placeC: 12 });
    const { earliestMinutes, latestMinutes } = dry.groups[0]!.last.time;
    expect(summary(dry)).toBe(`1 kg salt · ${showMinutes(earliestMinutes!)} to ${showMinutes(latestMinutes!)}`);
    expect(summary(plan({ saltPercentOfFish: 1 }))).toBe('50 g salt · no end time');
  });

  test('salt only rises in the plot, and the thin piece is ahead of the thick one', () => {
    const asked = planOf(values({ groups: [{ key: 0, kind: 'thin', grams: 1000, thicknessMm: 8 }] }), fish);
    const { series, ends } = saltCourse(asked.plan!, asked.input!);
    expect(series.map((s) => s.name)).toEqual(['Thickest, 20 mm', 'Thinnest, 8 mm']);
    expect(ends[1]!.minutes!).toBeLessThan(ends[0]!.minutes!);
    for (const { points } of series) points.slice(1).forEach((p, i) => expect(p.y!).toBeGreaterThanOrEqual(points[i]!.y!));
    const [thick, thin] = series.map((s) => s.points[6]!);
    expect(thin!.y!).toBeGreaterThan(thick!.y!);
    expect(thick!.low!).toBeLessThan(thick!.high!);
  });

  test('one thickness is one line', () => {
    const asked = planOf(values(), fish);
    expect(saltCourse(asked.plan!, asked.input!).series).toHaveLength(1);
  });
});

describe('the cupboard', () => {
  const needs = [{ name: 'Table salt', grams: 1000 }, { name: 'Honey', grams: 500 }];

  test('an empty field is not nothing in stock', () => {
    expect(shop(needs, {})).toMatchObject({ asked: [] });
  });

  test('names what is short, and the packages', () => {
    const answer = shop(needs, { 'Table salt': { haveGrams: 300, packageGrams: 500 }, Honey: { haveGrams: null, packageGrams: null } });
    expect(answer).toMatchObject({ asked: ['Table salt'], shopping: { short: ['Table salt'], words: 'Short of Table salt (700 g).', lines: [{ buy: [{ packageGrams: 500, packages: 2 }], leftOverGrams: 300 }] } });
  });

  test('says what cannot be', () => {
    expect(shop(needs, { Honey: { haveGrams: 2e6, packageGrams: null } })).toHaveProperty('error');
  });
});

describe('fish that is not as the plan has it', () => {
  const said = (now: ReturnType<typeof fishOfBatch>) => {
    const asked = { ...startValues(now, 'table-salt'), fat: 'fatty' as const };
    return prepareFirst(planOf(asked, now).plan!, asked, now);
  };

  test('whole or gutted fish is to be prepared first, with the weight that the plan is for', () => {
    const whole = fishOfBatch(batch({ origins: [origin('atlantic-mackerel', 10_500, 'whole')], onHandGrams: 10_500 }));
    expect(said(whole)).toMatch(new RegExp(`^Prepare it first: the plan is for about ${(whole.weightOf('fillet-skin').grams! / 1000).toFixed(3).replace(/0+$/, '')} kg of fillet\\.$`));
    expect(fishOfBatch(batch({ origins: [origin('atlantic-mackerel', 5000, 'gutted')] })).uncut('fillet')).toBe(true);
    expect(fishOfBatch(batch({ origins: [origin('atlantic-mackerel', 5000), origin('atlantic-mackerel', 500, 'whole')] })).uncut('fillet-skin')).toBe(true);
  });

  test('nothing is said of what goes in as it lies there: fillets, gutted fish as such, prepared fish, fish of another lot', () => {
    const whole = [origin('atlantic-mackerel', 5000, 'whole')];
    for (const now of [fish, fishOfBatch(batch({ origins: [origin('atlantic-mackerel', 5000, 'gutted')] })), fishOfBatch(batch({ origins: whole, stages: prepared })), fishOfBatch(batch({ origins: whole, draws: [draw('batch')] }))]) expect(said(now)).toBe('');
  });

  test('a weight that differs by more than a tenth is asked about, either way', () => {
    expect([otherWeight(5000, 5500), otherWeight(5000, 4500)]).toEqual(['', '']);
    expect(otherWeight(5385, 10_500)).toMatch(/^The plan is for 5\.385 kg of fish, and 10\.5 kg goes in\./);
    expect(otherWeight(5000, 4499)).not.toBe('');
  });
});

describe('what nobody entered', () => {
  test.each<[Partial<PlannerValues>, string[]]>([
    [{}, ['thickness', 'place', 'sugar']], [{ thicknessMm: 22 }, ['place', 'sugar']], [{ placeC: 2 }, ['thickness', 'sugar']], [{ sugarKind: '' }, ['thickness', 'place']], [{ sugarPer100Salt: 50 }, ['thickness', 'place']],
    [{ cut: 'gutted', thicknessMm: 30 }, ['thickness', 'place', 'sugar']], [{ cut: 'gutted', thicknessMm: 20 }, ['place', 'sugar']], [{ formula: 'f' }, ['thickness', 'place']],
    // All of it lies in a group whose thickness is its own.
    [{ groups: [{ key: 0, kind: 'thick', grams: 5000, thicknessMm: 34 }] }, ['place', 'sugar']], [{ groups: [{ key: 0, kind: 'thick', grams: 4000, thicknessMm: 34 }] }, ['thickness', 'place', 'sugar']],
  ])('%j leaves the example at %j', (change, parts) => {
    expect(exampleParts(values(change))).toEqual(parts);
  });

  test('is said in the units of the person (20 mm is 0.79 in, 3 °C is 37.4 °F: NIST SP 811)', () => {
    expect(exampleWords(values())).toMatch(/^20 mm thick, 3 °C where it stands, .*brown sugar/);
    expect(exampleWords(values({ thicknessMm: 22, placeC: 2, sugarKind: '' }))).toBe('');
    units.choose('us');
    expect(exampleWords(values())).toMatch(/^0\.79 in thick, 37\.4 °F where it stands/);
    // The pound is 453.59237 g (NIST SP 811): 1 t is 2,204.6 lb.
    expect(planOf(values({ grams: 2e6 }), fish).wrong).toBe('Weight 4409 lb 3.9 oz is not from 0 oz to 2204 lb 10 oz; enter the weight on the scale.');
    expect(planOf(values({ grams: 0 }), fish).wrong).toBe('Weight 0 oz is no fish: enter the weight on the scale.');
    units.choose('metric');
  });
});

test('gutted fish is called so, and nothing is said of its skin', () => {
  const gutted = fishOfBatch(batch({ origins: [origin('atlantic-mackerel', 5000, 'gutted')] }));
  expect(planOf({ ...startValues(gutted, 'table-salt') }, gutted).plan!.groups.map((g) => g.name)).toEqual(['Gutted fish of 30 mm']);
  expect(plan().groups.map((g) => g.name)).toEqual(['Pieces of 20 mm, skin on']);
});

test('a plan is handed over once', () => {
  const { plan: made, input } = planOf(values(), fish);
  const planned = { kind: 'cure' as const, dueMinutes: 60, note: 'Plan', fishGrams: made!.fishGrams, cure: factsOf(made!, input!, values()), example: exampleWords(values()) };
  handOver('a', planned);
  expect(takeOver('b')).toBeNull();
  expect(takeOver('a')).toEqual(planned);
  expect(takeOver('a')).toBeNull();
});

describe('a formula of the club', () => {
  const dry: Formula = { id: 'f', name: 'Skerry cure', method: 'dry', fishGrams: 1000, note: '', retired: false, version: 1, items: [
    { name: 'Fine sea salt', ingredient: 'fine-sea-salt', grams: 250 }, { name: 'Honey', ingredient: 'honey', grams: 50 }, { name: 'Bay leaf', ingredient: null, grams: 4 },
  ] };
  const brine: Formula = { ...dry, method: 'brine', items: [{ name: 'Table salt', ingredient: 'table-salt', grams: 150 }, { name: 'Water', ingredient: 'water', grams: 850 }] };

  test('is where the plan starts, for as much fish as there is', () => {
    const start = startFrom(dry, 5000);
    expect(start).toEqual({ method: 'dry', saltKind: 'fine-sea-salt', sugarKind: 'honey', sugarPer100Salt: 20, saltPercentOfFish: 25, others: [{ name: 'Bay leaf', grams: 20 }] });
    expect(plan(start).amounts).toMatchObject({ saltGrams: 1250, sugarGrams: 250 });
  });

  test('a brine keeps its strength, and its water grows with the fish', () => {
    const start = startFrom(brine, 5000);
    expect(start).toMatchObject({ method: 'brine', brinePercent: 15, waterGrams: 4250, sugarPer100Salt: null, sugarKind: '' });
    expect(plan(start).amounts).toMatchObject({ saltGrams: 750, sugarGrams: 0, waterGrams: 4250 });
  });

  test('of which no dose is reckoned gives no start (rule nitrite)', () => {
    const cured = { ...dry, items: [...dry.items, { name: 'Saltpetre', ingredient: null, grams: 1 }] };
    expect(scaled(cured, 1000)).toHaveProperty('error');
    expect(startFrom(cured, 1000)).toEqual({});
  });

  test('goes through the form unchanged; an unfinished line is sent to be refused', () => {
    expect(bodyOf({ name: dry.name, method: dry.method, fishGrams: dry.fishGrams, note: '', lines: linesOf(dry) }).items).toEqual(dry.items);
    expect(bodyOf({ name: 'x', method: 'dry', fishGrams: 1, note: '', lines: [newLine()] }).items).toEqual([{ name: '', ingredient: null, grams: null }]);
  });

  test('a plan is kept as one, and starts the same plan again', () => {
    const asked = values({ method: 'brine', saltKind: 'table-salt', waterGrams: 4000 });
    const made = formulaOf(planOf(asked, fish).plan!, asked);
    expect(made).toMatchObject({ method: 'brine', fishGrams: 5000, items: [{ ingredient: 'table-salt', grams: 706 }, { ingredient: 'brown-sugar-packed' }, { ingredient: 'water', grams: 4000 }] });
    const again = planOf(values(startFrom({ ...dry, ...made, name: 'Kept' }, 5000)), fish).plan!;
    expect(again.amounts).toMatchObject({ saltGrams: 706, waterGrams: 4000 });
    draftFormula(made);
    expect([takeDraft(), takeDraft()]).toEqual([made, null]);
  });
});
