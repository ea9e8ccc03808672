import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { adviceFor, allergensIn, mercuryMeals, servingFor } from '../../server/domain/advice/advice.ts';
import type { AdviceInput } from '../../server/domain/advice/advice.ts';
import { ALLERGENS } from '../../server/domain/allergens.ts';
import { SPECIES } from '../../server/domain/species/index.ts';
import { PRODUCT_KINDS } from '../../server/domain/working.ts';
import { refused } from '../support/refused.ts';
import { table } from '../support/table.ts';

const advice = (change: Partial<AdviceInput> = {}) => adviceFor({ speciesCodes: ['atlantic-mackerel'], area: null, product: 'hot-smoked', ingredients: 'salt', ...change });
const topics = (change: Partial<AdviceInput>) => advice(change).items.map((item) => `${item.topic} ${item.level}`);

describe('mercuryMeals (reference dose 0.1 ug/kg/day)', () => {
  const EIGHT_OZ = 226.796185;

  it.each([['king-mackerel', 1.28, 1], ['bluefish', 2.55, 2]])('%s, 70 kg and 8 oz: %d meals a month, rounded down to %d (models.md)', (speciesCode, exact, mealsPerMonth) => {
    expect(mercuryMeals({ speciesCode, bodyKg: 70, mealGrams: EIGHT_OZ })).toMatchObject({ exact, mealsPerMonth });
  });

  it('takes each row of the table (mercury.csv, FDA monitoring 1990-2012)', () => {
    const used = new Set<string>();
    for (const { code, mercury } of SPECIES) {
      if (!mercury) continue;
      const row = table('mercury').find(([, ppm, rowAdvice, source]) => Number(ppm) === mercury.meanPpm && rowAdvice === mercury.advice && source === mercury.source)!;
      used.add(row[0]!);
      expect(mercuryMeals({ speciesCode: code, bodyKg: 70, mealGrams: EIGHT_OZ }).exact).toBeCloseTo((0.0001 * 70 * 35.2 * 30.44) / (Number(row[1]) * 8), 2);
    }
    expect(used.size).toBeGreaterThan(18);
  });

  it('takes the lower of two waters only for fish that is plainly from there (mercury.csv)', () => {
    const ppm = (speciesCode: string, area: string | null) => mercuryMeals({ speciesCode, bodyKg: 70, mealGrams: 113, area }).meanPpm;
    expect(ppm('spanish-mackerel', 'South Atlantic, off the cape')).toBe(0.182);
    expect(ppm('spanish-mackerel', 'S Atlantic')).toBe(0.182);
    for (const area of [null, '', 'Atlantic', 'Gulf of Mexico', 'between the Gulf and the South Atlantic', 'the bank']) expect(ppm('spanish-mackerel', area)).toBe(0.454);
    expect(ppm('tilefish', 'mid-Atlantic')).toBe(0.144);
    expect(ppm('tilefish', 'Gulf')).toBe(1.123);
  });

  it('reckons smoked fish on raw weight: a smoked gram carries more (rule people.raw-basis)', () => {
    const raw = mercuryMeals({ speciesCode: 'bluefish', bodyKg: 70, mealGrams: 113 });
    const smoked = mercuryMeals({ speciesCode: 'bluefish', bodyKg: 70, mealGrams: 113, yieldPct: 80 });
    expect(smoked.rawMealGrams).toBe(141.3);
    expect(smoked.exact / raw.exact).toBeCloseTo(0.8, 2);
  });

  it('a bigger meal or a lighter person never allows more', () => {
    fc.assert(fc.property(fc.double({ min: 5, max: 250, noNaN: true }), fc.double({ min: 5, max: 1000, noNaN: true }), fc.double({ min: 1, max: 2, noNaN: true }), (bodyKg, mealGrams, times) => {
      const meals = (body: number, meal: number) => mercuryMeals({ speciesCode: 'bluefish', bodyKg: body, mealGrams: meal }).mealsPerMonth;
      expect(meals(bodyKg, mealGrams * times)).toBeLessThanOrEqual(meals(bodyKg, mealGrams));
      expect(meals(Math.max(5, bodyKg / times), mealGrams)).toBeLessThanOrEqual(meals(bodyKg, mealGrams));
    }));
    expect(mercuryMeals({ speciesCode: 'swordfish', bodyKg: 15, mealGrams: 226 })).toMatchObject({ mealsPerMonth: 0, words: 'Less than one such meal a month.' });
  });

  it.each([[{ speciesCode: 'kraken' }, 'speciesCode'], [{ speciesCode: 'pollack' }, 'speciesCode'], [{ bodyKg: 0 }, 'bodyKg'], [{ mealGrams: -1 }, 'mealGrams'], [{ yieldPct: 0 }, 'yieldPct']])('refuses %j', (change, field) => {
    expect(refused(() => mercuryMeals({ speciesCode: 'bluefish', bodyKg: 70, mealGrams: 113, ...change })).field).toBe(field);
  });
});

