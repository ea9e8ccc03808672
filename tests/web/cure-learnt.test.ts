import { beforeEach, describe, expect, test, vi } from 'vitest';
import { cureFactsPatch, type SaltFigures, type StockItem } from '../../server/contract/cures.ts';
import { checkCureFacts } from '../../server/domain/cure/cure-facts.ts';
import type { CureFacts } from '../../server/domain/cure/cure-facts.ts';
import { saltBeforeDrying } from '../../server/domain/salt/drying.ts';
import { dropAnswers, keepAnswer, keepAnswersOf, keptAnswer } from '../../web/src/lib/api/kept-answers.ts';
import { countBody, countLines, newCount } from '../../web/src/lib/cure/count.ts';
import { blankCure, cureBody, cureForm, newOther, typedOthers } from '../../web/src/lib/cure/cure-form.ts';
import { factsOf, factsWords } from '../../web/src/lib/cure/facts.ts';
import { fishByHand } from '../../web/src/lib/cure/fish.ts';
import { expectedKept } from '../../web/src/lib/cure/kept.ts';
import { againstMeasured, bandOfTime, clubByFat, diffusivityWords, heardWords, learntOf } from '../../web/src/lib/cure/learnt.ts';
import { planOf } from '../../web/src/lib/cure/plan.ts';
import { filled, needsOf, outWords, shop } from '../../web/src/lib/cure/stock.ts';
import { followFish, startValues, type PlannerValues } from '../../web/src/lib/cure/values.ts';
import { noteOf } from '../../web/src/lib/cure/words.ts';

const fish = fishByHand('atlantic-mackerel');
const values = (change: Partial<PlannerValues> = {}): PlannerValues => ({ ...startValues(fish, 'table-salt'), grams: 5000, ...change });
const working = { inputs: [], formula: 'f', source: 's', certainty: 'arithmetic' as const };
const figure = (curedPercent: number) => ({ figureId: 'f', batchId: 'b', lot: 'L', part: 'loin' as const, sampledDay: '2026-06-02', measuredPercent: curedPercent, keptPercent: null, curedWaterPercent: null, curedPercent, minutes: 480, thicknessMm: 20, startPercent: 3, predictedPercent: 4, lowPercent: 3.5, highPercent: 4.5, residual: 0.2, working });
const figures: SaltFigures = {
  measured: false, leftOut: [],
  classes: [
    { fat: 'lean', startM2PerSAt5C: 5e-10, m2PerSAt5C: 5e-10, used: false, bandFactor: 2, figures: [], notes: [], working },
    { fat: 'fatty', startM2PerSAt5C: 2e-10, m2PerSAt5C: 4e-10, used: true, bandFactor: 1.4, figures: [figure(4.2), figure(3.9)], notes: [], working },
  ],
};

describe('what the club learnt', () => {
  test('a band is told as what it does to the time', () => {
    expect([bandOfTime(2), bandOfTime(1.996), bandOfTime(1.4), bandOfTime(1.04)]).toEqual(['half to twice the time', 'half to twice the time', '0.7 to 1.4 times the time', '0.96 to 1.04 times the time']);
  });

  test('goes into the plan of its fat class alone: twice the diffusivity is half the time (Fo = D t/L^2), and the band is its own', () => {
    expect(clubByFat(figures)).toEqual({ fatty: { m2PerSAt5C: 4e-10, bandFactor: 1.4 } });
    expect(clubByFat(undefined)).toEqual({});
    const time = (known: object) => planOf(values({ method: 'brine' }), fish, known).plan!.groups[0]!.last.time;
    const [before, after] = [time({}), time({ clubByFat: clubByFat(figures) })];
    expect(after.minutes! / before.minutes!).toBeCloseTo(0.5, 2);
    expect(after.latestMinutes! / after.minutes!).toBeCloseTo(1.4, 2);
    expect(learntOf(figures, ['fatty']).map(({ fat }) => fat)).toEqual(['fatty']);
  });

  test('is said in a sentence, and drawn dot by dot beside the line on which both are the same', () => {
    expect(heardWords(figures.classes[1]!)).toBe('2 figures: salt goes in 2 times as fast as published; the band went from 2 to 1.4. Where dots lie on the broken line, the prediction was right.');
    expect([4e-10, Math.sqrt(1e-19), 0, 0.25, 2].map(diffusivityWords)).toEqual(['4 × 10⁻¹⁰ m²/s', '3.16 × 10⁻¹⁰ m²/s', '0 m²/s', '0.25 m²/s', '2 m²/s']);
    const [line, , learnt] = againstMeasured(figures.classes[1]!.figures);
    expect(line!.points.every(({ x, y }) => x === y)).toBe(true);
    expect(learnt!.points.filter(({ y }) => y !== null)).toEqual([{ x: 3.9, y: 4 }, { x: 4.2, y: 4 }]);
  });
});

