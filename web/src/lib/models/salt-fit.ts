import { refitDiffusivity } from '$domain/salt/refit.ts';
import { saltUptake } from '$domain/salt/uptake.ts';
import { frac, group, maths, power, sum } from './maths.ts';
import { own } from './own/salt-fit.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const CONDITIONS = { thicknessMm: 25, openFaces: 2 as const, brinePercent: 15, temperatureC: 3, onceFrozen: false, minutes: 360 };

/** What fish of a known diffusivity would be measured at, so that the fit has something to find again. */
function madeOf(m2PerSAt5C: number): number {
  return saltUptake({ ...CONDITIONS, fat: 'lean', club: { m2PerSAt5C, bandFactor: 1 } }).meanPercent;
}

function checks(): ModelCheck[] {
  const start = refitDiffusivity({ fat: 'lean', measurements: [{ ...CONDITIONS, measuredPercent: madeOf(5e-10) }] });
  const many = refitDiffusivity({ fat: 'lean', measurements: Array.from({ length: 12 }, () => ({ ...CONDITIONS, measuredPercent: madeOf(3e-10), sdPercent: 0.05 })) });
  return [
    { what: 'A figure that agrees with the start leaves it', source: 'computed', published: 5, found: start.m2PerSAt5C * 1e10, unit: '× 10⁻¹⁰ m²/s', within: 0.01 },
    { what: 'Twelve exact figures of fish made with 3 find 3', source: 'computed', published: 3, found: many.m2PerSAt5C * 1e10, unit: '× 10⁻¹⁰ m²/s', within: 0.03 },
    { what: 'And hardly a band is left', source: 'computed', published: 1, found: many.bandFactor, unit: 'times', within: 0.05 },
  ];
}

export const page: ModelPage = {
  slug: 'salt-fit',
  purpose: 'Learns from your laboratory\'s salt figures how fast salt goes into the fish as your club cuts and cures it, so that the next prediction has a narrower band.',
  own,
  equations: [
    { maths: [maths(power(group(frac('ln D − ln D_0', 'ln 2')), '2')), maths('+', sum('i'), power(group(frac('s ( D ) − m_i', 'σ_i')), '2'), '→', "'least'")], words: 'The diffusivity that stays near its start and near the measurements, each counted by how sure it is.' },
    { maths: maths('b = exp ( σ )'), words: 'The band is one standard deviation of the logarithm: times and divided by b. It never gets wider than the start\'s 2.' },
  ],
  symbols: [
    { sign: maths('D'), meaning: 'diffusivity at 5 °C that is looked for', unit: 'm²/s' },
    { sign: maths('D_0'), meaning: 'the start: 2 to 5 × 10⁻¹⁰ by fat', unit: 'm²/s' },
    { sign: maths('s ( D )'), meaning: 'water-phase salt predicted with D', unit: '%' },
    { sign: maths('m_i'), meaning: 'water-phase salt measured, read back to before drying', unit: '%' },
    { sign: maths('σ_i'), meaning: 'how far a measurement may be off; a tenth of it and at least 0.2 when not said', unit: '%' },
    { sign: maths('σ'), meaning: 'one standard deviation of the logarithm of D, after the fit' },
    { sign: maths('b'), meaning: 'band, times and divided by' },
  ],
  figures: [
    { what: 'The start and its band', source: 'Values seen in muscle, low confidence', certainty: 'from memory' },
    { what: 'Weighted least squares with the start as one more observation', source: 'Standard method', certainty: 'arithmetic' },
    { what: 'The spread of a measurement when nobody says it', source: 'Piece to piece', certainty: 'common practice' },
  ],
  range: { holds: '1 to 500 measurements of the club\'s own fish, each within the range of the salt model.', outside: 'A fitted value outside 10⁻¹¹ to 10⁻⁹ m²/s is said to be outside what has been seen in muscle, and the planner keeps to the start.' },
  checks,
  limits: ['A wrong thickness or skin entered wrong goes into the diffusivity.', 'Measurements that disagree widen the band again, and the odd one is named.', 'One figure for lean and one for fatty fish: species within them are not told apart.', 'Several figures of one batch count as one: they share its thickness and times.', 'Bellies, tails, mixed fish, and batches whose cure or weights are not recorded do not count; the page of the figures says why.'],
  never: 'A narrower band is still a prediction: the next vacuum pack needs its own measurement.',
};
