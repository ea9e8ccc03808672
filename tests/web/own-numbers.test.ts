import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { mercuryMeals, servingFor } from '../../server/domain/advice/servings.ts';
import { chillingHours } from '../../server/domain/boat/chilling.ts';
import { cumulativeExposure } from '../../server/domain/boat/exposure.ts';
import { iceToLoad } from '../../server/domain/boat/ice.ts';
import { changeBrine, coolBrineWithIce } from '../../server/domain/cure/brine-change.ts';
import { brineOf, brineStrength, saltForWater } from '../../server/domain/cure/brine.ts';
import { gramsOfMeasure, kitchenMeasure } from '../../server/domain/cure/kitchen-measures.ts';
import { layerPortions } from '../../server/domain/cure/layers.ts';
import { putTooSaltyRight } from '../../server/domain/cure/too-salty.ts';
import { vesselFit } from '../../server/domain/cure/vessel.ts';
import { compositionOfSpecies, thermalProperties } from '../../server/domain/heat/composition.ts';
import { forecastCooling } from '../../server/domain/heat/cooling-forecast.ts';
import { humidAir } from '../../server/domain/heat/humid-air.ts';
import { slabTheta } from '../../server/domain/heat/slab-series.ts';
import { estimateGrams } from '../../server/domain/length-weight.ts';
import { saltAfterDrying, saltBeforeDrying } from '../../server/domain/salt/drying.ts';
import { equaliseSalt, freshenSalt } from '../../server/domain/salt/equalise.ts';
import { refitDiffusivity } from '../../server/domain/salt/refit.ts';
import { timeToSalt } from '../../server/domain/salt/time-to-salt.ts';
import { saltUptake } from '../../server/domain/salt/uptake.ts';
import { waterActivity } from '../../server/domain/salt/water-activity.ts';
import { equilibriumSalt, saltForTarget, waterPhaseSalt } from '../../server/domain/salt/water-phase.ts';
import { weightAfterCure } from '../../server/domain/salt/weight-change.ts';
import { keepingTime, listeriaGrowthAt, warmSpellCost } from '../../server/domain/spoilage-rate.ts';
import { MODELS, type Model } from '../../server/domain/working.ts';
import { estimateYield } from '../../server/domain/yield-evidence.ts';
import { expectedWeights } from '../../server/domain/yield-stages.ts';
import { PAGES } from '../../web/src/lib/models/index.ts';
import type { OwnContext, OwnPart, OwnValues } from '../../web/src/lib/models/own/part.ts';
import { draftOf, fitsPart, isAsked, mayBeEmpty, reckoned, startOf } from '../../web/src/lib/models/own/reckon.ts';
import { units } from '../../web/src/lib/units.svelte.ts';