describe('how it is cured', () => {
  test.each([[{ method: 'dry' }], [{ method: 'brine' }], [{ method: 'equilibrium-brine' }], [{ sugarKind: '', saltKind: '' }]] as Partial<PlannerValues>[][])('a plan of %j hands on facts that the record takes', (change) => {
    const asked = values(change);
    const planned = planOf(asked, fish);
    const facts = factsOf(planned.plan!, planned.input!, asked);
    expect(() => checkCureFacts(facts as CureFacts)).not.toThrow();
    expect(facts).toMatchObject({ method: asked.method, saltGrams: planned.plan!.amounts.saltGrams, thicknessMm: 20, skin: true, temperatureC: 3, fat: 'fatty', onceFrozen: false });
  });

  test('fish of two fat classes is mixed; the thickness is that of most of the fish, bellies and tails apart', () => {
    const two = { ...fish, kinds: [{ species: 'atlantic-mackerel', name: 'Mackerel', share: 1 }, { species: 'atlantic-cod', name: 'Cod', share: 1 }] };
    const asked = values({ groups: [{ key: 0, kind: 'thick', grams: 3000, thicknessMm: 35 }, { key: 1, kind: 'tail', grams: 1500, thicknessMm: 8 }] });
    const planned = planOf(asked, two);
    expect(factsOf(planned.plan!, planned.input!, asked)).toMatchObject({ fat: 'mixed', thicknessMm: 35 });
  });

  test('is told in a line, and goes through the form unchanged', () => {
    const asked = values({ method: 'brine' });
    const planned = planOf(asked, fish);
    const facts = factsOf(planned.plan!, planned.input!, asked);
    expect(factsWords(facts)).toBe('Brine 15 %, 20 mm, skin on, at 3 °C, fatty fish: 882 g table salt, 662 g brown sugar, packed, 5 kg water');
    const form = { ...blankCure, ...cureForm({ ...facts, createdBy: { id: 'c', name: 'Cap' }, version: 3 }) };
    expect(cureBody(form, 3)).toEqual({ ...facts, version: 3, reason: '' });
    expect(cureBody({ ...form, method: 'dry' }, 3)).toMatchObject({ waterGrams: null, brinePercent: null });
    // Lines with nothing in them are left out; one with a name alone is refused for its weight, by its number among those that are sent.
    const lines = [newOther(), newOther(' Black pepper ', 12), newOther('', null), newOther('Dill')];
    const body = cureBody({ ...form, others: lines }, 3);
    expect(body).toMatchObject({ others: [{ name: 'Black pepper', grams: 12 }, { name: 'Dill' }] });
    expect(cureFactsPatch.safeParse(body).error?.issues.map(({ path }) => path.join('.'))).toEqual(['others.1.grams']);
    expect(typedOthers(lines).map(({ name }) => name)).toEqual([' Black pepper ', 'Dill']);
  });
});

