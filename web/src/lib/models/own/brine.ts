import { within } from '$domain/bounds.ts';
import { changeBrine, coolBrineWithIce } from '$domain/cure/brine-change.ts';
import { brineOf, brineStrength, saltForWater, type BrineStrength } from '$domain/cure/brine.ts';
import { showNumber, showWeight } from '../../show.ts';
import { choice, maybe, number, part, type OwnCaution, type OwnRow } from './part.ts';
import { percent, temperature } from './words.ts';

/** A salometer and a hydrometer float right here: 60 F. */
const FLOATS_RIGHT_C = 15.6;
const NEAR_C = 1;

const given = { 'degrees-saturated': 'Salometer, 100 in saturated brine', 'degrees-canning': 'Salometer, 100 at 25 % salt', 'specific-gravity': 'Hydrometer, specific gravity', 'percent': 'Percent salt by weight', 'amounts': 'Salt and water that went in' } as const;
const at = `floats right at ${FLOATS_RIGHT_C} °C (60 °F)`;

/** No source here gives what a reading is off by in warmer or colder brine, so it is said and not reckoned. */
function floatCaution(brineC: number | null): OwnCaution {
  if (brineC !== null) within(brineC, { field: 'brineC', label: 'brine', min: -22, max: 60, unit: 'C', remedy: 'enter how warm it was when it was read' });
  const remedy = `Let a sample come to ${temperature(FLOATS_RIGHT_C)} and read again.`;
  if (brineC === null) return { level: 'mind', text: `The reading holds at ${temperature(FLOATS_RIGHT_C)}. In warmer brine it reads low, in colder high; that is not corrected here.` };
  if (Math.abs(brineC - FLOATS_RIGHT_C) <= NEAR_C) return { level: 'note', text: `At ${temperature(brineC)} the reading holds.` };
  return brineC > FLOATS_RIGHT_C
    ? { level: 'mind', text: `At ${temperature(brineC)} it reads low: the brine is stronger than this says. Not corrected. ${remedy}` }
    : { level: 'mind', text: `At ${temperature(brineC)} it reads high: the brine is weaker than this says. Not corrected. ${remedy}` };
}

function strengthRows(s: BrineStrength, system: 'metric' | 'us'): OwnRow[] {
  const { working } = s;
  const us = system === 'us';
  return [
    { label: 'Salt by weight', value: percent(s.percentByWeight), exact: s.percentByWeight, working },
    { label: 'Salometer', value: `${showNumber(s.degreesSaturated, 1)} degrees`, exact: s.degreesSaturated, working },
    { label: 'Salometer, 100 at 25 %', value: s.degreesCanning === null ? 'off its scale' : `${showNumber(s.degreesCanning, 1)} degrees`, exact: s.degreesCanning, working },
    { label: 'Specific gravity', value: s.specificGravity.toFixed(3), exact: s.specificGravity, working },
    us ? { label: 'Salt in a US gallon of water', value: `${showNumber(s.saltLbPerUsGallonWater, 2)} lb`, exact: s.saltLbPerUsGallonWater, working } : { label: 'Salt in a litre of water', value: `${showNumber(s.saltGramsPerLitreWater, 1)} g`, exact: s.saltGramsPerLitreWater, working },
    { label: s.coldest.because === 'freezes' ? 'Freezes at' : 'Salt falls out below', value: temperature(s.coldest.temperatureC), exact: s.coldest.temperatureC, working },
  ];
}

const FIELD_OF = { 'percent': 'percent', 'degrees-saturated': 'degrees', 'degrees-canning': 'canning', 'specific-gravity': 'gravity' } as const;
const FLOATS = ['degrees-saturated', 'degrees-canning', 'specific-gravity'];

const strength = part({
  title: 'How strong is this brine?',
  calculations: ['brine-strength', 'brine-of'],
  fields: {
    given: choice('What you know of it', given, 'degrees-saturated'),
    degrees: number('Reading', 60, { unit: 'degrees', slide: [0, 100, 1], hint: `It ${at}`, when: (v) => v['given'] === 'degrees-saturated' }),
    canning: number('Reading', 60, { unit: 'degrees', slide: [0, 100, 1], hint: `It ${at}`, when: (v) => v['given'] === 'degrees-canning' }),
    gravity: number('Specific gravity', 1.118, { hint: `1.000 in fresh water. It ${at}`, when: (v) => v['given'] === 'specific-gravity' }),
    percent: number('Salt', 15, { unit: '%', slide: [0, 26, 0.5], when: (v) => v['given'] === 'percent' }),
    saltGrams: number('Salt', 292, { kind: 'weight', small: true, hint: 'A cup of table salt is 292 g', when: (v) => v['given'] === 'amounts' }),
    waterGrams: number('Water', 3782, { kind: 'weight', hint: 'A litre is 1 kg, a US gallon 3.78 kg', when: (v) => v['given'] === 'amounts' }),
    brineC: maybe('How warm the brine was', { kind: 'temperature', hint: 'When it was read', when: (v) => FLOATS.includes(String(v['given'])) }),
  },
  fieldFor: (field, v) => (field === 'value' && v.given !== 'amounts' ? FIELD_OF[v.given] : field),
  reckon: (v, { system }) => {
    const s = v.given === 'amounts' ? brineOf(v) : brineStrength({ given: v.given, value: v[FIELD_OF[v.given]] });
    return { rows: strengthRows(s, system), cautions: FLOATS.includes(v.given) ? [floatCaution(v.brineC), { level: 'note', text: 'Sugar makes it float higher: a sweet brine reads too strong.' }] : [] };
  },
});

