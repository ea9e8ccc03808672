import { oneOf, rounded, within } from '../bounds.ts';
import type { FatClass } from '../species/types.ts';
import type { Working } from '../working.ts';

/** A club's own diffusivity, from its laboratory figures (refitDiffusivity). */
export type ClubDiffusivity = {
  /** At 5 C, in fish that was never frozen. */
  m2PerSAt5C: number;
  /** Times and divided by this is the band. */
  bandFactor: number;
};

/** The club's own, for the fat classes that it has figures of. */
export type ClubByFat = Partial<Record<FatClass, ClubDiffusivity>>;

export type FishConditions = {
  fat: FatClass;
  temperatureC: number;
  onceFrozen: boolean;
  club?: ClubDiffusivity;
};

export type Diffusivity = { m2PerS: number; lowM2PerS: number; highM2PerS: number; bandFactor: number; working: Working };

/** At 5 C, m2/s. Medium fish lies between (geometric mean). Source: models.md, from memory, low confidence. */
export const START_AT_5C: Readonly<Record<FatClass, number>> = { fatty: 2e-10, medium: Math.sqrt(2e-10 * 5e-10), lean: 5e-10 };
/** The band of a value from memory: times and divided by 2. */
export const START_BAND = 2;
/** What has been seen in muscle at all. */
export const MUSCLE_RANGE = { low: 1e-11, high: 1e-9 };
const ACTIVATION_J_PER_MOL = 25_000;
const GAS_J_PER_MOL_K = 8.314_46;
const ONCE_FROZEN = 1.3;
const FATS: readonly FatClass[] = ['lean', 'medium', 'fatty'];

/**
 * How fast salt spreads in fish, with its band. Range: -2 to 25 C. Throws DomainError
 * outside. Source: models.md (25 kJ/mol, 1.3 times once frozen), from memory with low
 * confidence; or the club's own figure.
 */
export function diffusivity(input: FishConditions): Diffusivity {
  oneOf(input.fat, FATS, 'fat');
  const temperatureC = within(input.temperatureC, { field: 'temperatureC', label: 'temperature', min: -2, max: 25, unit: 'C', remedy: 'enter degrees Celsius; fish is cured cold' });
  const club = input.club && checkClub(input.club);
  const at5C = club?.m2PerSAt5C ?? START_AT_5C[input.fat];
  const bandFactor = club?.bandFactor ?? START_BAND;
  const m2PerS = at5C * conditionFactor(temperatureC, input.onceFrozen);
  return {
    m2PerS, lowM2PerS: m2PerS / bandFactor, highM2PerS: m2PerS * bandFactor, bandFactor,
    working: {
      inputs: [{ name: 'at 5 C', value: at5C, unit: 'm2/s' }, { name: 'temperature', value: temperatureC, unit: 'C' }, { name: 'once frozen', value: input.onceFrozen ? 'yes' : 'no' }],
      model: 'salt-uptake', formula: 'D at 5 C x exp(25 kJ/mol / R x (1/278.15 - 1/T)) x 1.3 if once frozen', source: club ? 'the club\'s laboratory figures with the published start' : 'from memory, low confidence',
      range: '-2 to 25 C; 1e-11 to 1e-9 m2/s has been seen in muscle', uncertainty: bandInWords(bandFactor), certainty: 'from memory',
    },
  };
}

/** A band for a person, "from half to twice the likely value". Takes its factor, 1 or more; any number is answered. */
export function bandInWords(bandFactor: number): string {
  const to = rounded(bandFactor, 2);
  return to === 2 ? 'from half to twice the likely value' : `from ${rounded(1 / bandFactor, 2)} to ${to} times the likely value`;
}

/** What temperature and freezing make of a diffusivity at 5 C. */
export function conditionFactor(temperatureC: number, onceFrozen: boolean): number {
  const warmth = Math.exp((ACTIVATION_J_PER_MOL / GAS_J_PER_MOL_K) * (1 / 278.15 - 1 / (temperatureC + 273.15)));
  return warmth * (onceFrozen ? ONCE_FROZEN : 1);
}

function checkClub(club: ClubDiffusivity): ClubDiffusivity {
  within(club.m2PerSAt5C, { field: 'club.m2PerSAt5C', label: 'diffusivity', min: MUSCLE_RANGE.low / 10, max: MUSCLE_RANGE.high * 10, unit: 'm2/s' });
  within(club.bandFactor, { field: 'club.bandFactor', label: 'band', min: 1, max: 10 });
  return club;
}