describe('an aim in the finished fish', () => {
  test('asks less of the cure, by the weight that is kept (balance of salt and water)', () => {
    const asked = values({ aim: 'finished' });
    const plan = planOf(asked, fish).plan!;
    const { curedTargetPercent } = plan;
    expect(curedTargetPercent).toBe(saltBeforeDrying({ finishedPercent: 3.5, keptPercent: 93, curedWaterPercent: plan.water[0]!.percent }).waterPhaseSaltPercent);
    expect(curedTargetPercent).toBeLessThan(3.5);
    expect(plan.curedTargetWorking!.model).toBe('salt-balance');
    expect(planOf(values({ aim: 'finished', keptOwn: true, keptPercent: 80 }), fish).plan!.curedTargetPercent).toBeLessThan(curedTargetPercent);
    expect(planOf(values({ aim: 'finished', keptOwn: true }), fish).errors).toHaveProperty('keptPercent');
    expect(planOf(values({ aim: 'finished', keptOwn: true, keptPercent: 40 }), fish).errors).toHaveProperty('keptPercent');
    expect(noteOf(plan, asked, fish.kinds)).toContain(`3.5 % water-phase salt in the finished fish, ${curedTargetPercent.toFixed(1)} % after the cure`);
    expect(planOf(values(), fish).plan!).toMatchObject({ curedTargetPercent: 3.5, curedTargetWorking: null });
  });

  test('starts with the most that is expected: 93 % by the tables (smoking takes 7 to 20 %), or the club\'s own', () => {
    expect(expectedKept(undefined)).toMatchObject({ percent: 93 });
    const own = (stage: 'dry' | 'smoke', highPct: number, batches = 4) => ({ stage, known: true, reason: '', lowPct: 70, likelyPct: 75, highPct, batches, ownWeightPct: 80, leftOut: [], evidence: 'from 4 of your batches', working });
    expect(expectedKept([own('smoke', 84)])).toMatchObject({ percent: 84, words: 'The most that is expected from 4 of your batches.' });
    expect(expectedKept([own('dry', 95), own('smoke', 80)]).percent).toBe(76);
    expect(expectedKept([own('smoke', 84, 0)]).percent).toBe(93);
  });
});

