import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SPECIES } from '../../server/domain/species/index.ts';
import { expectedYield } from '../../server/domain/yield.ts';
import type { YieldQuestion } from '../../server/domain/yield.ts';
import { estimateYield, questionStage } from '../../server/domain/yield-evidence.ts';
import { expectedWeights } from '../../server/domain/yield-stages.ts';
import { refused } from '../support/refused.ts';
import { table } from '../support/table.ts';

const filleting: YieldQuestion = { species: 'atlantic-mackerel', form: 'whole', product: 'hot-smoked', stage: 'prepare' };
const smoking: YieldQuestion = { ...filleting, form: 'fillet', stage: 'smoke' };
const own = (...percents: number[]) => percents.map((percent, index) => ({ id: `b${index}`, massInG: 10_000, massOutG: Math.round(percent * 100) }));
const estimate = (question: YieldQuestion, ...percents: number[]) => estimateYield({ question, batches: own(...percents) });

describe('the published yields (conversion-factors.csv, edible-yield.csv)', () => {
  const codes: Record<string, string> = { 'Atlantic cod': 'atlantic-cod', 'haddock': 'haddock', 'hake': 'hake', 'herring': 'atlantic-herring', 'mackerel': 'atlantic-mackerel', 'salmon': 'atlantic-salmon', 'saithe': 'saithe' };

  it.each(table('conversion-factors').filter(([name, , , skinOn]) => skinOn && codes[name!]))('%s: gutted %s, gutted and headed %s, fillet %s skin on, %s skinless (EU 404/2011, FAO CWP)', (name, gutted, headed, skinOn, skinless) => {
    const likely = (to: 'gutted' | 'headed-gutted' | 'fillet') => {
      const answer = expectedYield({ ...filleting, species: codes[name!]!, to });
      if (!answer.known) throw new Error(answer.reason);
      return answer;
    };
    expect(likely('gutted').likelyPct).toBeCloseTo(100 / Number(gutted), 9);
    expect(likely('headed-gutted').likelyPct).toBeCloseTo(100 / Number(headed), 9);
    expect(likely('fillet').likelyPct).toBeCloseTo(100 / Number(skinOn), 9);
    if (skinless !== skinOn) expect(likely('fillet').lowPct).toBeCloseTo(100 / Number(skinless), 9);
  });

  it.each(table('conversion-factors').filter(([, , , skinOn]) => !skinOn))('%s: gutted %s, gutted and headed %s (FAO CWP, EU 404/2011)', (name, gutted, headed) => {
    const species = SPECIES.filter(({ conversion }) => conversion && conversion.filletSkinOn === null && conversion.gutted === Number(gutted) && conversion.guttedHeaded === (headed ? Number(headed) : null));
    expect(species.length, name).toBeGreaterThan(0);
    for (const { code } of species) {
      expect(expectedYield({ ...filleting, species: code, to: 'gutted' })).toMatchObject({ known: true, likelyPct: 100 / Number(gutted) });
      if (headed) expect(expectedYield({ ...filleting, species: code, to: 'headed-gutted' })).toMatchObject({ known: true, likelyPct: 100 / Number(headed) });
    }
  });

  it('no filleting is expected above all the flesh there is (edible-yield.csv, FAO FTP 309)', () => {
    for (const { code, edibleYield } of SPECIES) {
      const answer = expectedYield({ ...filleting, species: code });
      if (edibleYield && answer.known) expect(answer.highPct, code).toBeLessThanOrEqual(Math.max(edibleYield.percentOfWhole, answer.likelyPct * 1.05) + 1e-9);
    }
  });
});

