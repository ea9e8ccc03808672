import { rounded, within } from '../bounds.ts';
import type { Working } from '../working.ts';

export type WaterActivity = { waterActivity: number; model: 'Resnik-Chirife' | 'Pitzer'; working: Working };

/** Resnik and Chirife hold up to here. */
const RESNIK_CHIRIFE_TO = 12;
/** 6.144 mol/kg at 25 C, from memory. */
const SATURATED_AT_25C = 26.42;

/**
 * Water activity from water-phase salt: Resnik and Chirife up to 12 %, Pitzer's equation
 * above. Range: 0 to 26.42 % at 25 C, salt alone (sugar lowers it further). Throws
 * DomainError outside: no water holds more. Source: Resnik and Chirife 1988; Pitzer, from memory.
 */
export function waterActivity(input: { waterPhaseSaltPercent: number }): WaterActivity {
  const percent = within(input.waterPhaseSaltPercent, {
    field: 'waterPhaseSaltPercent', label: 'water-phase salt', min: 0, max: SATURATED_AT_25C, unit: '%', remedy: 'water is saturated at 26.42 %: check the figure',
  });
  const low = percent <= RESNIK_CHIRIFE_TO;
  return {
    waterActivity: rounded(low ? resnikChirife(percent) : pitzer(percent), 4),
    model: low ? 'Resnik-Chirife' : 'Pitzer',
    working: {
      inputs: [{ name: 'water-phase salt', value: percent, unit: '%' }],
      model: 'water-activity', formula: low
        ? '1 - 0.0052471 s - 0.00012206 s^2, s in percent'
        : 'exp(-0.0360306 m phi), phi = 1 - 0.3915 sqrt(m)/(1 + 1.2 sqrt(m)) + m (0.0765 + 0.2664 exp(-2 sqrt(m))) + 0.00127 m^2, m = 1000 s/(58.443 (100 - s))',
      source: low ? 'Resnik and Chirife 1988' : 'Pitzer at 25 C, from memory',
      range: low ? '0 to 12 %' : '12 to 26.42 % at 25 C', uncertainty: 'within 0.002 against published pairs; salt alone, sugar and smoke not counted', certainty: low ? 'published' : 'from memory',
    },
  };
}

/** Water activity of a salt in percent of the water phase, as a fraction of 1; published for 0 to 12 % and unchecked here. Source: Resnik and Chirife 1988. */
export function resnikChirife(percent: number): number {
  return 1 - 0.0052471 * percent - 0.00012206 * percent * percent;
}

function pitzer(percent: number): number {
  const molal = (1000 * percent) / (58.443 * (100 - percent));
  const root = Math.sqrt(molal);
  const phi = 1 - (0.3915 * root) / (1 + 1.2 * root) + molal * (0.0765 + 0.2664 * Math.exp(-2 * root)) + 0.00127 * molal * molal;
  return Math.exp(-0.0360306 * molal * phi);
}
