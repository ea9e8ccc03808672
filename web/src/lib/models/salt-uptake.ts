import { leftAt, meanLeft, shortTimeMeanLeft } from '$domain/salt/crank.ts';
import { conditionFactor, diffusivity } from '$domain/salt/diffusivity.ts';
import { saltUptake } from '$domain/salt/uptake.ts';
import { exp, frac, group, maths, sum } from './maths.ts';
import { own } from './own/salt-uptake.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const SERIES = 'Crank 1975, Newman 1931, computed';
const WORKED = 'worked example, computed';

function checks(): ModelCheck[] {
  // A diffusivity of 3e-10 at 5 C, as the worked example has it.
  const worked = saltUptake({ thicknessMm: 25, openFaces: 2, brinePercent: 80 * 0.26395, fat: 'lean', temperatureC: 5, onceFrozen: false, club: { m2PerSAt5C: 3e-10, bandFactor: 2 }, minutes: 20 });
  const mean = (fo: number, published: number): ModelCheck => ({ what: `Left to go in the mean at Fo ${fo}`, source: SERIES, published, found: meanLeft(fo), unit: '', within: 0.00005 });
  const centre = (fo: number, published: number): ModelCheck => ({ what: `Left to go in the centre at Fo ${fo}`, source: SERIES, published, found: leftAt(fo, 0), unit: '', within: 0.00005 });
  return [
    mean(0.01, 0.8872), mean(0.1, 0.6432), mean(0.2, 0.4959), mean(1, 0.0687), centre(0.1, 0.9493), centre(0.5, 0.3708),
    { what: 'The short form at Fo 0.1', source: SERIES, published: 0.6432, found: shortTimeMeanLeft(0.1), unit: '', within: 0.0002 },
    { what: '80 degrees, 20 minutes, 25 mm without skin: part of the way', source: WORKED, published: 5.42, found: worked.accomplishedPercent, unit: '%', within: 0.005 },
    { what: 'The same: gain in mean water-phase salt', source: WORKED, published: 1.144, found: worked.meanPercent, unit: '%', within: 0.001 },
    { what: 'Lean fish at 5 °C: diffusivity', source: 'from memory, low confidence', published: 5, found: diffusivity({ fat: 'lean', temperatureC: 5, onceFrozen: false }).m2PerS * 1e10, unit: '× 10⁻¹⁰ m²/s', within: 0.001 },
    { what: 'Once frozen, at 5 °C: times as fast', source: 'from memory', published: 1.3, found: conditionFactor(5, true), unit: '', within: 0.001 },
  ];
}

export const page: ModelPage = {
  slug: 'salt-uptake',
  purpose: 'Tells how salty a piece gets in brine or dry cure, how long it takes, and how to get salt out again when it was too long.',
  own,
  equations: [
    { maths: maths('s = s_end − ( s_end − s_0 ) E'), words: 'The mean goes from where it started towards where the cure ends. E is what is left of the way.' },
    { maths: [maths('E =', frac('8', 'π^2'), sum('n = 0', '∞'), frac(exp('− p^2 π^2 Fo / 4'), 'p^2')), maths('p = 2 n + 1')], words: 'What is left falls as a sum of decays, of which the first soon is the only one that counts.' },
    { maths: maths('Fo =', frac('D t', 'L^2')), words: 'Time counts through the Fourier number: twice as thick takes four times as long.' },
    { maths: maths('D = D_5', exp(frac('25000', 'R'), group(frac('1', '278.15'), '−', frac('1', 'T')))), words: 'Salt moves faster in warmer fish, and 1.3 times as fast in fish that was frozen once.' },
  ],
  symbols: [
    { sign: maths('s'), meaning: 'mean water-phase salt', unit: '%' },
    { sign: maths('s_end'), meaning: 'where it ends: the brine\'s strength, less what a small amount of brine loses', unit: '%' },
    { sign: maths('s_0'), meaning: 'water-phase salt at the start', unit: '%' },
    { sign: maths('E'), meaning: 'part of the way still to go, 1 at the start' },
    { sign: maths('Fo'), meaning: 'Fourier number: time measured by how far salt has to go' },
    { sign: maths('D'), meaning: 'diffusivity, how fast salt spreads in the flesh; at 5 °C with the index 5', unit: 'm²/s' },
    { sign: maths('t'), meaning: 'time in the cure', unit: 's' },
    { sign: maths('L'), meaning: 'half the thickness, or all of it with skin on one face', unit: 'm' },
    { sign: maths('T'), meaning: 'temperature above absolute zero', unit: 'K' },
    { sign: maths('R'), meaning: 'gas constant, 8.314', unit: 'J/mol K' },
  ],
  figures: [
    { what: 'The sums for a slab, in plentiful brine and in little brine', source: 'Crank 1975; Newman 1931', certainty: 'published' },
    { what: 'Diffusivity of 2 × 10⁻¹⁰ in fatty and 5 × 10⁻¹⁰ m²/s in lean fish at 5 °C, 25 kJ/mol', source: 'Values seen in muscle, low confidence', certainty: 'from memory' },
    { what: 'Dry salt is taken as the saturated brine that it makes with the fish\'s own water', source: 'A choice of this service', certainty: 'common practice' },
    { what: 'Bellies and tails apart; a cooked test piece first', source: 'What people do', certainty: 'common practice' },
  ],
  range: { holds: 'Pieces of 1 to 150 mm, much wider than thick, in 0 to 26.395 % brine at −2 to 25 °C, up to 14 days.', outside: 'Anything else is refused. A target that the cure never reaches is answered with the reason.' },
  checks,
  limits: [
    'Every figure carries a band: the diffusivity from half to twice its likely value, until your own laboratory figures narrow it.',
    'Skin is taken to let nothing through, and a tail or belly to be a flat piece.',
    'The fish takes up or gives off water meanwhile. The model counts salt against the water it started with.',
    'Sugar, injection, tumbling and vacuum are not in it.',
  ],
  never: 'A prediction never takes the place of a laboratory\'s salt figure for a vacuum pack or tight jar.',
};