const metric: OwnContext = { now: new Date('2026-06-10T08:00:00Z'), zone: 'Europe/London', system: 'metric' };
const us: OwnContext = { ...metric, zone: 'America/Detroit', system: 'us' };
const pages = await Promise.all(MODELS.map(async (slug) => (await PAGES[slug].load()).page));
const parts = pages.flatMap((page) => (page.own ?? []).map((part) => ({ slug: page.slug, part })));
const named = (slug: Model, calculation: string): OwnPart => parts.find((p) => p.slug === slug && p.part.calculations.includes(calculation))!.part;
const answerOf = (part: OwnPart, change: OwnValues = {}, context = metric) => {
  units.choose(context.system);
  return reckoned(part, { ...startOf(part, context), ...change }, context);
};
const SENTENCE = /^[A-Z\d“"].*[^.]\.$/s;

it('every model has a part for own numbers, or says where its place is', () => {
  for (const page of pages) expect((page.own?.length ?? 0) > 0 || page.elsewhere !== undefined, page.slug).toBe(true);
});

it('an example log is in the degrees of the person: 58 °C is 136.4 °F (NIST SP 811)', () => {
  const log = (context: OwnContext) => String(startOf(named('hold', 'hold'), context)['log']);
  expect([log(metric).split('\n')[0], log(us).split('\n')[0]]).toEqual(['14:00 58 C', '14:00 136.4 F']);
  for (const { part } of parts.filter((p) => 'log' in p.part.fields)) {
    expect(String(startOf(part, us)['log']), part.title).not.toMatch(/ C$/m);
    expect(answerOf(part, {}, us).wrong).toBe('');
    expect(answerOf(part, { log: 'none' }, us).wrong).toContain('14:20 145');
  }
});

/** Those that a screen of their own needs, with the file that reckons or shows them. */
const ON_SCREENS: Readonly<Record<string, readonly [file: string, name: string]>> = {
  'advice': ['web/src/lib/advice/Advice.svelte', 'advice'], 'allergens-found': ['web/src/lib/batches/allergens.ts', 'allergensIn'],
  'cure-plan': ['web/src/lib/cure/plan.ts', 'planCure'], 'cure-groups': ['server/domain/cure/planner.ts', 'groupPieces'], 'cure-shopping': ['web/src/lib/cure/stock.ts', 'shoppingList'], 'cure-formula': ['web/src/lib/cure/formula.ts', 'scaleFormula'],
  'smoke-forecast': ['web/src/lib/heat/forecast.ts', 'forecastSmoke'], 'smoker-fit': ['web/src/lib/heat/SmokerLearnt.svelte', '/fits`'],
};

it('every calculation of the service has a place: here or on a screen', () => {
  const described = JSON.parse(readFileSync(new URL('../../openapi.json', import.meta.url), 'utf8')) as { paths: object };
  const paths = Object.keys(described.paths).filter((path) => path.startsWith('/api/calculations/'));
  const here = parts.flatMap(({ part }) => part.calculations);
  expect(new Set(here).size).toBe(here.length);
  expect([...here, ...Object.keys(ON_SCREENS)].sort()).toEqual(paths.map((path) => path.replace('/api/calculations/', '')).sort());
  for (const [name, [file, word]] of Object.entries(ON_SCREENS)) expect(readFileSync(new URL(`../../${file}`, import.meta.url), 'utf8'), `${name} in ${file}`).toContain(word);
});

describe.each(parts.map(({ slug, part }) => [`${slug}: ${part.title}`, part] as const))('%s', (_, part) => {
  it.each([['metric', metric], ['us', us]] as const)('answers as it opens, %s', (_system, context) => {
    const { answer, wrong } = answerOf(part, {}, context);
    expect(wrong).toBe('');
    expect(answer!.rows.length).toBeGreaterThan(0);
    expect(answer!.rows[0]!.exact).toBeDefined();
    expect(new Set(answer!.rows.map((r) => r.label)).size).toBe(answer!.rows.length);
    for (const row of answer!.rows) expect(`${row.label} ${row.value} ${row.band ?? ''}`).not.toMatch(/NaN|undefined|null|Infinity|\[object/);
    expect(answer!.rows.some((row) => row.working != null) || answer!.rows[0]!.exact === null).toBe(true);
    for (const series of answer!.plot?.series ?? []) expect(series.points.filter((p) => p.y !== null && Number.isFinite(p.y)).length, series.name).toBeGreaterThan(1);
    if (answer!.plot) expect(answer!.plot.says).toMatch(SENTENCE);
  });

  it('refuses what is out of range or missing with a sentence under its field', () => {
    const start = startOf(part, metric);
    for (const [key, field] of Object.entries(part.fields).filter(([, f]) => isAsked(f, start))) {
      if (field.type === 'number' || field.type === 'maybe') {
        const told = [1e12, -1e12].map((value) => answerOf(part, { [key]: value })).filter(({ answer }) => answer === null);
        expect(told.length, key).toBeGreaterThan(0);
        for (const { errors } of told) expect(errors[key], key).toMatch(SENTENCE);
      }
      if (field.type === 'lines') expect(answerOf(part, { [key]: 'so so' }).errors[key]).toMatch(SENTENCE);
      if (field.type !== 'choice' && !mayBeEmpty(field)) expect(answerOf(part, { [key]: field.type === 'number' ? null : ' ' }).errors[key]).toMatch(/^Enter .+\.$/);
    }
  });

  it('answers or refuses in a sentence whatever is chosen', () => {
    for (const [key, field] of Object.entries(part.fields)) {
      if (field.type !== 'choice') continue;
      for (const option of field.options) {
        const { answer, wrong } = answerOf(part, { [key]: option.value });
        if (answer === null) expect(wrong, `${key}: ${option.value}`).toMatch(SENTENCE);
      }
    }
  });
});

const piece = { brinePercent: 15, thicknessMm: 20, openFaces: 1, fat: 'fatty', temperatureC: 3, onceFrozen: false } as const;
const mackerel = { species: 'atlantic-mackerel', form: 'whole', product: 'hot-smoked' } as const;
/** What each part answers first as it opens, beside the domain asked by hand; a number where a source prints it. */
const ANSWERS: readonly (readonly [Model, string, number | string | null])[] = [
  ['brine', 'brine-strength', brineStrength({ given: 'degrees-saturated', value: 60 }).percentByWeight],
  ['brine', 'salt-for-water', saltForWater({ percentByWeight: 15, waterAmount: 5, waterUnit: 'litre' }).saltGrams],
  ['brine', 'brine-change', changeBrine({ brineGrams: 10_000, fromPercent: 20, toPercent: 15 }).waterToAddGrams],
  ['brine', 'brine-cooling', coolBrineWithIce({ brineGrams: 10_000, percentByWeight: 15, fromC: 20, toC: 3 }).iceGrams],
  ['kitchen-measures', 'grams-of-measure', gramsOfMeasure({ ingredient: 'table-salt', amount: 1, measure: 'cup' }).grams],
  ['kitchen-measures', 'kitchen-measure', kitchenMeasure({ ingredient: 'table-salt', grams: 300 }).text],
  ['salt-balance', 'water-phase-salt', waterPhaseSalt({ saltPercent: 2.5, moisturePercent: 65 }).waterPhaseSaltPercent],
  ['salt-balance', 'salt-after-drying', saltAfterDrying({ curedPercent: 3, curedWaterPercent: 65, keptPercent: 85 }).waterPhaseSaltPercent],
  ['salt-balance', 'salt-before-drying', saltBeforeDrying({ finishedPercent: 3.5, curedWaterPercent: 65, keptPercent: 85 }).waterPhaseSaltPercent],
  ['salt-balance', 'salt-for-target', saltForTarget({ targetPercent: 3.5, fishWaterGrams: 3250 }).saltGrams],
  ['salt-balance', 'salt-equilibrium', equilibriumSalt({ saltGrams: 300, brineWaterGrams: 5000, fishWaterGrams: 3250 }).percent],
  ['vessel', 'cure-vessel', vesselFit({ fishGrams: 10_500, cureLitres: 8, vesselLitres: 20, headspacePercent: 10 }).vessels],
  ['salt-uptake', 'salt-uptake', saltUptake({ ...piece, minutes: 720 }).meanPercent],
  ['salt-uptake', 'salt-time', timeToSalt({ ...piece, targetPercent: 3.5 }).minutes],
  ['salt-uptake', 'salt-equalise', equaliseSalt({ ...piece, minutes: 360, restMinutes: 720, restTemperatureC: 3 }).meanPercent],
  ['salt-uptake', 'salt-freshen', freshenSalt({ ...piece, minutes: 1440, waterMinutes: 60, waterTemperatureC: 3 }).meanPercent],
  ['salt-uptake', 'cure-too-salty', putTooSaltyRight({ ...piece, minutes: 2160, targetPercent: 3, waterTemperatureC: 3 }).waterMinutes],
  ['salt-fit', 'salt-refit', refitDiffusivity({ fat: 'fatty', measurements: [[20, 720, 2.6], [20, 1440, 3.6], [25, 1440, 3]].map(([thicknessMm, minutes, measuredPercent]) => ({ ...piece, thicknessMm: thicknessMm!, minutes: minutes!, measuredPercent: measuredPercent! })) }).m2PerSAt5C],
  ['water-activity', 'water-activity', waterActivity({ waterPhaseSaltPercent: 3.5 }).waterActivity],
  ['fish-properties', 'thermal-properties', thermalProperties({ ...compositionOfSpecies('atlantic-mackerel'), temperatureC: 20 }).conductivityWPerMK],
  ['humid-air', 'humid-air', humidAir({ airC: 80, relativeHumidityPct: 20 }).wetBulbC],
  ['cooling', 'cooling-forecast', forecastCooling({ speciesCode: 'king-mackerel', thicknessMm: 40, facesOpen: 'both', startC: 65, stages: [{ medium: 'cabinet', mediumC: 2, minutes: 720 }] }).deepestMm],
  ['ice', 'ice-to-load', iceToLoad({ catchG: 20_000, fishC: 15, airC: 20, hours: 12 }).loadG],
  ['chilling', 'chilling-time', chillingHours({ thicknessMm: 100 }).hours],
  ['exposure', 'warm-exposure', cumulativeExposure({ readings: [3, 10, 10, 10, 10, 10, 3, 2].map((celsius, i) => ({ at: new Date(Date.UTC(2026, 5, 1, 6, i * 30)), celsius })), previouslyFrozen: false }).hoursAbove4C4],
  ['length-weight', 'length-weight', estimateGrams('atlantic-mackerel', [35], 'fork').grams],
  ['spoilage', 'warm-spell', warmSpellCost({ usualC: 1, warmC: 12, hours: 5 }).extraDays],
  ['spoilage', 'keeping-time', keepingTime({ icedLifeDays: 10, temperatureC: 5 }).days],
  ['listeria-growth', 'listeria-growth', listeriaGrowthAt({ logPerDay: 0.15, atC: 5, toC: 8 }).timesAsFast],
  ['yield', 'yield-weights', expectedWeights({ ...mackerel, massInG: 10_000, cure: { kind: 'wet', brinePct: 15 } }).stages.at(-1)!.likelyGrams],
  ['yield', 'yield-expected', estimateYield({ question: { ...mackerel, stage: 'smoke' }, batches: [] }).likelyPct],
  ['yield', 'yield-question', 85],
  ['yield', 'weight-after-cure', weightAfterCure({ grams: 5000, cure: { kind: 'wet', brinePct: 15 } }).likelyGrams],
  ['sharing', 'cure-layers', layerPortions({ cureGrams: 1001, layersFishGrams: [900, 1100, 1000] }).layers[0]!.cureGrams],
  ['mercury', 'mercury-meals', mercuryMeals({ speciesCode: 'king-mackerel', bodyKg: 70, mealGrams: 227 }).mealsPerMonth],
  ['mercury', 'serving', servingFor({ ageYears: 30 }).rawGrams],
  ['lethality', 'lethality', expect.closeTo(3.2502, 4)], ['sharing', 'share-out', '5, 5, 1'], ['dates', 'last-day', '2026-06-16'], ['hold', 'hold', expect.closeTo(40, 6)], ['histamine', 'histamine-line', 'met'],
  ['cooling', 'cooling-checks', 'met'], ['smoking-heat', 'slab-series', expect.any(Number)], ['spoilage', 'days-used', expect.any(Number)],
];

describe('as it opens it answers what the domain does', () => {
  it('for every part', () => {
    expect(ANSWERS.length).toBe(parts.length);
    for (const [slug, calculation, expected] of ANSWERS) expect(answerOf(named(slug, calculation)).answer!.rows[0]!.exact, `${slug} ${calculation}`).toEqual(expected);
  });

  it('60 degrees are 15.837 % (brine table at 60 F); 10 kg of 20 % made 15 % take 3,333 g of water (arithmetic)', () => {
    expect(answerOf(named('brine', 'brine-strength')).answer!.rows[0]).toMatchObject({ exact: 15.837, value: '15.84 %' });
    expect(answerOf(named('brine', 'brine-change')).answer!.rows[0]!.exact).toBe(3333);
    expect(answerOf(named('brine', 'brine-change'), { fromPercent: 15, toPercent: 20 }).answer!.rows[0]).toMatchObject({ label: 'Salt to stir in', exact: 625 });
  });

  it('a cup of table salt in a US gallon makes 7.17 % (computed), however it is asked', () => {
    const amounts = answerOf(named('brine', 'brine-strength'), { given: 'amounts' }).answer!.rows[0]!;
    expect(amounts.exact).toBe(brineOf({ saltGrams: 292, waterGrams: 3782 }).percentByWeight);
    expect(amounts.exact).toBeCloseTo(7.17, 2);
    expect(answerOf(named('brine', 'brine-strength'), { given: 'specific-gravity' }).answer!.rows[0]!.exact).toBe(brineStrength({ given: 'specific-gravity', value: 1.118 }).percentByWeight);
  });

  it('57 to 21 C in 96 minutes (straight between 22.5 C at 16:40 and 20 C at 16:50), held against 2 hours (FC 3-501.14); 11 packs by 6, 6 and 2 are 5, 5 and 1 (Alabama paradox)', () => {
    expect(answerOf(named('cooling', 'cooling-checks')).answer!.rows[1]).toMatchObject({ exact: expect.closeTo(96, 6), state: 'met' });
    expect(answerOf(named('sharing', 'share-out')).answer!.rows.slice(1).map((r) => r.exact)).toEqual([5, 5, 1]);
  });

  it('the exact slab at its middle is what is left of the difference (Incropera, table 5.1, by its series)', () => {
    const { rows } = answerOf(named('smoking-heat', 'slab-series')).answer!;
    const flesh = thermalProperties({ ...compositionOfSpecies('atlantic-mackerel'), temperatureC: 42.5 });
    const fourier = ((flesh.conductivityWPerMK / (flesh.densityKgPerM3 * flesh.specificHeatKjPerKgK * 1000)) * 3600) / 0.0125 ** 2;
    const { theta } = slabTheta({ biot: (20 * 0.0125) / flesh.conductivityWPerMK, fourier, depth: 0 });
    expect(rows[0]!.exact).toBeCloseTo(80 - 75 * theta, 9);
  });

  it('14 hours with 12 C from noon to four use up 1.8 days on ice (FAO FTP 348, by trapezoid)', () => {
    // 6 h between 1 and 1 C, 2 h rising and 2 h falling between 1.21 and 4.84, 4 h at 4.84.
    const byHand = (6 * 1.21 + 4 * ((1.21 + 4.84) / 2) + 4 * 4.84) / 24;
    expect(answerOf(named('spoilage', 'days-used')).answer!.rows[0]!.exact).toBeCloseTo(byHand, 3);
  });
});

describe('what a person must be told', () => {
  const says = (change: OwnValues, context = metric) => answerOf(named('brine', 'brine-strength'), change, context).answer!.cautions!.map((c) => c.text).join(' ');

  it('a salometer holds at 15.6 C (60 F): warm brine reads low, cold brine high, and nothing is corrected', () => {
    expect(says({})).toContain('The reading holds at 15.6 °C. In warmer brine it reads low, in colder high; that is not corrected here.');
    expect(says({ brineC: 25 })).toMatch(/At 25 °C it reads low: the brine is stronger than this says\. Not corrected\./);
    expect(says({ brineC: 3 })).toMatch(/reads high: the brine is weaker/);
    expect(says({ brineC: 15.6 })).toMatch(/the reading holds/);
    expect(says({}, us)).toContain('holds at 60 °F');
    expect(says({ given: 'percent' })).toBe('');
    expect(answerOf(named('brine', 'brine-strength'), { brineC: 25 }).answer!.rows[0]!.exact).toBe(15.837);
  });

  it('a refusal speaks in the person’s degrees and weights', () => {
    expect(answerOf(named('spoilage', 'warm-spell'), { warmC: 30 }, us).errors['warmC']).toMatch(/86 °F is not from 32 to 59 °F/);
    expect(answerOf(named('spoilage', 'warm-spell'), { warmC: 30 }).errors['warmC']).toMatch(/30 °C is not from 0 to 15 °C/);
    expect(answerOf(named('brine', 'brine-strength'), { given: 'amounts', saltGrams: 3000 }, us).errors['saltGrams']).toMatch(/lb/);
  });

  it('a pasted log says which line was left out; one in the other unit comes to the same', () => {
    const lethality = named('lethality', 'lethality');
    expect(answerOf(lethality, { log: '10:00 70 C\nlid open\n10:05 70 C' }).answer!.cautions![0]!.text).toMatch(/^Line 2 was left out, “lid open”: /);
    expect(answerOf(lethality, { log: '10:00 158\n10:05 158', unit: 'F' }).answer!.rows[0]!.exact).toBeCloseTo(5, 6);
    expect(answerOf(named('spoilage', 'days-used'), { log: Array.from({ length: 60 }, (_, i) => `${String((i * 2) % 24).padStart(2, '0')}:00 0`).join('\n') }).answer!.rows[0]!.exact).toBeCloseTo(118 / 24, 3);
  });
});

it('keeps what was typed for each part apart from every other, and uses it again only while its choices are still there', () => {
  expect(new Set(parts.map(({ part }) => draftOf(part))).size).toBe(parts.length);
  for (const { part } of parts) {
    const start = startOf(part, metric);
    expect(fitsPart(part, start), part.title).toBe(true);
    for (const [key, field] of Object.entries(part.fields)) if (field.type === 'choice') expect(fitsPart(part, { ...start, [key]: 'gone since' }), key).toBe(false);
  }
});