describe('stock', () => {
  const item = (ingredient: string | null, name: string, grams: number, outByGrams = 0): StockItem => ({ id: name, ingredient, name, grams, countedGrams: grams, usedGrams: 0, outByGrams, countedAt: '2026-06-10T10:00:00.000Z', countedBy: { id: 'c', name: 'Cap' }, working });

  test('as counted is held against the plan by kind; what was not counted is as somebody typed it; salt of no kind matches none', () => {
    const asked = values({ others: [{ name: 'bay leaf', grams: 20 }] });
    const needs = needsOf(planOf(asked, fish).plan!, asked);
    expect(needs.map(({ name, kind, grams }) => [name, kind, grams])).toEqual([['Table salt', 'table-salt', 1000], ['Brown sugar', 'brown-sugar', 750], ['bay leaf', null, 20]]);
    const cupboard = filled(needs, [item('table-salt', 'Table salt', 400), item(null, 'Bay leaf', 50)], { 'Brown sugar': { haveGrams: 800, packageGrams: null }, 'Table salt': { haveGrams: 5000, packageGrams: null } });
    const answer = shop(needs, cupboard);
    expect(answer).toMatchObject({ shopping: { words: 'Short of Table salt (600 g).', lines: [{ shortGrams: 600 }, { leftOverGrams: 50 }, { leftOverGrams: 30 }] } });
    expect(needsOf(planOf(asked, fish).plan!, { saltKind: '', others: [] })[0]).toMatchObject({ name: 'Salt', kind: null });
    expect(outWords(item('table-salt', 'Table salt', 0, 200))).toBe('The count of table salt is out: cures took 200 g more than was there. Count it again.');
  });

  test('brown sugar is one on the shelf: loose and packed are counted together, and a plan that takes it in two lines is held against it once', () => {
    const asked = values({ others: [{ name: 'brown SUGAR', grams: 300 }, { name: 'Brown sugar, loose', grams: 50 }] });
    for (const sugarKind of ['brown-sugar-packed', 'brown-sugar-unpacked'] as const) {
      const plan = { ...asked, sugarKind };
      const needs = needsOf(planOf(plan, fish).plan!, plan);
      expect(needs.map(({ name, kind, grams }) => [name, kind, grams])).toEqual([['Table salt', 'table-salt', 1000], ['Brown sugar', 'brown-sugar', 1100]]);
      expect(needs[1]!.working.inputs.map(({ value }) => value)).toEqual([750, 300, 50]);
      // 1,000 g does for each line alone and not for all.
      const short = shop(needs, filled(needs, [item('table-salt', 'Table salt', 2000), item('brown-sugar', 'Brown sugar', 1000)], {}));
      expect(short).toMatchObject({ shopping: { words: 'Short of Brown sugar (100 g).', lines: [{ haveGrams: 2000 }, { haveGrams: 1000, needGrams: 1100 }] } });
      // What this device read before brown sugar was one.
      expect(shop(needs, filled(needs, [item('brown-sugar-packed', 'Brown sugar, packed', 1200)], {}))).toMatchObject({ shopping: { enough: true } });
    }
  });

  test('a count sends what was weighed and what comes off the list, and nothing else', () => {
    const [salt, honey] = countLines([item('table-salt', 'Table salt', 400), item('honey', 'Honey', 5)]);
    const other = { ...newCount(), choice: 'other', name: 'Dill', grams: 30 };
    expect(countBody([{ ...salt!, grams: 0 }, honey!, other, { ...honey!, gone: true, grams: 7 }])).toEqual({ counts: [{ ingredient: 'table-salt', name: '', grams: 0 }, { ingredient: null, name: 'Dill', grams: 30 }, { ingredient: 'honey', name: '', grams: null }] });
  });
});

test('a plan that was kept follows a batch that weighs something else now, unless its weight was typed', () => {
  const asked = { ...values({ grams: 3000 }), offeredGrams: 3000 };
  const now = { ...fish, weightOf: () => ({ grams: 2800, words: '' }) };
  followFish(asked, now);
  expect([asked.grams, asked.offeredGrams]).toEqual([2800, 2800]);
  const typed = { ...values({ grams: 2500 }), offeredGrams: 3000 };
  followFish(typed, now);
  expect(typed.grams).toBe(2500);
});

describe('answers kept for when there is no signal', () => {
  const store = new Map<string, string>();
  beforeEach(() => {
    store.clear();
    // Keys stand on the object itself, as in a browser.
    vi.stubGlobal('localStorage', new Proxy({} as Storage, {
      get: (_target, name) => ({ getItem: (key: string) => store.get(key) ?? null, setItem: (key: string, value: string) => void store.set(key, value), removeItem: (key: string) => void store.delete(key) })[name as 'getItem'],
      ownKeys: () => [...store.keys()], getOwnPropertyDescriptor: () => ({ enumerable: true, configurable: true }),
    }));
  });

  test('are for who is signed in alone, with when they were read, and go with signing out', () => {
    keepAnswersOf('ann');
    keepAnswer('cure-stock', { items: [] }, 1000);
    expect(keptAnswer('cure-stock')).toEqual({ answer: { items: [] }, at: 1000 });
    keepAnswersOf('ben');
    expect([keptAnswer('cure-stock'), [...store.keys()]]).toEqual([null, []]);
    keepAnswer('cure-stock', { items: [] }, 1500);
    keepAnswersOf('ben');
    expect(keptAnswer('cure-stock')?.at).toBe(1500);
    store.set('tidelarder.look', 'dark');
    dropAnswers();
    expect([...store.keys()]).toEqual(['tidelarder.look']);
    keepAnswer('cure-stock', { items: [] }, 2000);
    expect(keptAnswer('cure-stock')).toBeNull();
  });
});