const units = { 'litre': 'Litres', 'us-gallon': 'US gallons', 'us-quart': 'US quarts', 'us-cup': 'US cups', 'g': 'Grams' } as const;

const salt = part({
  title: 'How much salt for this water?',
  calculations: ['salt-for-water'],
  fields: {
    percentByWeight: number('Strength wanted', 15, { unit: '%', slide: [1, 26, 0.5], hint: 'By weight. Usual: 15 %' }),
    waterAmount: number('Water', 5),
    waterUnit: choice('Measured in', units, ({ system }) => (system === 'us' ? 'us-gallon' : 'litre')),
  },
  reckon: (v) => {
    const s = saltForWater(v);
    return {
      rows: [
        { label: 'Salt', value: showWeight(s.saltGrams), exact: s.saltGrams, working: s.working },
        { label: 'Makes so much brine', value: `${showWeight(s.brineGrams)}, ${showNumber(s.brineLitres, 1)} litres`, exact: s.brineGrams, working: s.working },
        { label: 'On the salometer', value: `${showNumber(brineStrength({ given: 'percent', value: v.percentByWeight }).degreesSaturated, 0)} degrees at ${temperature(FLOATS_RIGHT_C)}` },
      ],
      cautions: [{ level: 'note', text: 'Weigh the salt: a cup of flakes holds half of a cup of table salt.' }],
    };
  },
});

const change = part({
  title: 'Make it weaker or stronger',
  calculations: ['brine-change'],
  fields: {
    brineGrams: number('Brine there is', 10_000, { kind: 'weight' }),
    fromPercent: number('It has now', 20, { unit: '%', slide: [0, 26, 0.5] }),
    toPercent: number('Wanted', 15, { unit: '%', slide: [0, 26, 0.5] }),
  },
  reckon: (v) => {
    const c = changeBrine(v);
    const weaker = v.toPercent < v.fromPercent;
    return {
      rows: [
        weaker ? { label: 'Water to add', value: showWeight(c.waterToAddGrams), exact: c.waterToAddGrams, working: c.working } : { label: 'Salt to stir in', value: showWeight(c.saltToAddGrams), exact: c.saltToAddGrams, working: c.working },
        { label: 'Brine after that', value: showWeight(c.brineGramsAfter), exact: c.brineGramsAfter, working: c.working },
      ],
      cautions: [{ level: 'mind', text: 'Brine that fish lay in is thrown away, not mended: fish gave it water, blood and germs.' }],
    };
  },
});

const cool = part({
  title: 'Cool it with ice',
  calculations: ['brine-cooling'],
  fields: {
    brineGrams: number('Brine', 10_000, { kind: 'weight' }),
    percentByWeight: number('Strength', 15, { unit: '%', slide: [0, 26, 0.5] }),
    fromC: number('It is at', 20, { kind: 'temperature', slide: [0, 60, 1] }),
    toC: number('Wanted', 3, { kind: 'temperature', slide: [0, 30, 0.5], hint: `At most ${FLOATS_RIGHT_C} °C when the fish goes in; 3.3 °C for more than 4 hours` }),
  },
  reckon: (v) => {
    const c = coolBrineWithIce(v);
    const { working } = c;
    return {
      rows: [
        { label: 'Ice', value: showWeight(c.iceGrams), exact: c.iceGrams, working },
        { label: 'Strength once it has melted', value: percent(c.percentAfter), exact: c.percentAfter, working },
        { label: 'Salt to keep the strength', value: showWeight(c.saltToKeepStrengthGrams), exact: c.saltToKeepStrengthGrams, working },
      ],
      cautions: [{ level: c.readyForFish ? 'note' : 'stop', text: c.readyForFish ? 'Measure it before the fish goes in.' : `Still warmer than ${temperature(FLOATS_RIGHT_C)}: fish must not go in yet.` }],
    };
  },
});

export const own = [strength, salt, change, cool];