describe('servingFor (FDA/EPA 2021, rule people.servings)', () => {
  it.each([[1, 28], [3.9, 28], [4, 57], [7.9, 57], [8, 85], [10.9, 85], [11, 113], [70, 113]])('at %d years %d g raw', (ageYears, grams) => {
    expect(servingFor({ ageYears }).rawGrams).toBe(grams);
  });

  it('has no figure under one year', () => {
    expect(refused(() => servingFor({ ageYears: 0.5 })).remedy).toContain('doctor');
  });
});

describe('adviceFor', () => {
  it('mercury: not for some where the table says avoid (mercury.csv, FDA/EPA)', () => {
    for (const { code, mercury } of SPECIES) {
      const first = advice({ speciesCodes: [code] }).items.find((item) => item.topic === 'mercury')!;
      expect(first.level === 'avoid', code).toBe(mercury?.advice === 'avoid');
    }
    expect(advice({ speciesCodes: ['king-mackerel'] }).label).toContain('High in mercury: not for pregnant or breast-feeding women, or children.');
  });

  it('mercury: one serving and no other fish that week without an advisory; says where no figure is (rule people.mercury)', () => {
    expect(advice({ speciesCodes: ['pollack'] }).items.map((item) => item.text).join(' ')).toMatch(/one serving and no other fish that week.*No mercury figure in the tables: Pollack/s);
  });

  it('mercury: a raw serving of 113 g may weigh 81 g smoked (0.9 x 0.8, low ends of models.md, from memory)', () => {
    expect(advice().items.find((item) => item.ruleId === 'people.raw-basis')!.text).toContain('81 g smoked');
    expect(advice({ product: 'raw' }).items.some((item) => item.ruleId === 'people.raw-basis')).toBe(false);
  });

  it('ciguatera for every species the table names, wherever it was caught (hazards.csv, HG ch. 6)', () => {
    for (const species of SPECIES) {
      for (const area of [null, 'cold north']) {
        const said = advice({ speciesCodes: [species.code], area }).items.some((item) => item.topic === 'ciguatera');
        if (species.ciguatera) expect(said, species.code).toBe(true);
      }
    }
    expect(topics({ speciesCodes: ['atlantic-cod'] })).not.toContain('ciguatera inform');
    // The note of the hazards table: the narrow-barred kind is a risk.
    expect(topics({ speciesCodes: ['spanish-mackerel'] })).toContain('ciguatera inform');
  });

  it('Listeria for smoked fish and dips, not for raw fish (CDC 2014)', () => {
    expect(topics({})).toContain('listeria avoid');
    expect(advice({ product: 'dip' }).items.find((item) => item.topic === 'listeria')!.text).toContain('spread');
    expect(topics({ product: 'raw' })).not.toContain('listeria avoid');
    expect(advice().label).toContain('Pregnant, over 65 or weak immunity: cook to 74 C (165 F) first.');
  });

  it('parasites for raw fish with the freezing rule (FC 3-402.11, EU 853/2004)', () => {
    const raw = advice({ speciesCodes: ['atlantic-cod', 'snapper'], product: 'raw' });
    const item = raw.items.find(({ topic }) => topic === 'parasites')!;
    expect(item.species).toEqual(['Atlantic cod']);
    expect(item.text).toMatch(/-20 C for 168 hours.*-35 C.*15 hours.*24 hours at -20 C/s);
    expect(raw.label).toContain('Raw fish: cook before eating.');
    expect(advice({ speciesCodes: ['walleye'], area: 'the lake', product: 'raw' }).items.find(({ topic }) => topic === 'parasites')!.species).toEqual(['Walleye']);
    expect(topics({})).not.toContain('parasites inform');
  });

  it('says first what may not be shared (hazards.csv: pufferfish, escolar, oilfish)', () => {
    for (const code of ['pufferfish', 'escolar', 'oilfish']) expect(advice({ speciesCodes: [code] }).items[0]).toMatchObject({ topic: 'sharing', level: 'avoid', label: 'Do not eat.' });
  });

  it('says so when nothing is known', () => {
    expect(advice({ speciesCodes: ['own-species'] }).items.map((item) => item.text).join(' ')).toContain('not in the tables');
    expect(advice({ speciesCodes: [] }).items.map((item) => item.text).join(' ')).toContain('No species is recorded');
    expect(advice({ speciesCodes: [] }).contains).toEqual(['Fish']);
  });

  it('names the fish and every allergen, ticked or found, each once (21 USC 321(qq), EU 1169/2011)', () => {
    const answer = advice({ product: 'dip', ingredients: 'smoked mackerel, cream cheese, mayonnaise, Dijon mustard', allergens: ['milk', 'Egg', 'sesame seed'] });
    expect(answer.contains).toEqual(['Fish (Atlantic mackerel)', 'Milk', 'Egg', 'sesame seed', 'Mustard']);
    expect(answer.unticked.map(({ code, word }) => [code, word])).toEqual([['mustard', 'Dijon']]);
    expect(answer.label).toContain('Contains: Fish (Atlantic mackerel), Milk, Egg, sesame seed, Mustard');
  });

  it('never repeats the place, every item has a source, words are short, avoid comes first', () => {
    const codes = fc.array(fc.constantFrom(...SPECIES.map((one) => one.code), 'own'), { maxLength: 5 });
    fc.assert(fc.property(codes, fc.constantFrom(...PRODUCT_KINDS), (speciesCodes, product) => {
      const answer = advice({ speciesCodes, product, area: 'Secret Ledge 57N' });
      expect(JSON.stringify(answer)).not.toContain('Secret Ledge');
      expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
      for (const item of answer.items) {
        expect(item.source).not.toBe('');
        expect(item.text.length).toBeLessThan(420 + 40 * speciesCodes.length);
      }
      const levels = answer.items.map((item) => ['avoid', 'limit', 'inform'].indexOf(item.level));
      expect(levels).toEqual([...levels].sort());
    }));
  });

  it('refuses another product and too many species', () => {
    expect(refused(() => advice({ product: 'cold-smoked' as never })).field).toBe('product');
    expect(refused(() => advice({ speciesCodes: SPECIES.map((one) => one.code).slice(0, 51) })).field).toBe('speciesCodes');
  });
});