describe('estimateYield', () => {
  it('is the published range itself while there are no batches (models.md: smoking 80 to 93 %, from memory)', () => {
    expect(estimate(smoking)).toMatchObject({ known: true, lowPct: 80, likelyPct: 86.5, highPct: 93, batches: 0, ownWeightPct: 0 });
    expect(estimate(filleting)).toMatchObject({ lowPct: 38.46, likelyPct: 51.28, highPct: 61 });
  });

  it('moves toward the club\'s own as they come in, with their weight shown', () => {
    const steps = [0, 1, 3, 10, 40].map((count) => estimate(smoking, ...new Array<number>(count).fill(82)));
    for (let i = 1; i < steps.length; i++) {
      expect(steps[i]!.likelyPct!).toBeLessThan(steps[i - 1]!.likelyPct!);
      expect(steps[i]!.ownWeightPct).toBeGreaterThan(steps[i - 1]!.ownWeightPct);
      expect(steps[i]!.highPct! - steps[i]!.lowPct!).toBeLessThan(steps[i - 1]!.highPct! - steps[i - 1]!.lowPct!);
    }
    // One batch against the published value: half and half (equal variances, conjugate normal).
    expect(steps[1]!.ownWeightPct).toBe(50);
    expect(steps.at(-1)!.likelyPct).toBeCloseTo(82, 0);
    expect(steps[1]!.words).toContain('one batch of your own');
  });

  it('lies between the published value and the club\'s mean, always (shrinkage)', () => {
    fc.assert(fc.property(fc.array(fc.double({ min: 70, max: 99, noNaN: true }), { minLength: 1, maxLength: 30 }), (percents) => {
      const answer = estimate(smoking, ...percents);
      const kept = own(...percents).filter((batch) => !answer.leftOut.includes(batch.id)).map((batch) => batch.massOutG / 100);
      const mean = Math.exp(kept.reduce((sum, percent) => sum + Math.log(percent), 0) / kept.length);
      expect(answer.likelyPct!).toBeGreaterThanOrEqual(Math.min(mean, 86.5) - 0.02);
      expect(answer.likelyPct!).toBeLessThanOrEqual(Math.max(mean, 86.5) + 0.02);
      expect(answer.lowPct!).toBeLessThanOrEqual(answer.likelyPct!);
      expect(answer.highPct!).toBeGreaterThanOrEqual(answer.likelyPct!);
      expect(answer.highPct!).toBeLessThanOrEqual(100);
    }));
  });

  it('leaves out a slip and names it', () => {
    const answer = estimate(smoking, 84, 85, 83, 84, 8.4);
    expect(answer.leftOut).toEqual(['b4']);
    expect(answer.batches).toBe(4);
    expect(answer.likelyPct!).toBeGreaterThan(83);
  });

  it('answers from three batches where nothing is published, not before', () => {
    const dry: YieldQuestion = { ...smoking, stage: 'dry' };
    expect(estimate(dry, 95, 96)).toMatchObject({ known: false, reason: expect.stringContaining('Three batches') });
    expect(estimate(dry, 95, 96, 94)).toMatchObject({ known: true, batches: 3, ownWeightPct: 100, likelyPct: 95 });
  });

  it.each([[{ massInG: -5, massOutG: 1 }, 'batches.0.massInG'], [{ massInG: 0, massOutG: 1 }, 'batches.0.massInG'], [{ massInG: 100, massOutG: 0 }, 'batches.0.massOutG'], [{ massInG: 100, massOutG: 101 }, 'batches.0.massOutG'], [{ massInG: Number.NaN, massOutG: 1 }, 'batches.0.massInG']])('refuses %j', (batch, field) => {
    expect(refused(() => estimateYield({ question: smoking, batches: [{ id: 'a', ...batch }] })).field).toBe(field);
  });
});

describe('questionStage', () => {
  const ask = (massOutG: number, question = smoking) => questionStage({ question, batches: [], massInG: 1000, massOutG });

  it('questions a stage outside its interval, and refuses none', () => {
    expect(ask(860)).toMatchObject({ asks: false, standing: 'within', actualPct: 86 });
    expect(ask(700)).toMatchObject({ asks: true, standing: 'below', words: expect.stringContaining('80 to 93 %') });
    expect(ask(990)).toMatchObject({ asks: true, standing: 'above', words: expect.stringContaining('tray') });
    expect(ask(0)).toMatchObject({ asks: true, standing: 'below' });
    expect(ask(950, { ...smoking, stage: 'cool' })).toMatchObject({ asks: false, standing: 'unknown' });
  });

  it('asks more closely once the club has batches of its own', () => {
    const batches = own(...new Array<number>(20).fill(82));
    expect(questionStage({ question: smoking, batches, massInG: 1000, massOutG: 920 }).asks).toBe(true);
    expect(ask(920).asks).toBe(false);
  });
});

describe('expectedWeights', () => {
  it('follows 10 kg of whole mackerel through fillets, dry cure and smoke (figures above, multiplied)', () => {
    const answer = expectedWeights({ species: 'atlantic-mackerel', form: 'whole', product: 'hot-smoked', cure: { kind: 'dry' }, massInG: 10_000 });
    expect(answer.stages.map((stage) => [stage.stage, stage.likelyGrams])).toEqual([['prepare', 5128], ['cure', 4795], ['smoke', 4147]]);
    expect(answer.overall!.likelyPct).toBe(41.5);
    // Independent errors: narrower than the ends multiplied (27.7 to 55 %).
    expect(answer.overall!.lowPct).toBeGreaterThan(27.7);
    expect(answer.overall!.highPct).toBeLessThan(55);
  });

  it('says from where on nothing is known, and skips filleting what is filleted', () => {
    const unknown = expectedWeights({ species: 'pollack', form: 'whole', product: 'hot-smoked', massInG: 1000 });
    expect(unknown.stages[2]).toMatchObject({ likelyGrams: null });
    expect(unknown.overall).toBeNull();
    const fillets = expectedWeights({ species: 'pollack', form: 'fillet', product: 'hot-smoked', massInG: 1000, cure: { kind: 'wet', brinePct: 15 } });
    expect(fillets.stages.map((stage) => stage.likelyGrams)).toEqual([1000, 1000, 865]);
    expect(expectedWeights({ species: 'pollack', form: 'fillet', product: 'dip', massInG: 1000 })).toEqual({ stages: [], overall: null });
  });

  it('takes the club\'s own batches by stage, and refuses weights below zero', () => {
    const batches = { smoke: own(...new Array<number>(30).fill(82)) };
    const answer = expectedWeights({ species: 'pollack', form: 'fillet', product: 'hot-smoked', massInG: 1000, cure: { kind: 'wet', brinePct: 15 }, batches });
    expect(answer.stages[2]!.likelyGrams!).toBeLessThan(830);
    expect(refused(() => expectedWeights({ species: 'pollack', form: 'fillet', product: 'raw', massInG: -1 })).field).toBe('massInG');
    expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
  });
});