describe('allergensIn (words from memory)', () => {
  it.each([
    ['butter, flour', ['milk', 'wheat']], ['Soy sauce', ['wheat', 'soy']], ['almond milk', ['nuts']], ['coconut milk, eggplant', []], ['peanut butter', ['peanuts']], ['white wine', ['sulphites']], ['crème fraîche', ['milk']],
    ['prawns; squid', ['crustaceans', 'molluscs']], ['nutmeg, salt', []], ['Worcestershire sauce', ['fish']], ['celery salt', ['celery']], ['tahini', ['sesame']], ['lupin flour', ['wheat', 'lupin']], ['', []],
  ])('%j holds %j', (ingredients, codes) => {
    expect(allergensIn(ingredients).map(({ code }) => code)).toEqual(codes);
  });

  it('knows a word for every allergen by its own name', () => {
    for (const { code, name } of ALLERGENS) expect(allergensIn(`salt, ${name.toLowerCase()}, water`).map((found) => found.code), code).toContain(code);
  });

  it('stands any text', () => {
    fc.assert(fc.property(fc.string({ maxLength: 500 }), (text) => { expect(Array.isArray(allergensIn(text))).toBe(true); }));
    expect(allergensIn('x'.repeat(1_000_000))).toEqual([]);
  });
});
