import { rounded, within } from './bounds.ts';
import type { Working } from './working.ts';

const SOURCE = 'FAO FTP 348';
const RANGE = 'temperate fish, 0 to 15 C';
/** The published relation holds from 0 up to here. */
export const SPOILAGE_TO_C = 15;

/** How many times as fast as in ice: (1 + 0.1 T)^2. Colder than 0 counts as 0; takes at most 15 C. */
export function relativeRate(celsius: number): number {
  return (1 + 0.1 * Math.max(0, celsius)) ** 2;
}

export type IcedLife = { days: number; timesAsFast: number; working: Working };

/**
 * How long fish keeps at a temperature, from how long it keeps in ice. Range: 0 to 15 C,
 * iced life 1 to 40 days. Throws DomainError outside. Quality, not safety: it moves no
 * use-by day. Source: FAO FTP 348.
 */
export function keepingTime(input: { icedLifeDays: number; temperatureC: number }): IcedLife {
  const life = within(input.icedLifeDays, { field: 'icedLifeDays', label: 'life in ice', min: 1, max: 40, unit: 'days' });
  const celsius = within(input.temperatureC, { field: 'temperatureC', label: 'temperature', min: 0, max: SPOILAGE_TO_C, unit: 'C', remedy: 'enter degrees Celsius; the relation is published for 0 to 15 C' });
  const rate = relativeRate(celsius);
  return { days: rounded(life / rate, 2), timesAsFast: rounded(rate, 3), working: rateWorking([{ name: 'life in ice', value: life, unit: 'days' }, { name: 'temperature', value: celsius, unit: 'C' }], 'days = life in ice / (1 + 0.1 T)^2') };
}

export type WarmSpell = {
  /** Days on ice that the spell uses up. */
  usedDays: number;
  /** Of them, what it costs beyond the usual temperature. */
  extraDays: number;
  working: Working;
};

/**
 * What one warm spell costs in days on ice. Range: 0 to 15 C, up to 72 hours. Throws
 * DomainError outside. Source: FAO FTP 348.
 */
export function warmSpellCost(input: { usualC: number; warmC: number; hours: number }): WarmSpell {
  const bounds = { min: 0, max: SPOILAGE_TO_C, unit: 'C', remedy: 'enter degrees Celsius; the relation is published for 0 to 15 C' };
  const usual = within(input.usualC, { field: 'usualC', label: 'usual temperature', ...bounds });
  const warm = within(input.warmC, { field: 'warmC', label: 'warm spell', ...bounds });
  const hours = within(input.hours, { field: 'hours', min: 0, max: 72, unit: 'hours' });
  const days = hours / 24;
  return {
    usedDays: rounded(days * relativeRate(warm), 3), extraDays: rounded(days * (relativeRate(warm) - relativeRate(usual)), 3),
    working: rateWorking([{ name: 'usual', value: usual, unit: 'C' }, { name: 'warm', value: warm, unit: 'C' }, { name: 'for', value: hours, unit: 'h' }], 'hours/24 x ((1 + 0.1 x warm)^2 - (1 + 0.1 x usual)^2)'),
  };
}

export type ListeriaGrowth = { logPerDay: number; timesAsFast: number; /** Information: no rule is met or broken by it. */ informationOnly: true; working: Working };

const LISTERIA_LEAST_C = -1.18;

/**
 * A growth rate of Listeria monocytogenes at another temperature, by the square-root
 * relation. For information only. Range: 0 to 15 C, up to 10 log units a day. Throws
 * DomainError outside. Source: US risk assessment, appendix 8.
 */
export function listeriaGrowthAt(input: { logPerDay: number; atC: number; toC: number }): ListeriaGrowth {
  const rate = within(input.logPerDay, { field: 'logPerDay', label: 'growth', min: 0, max: 10, unit: 'log/day' });
  const at = within(input.atC, { field: 'atC', label: 'temperature', min: 0, max: 15, unit: 'C' });
  const to = within(input.toC, { field: 'toC', label: 'other temperature', min: 0, max: 15, unit: 'C' });
  const times = ((to - LISTERIA_LEAST_C) / (at - LISTERIA_LEAST_C)) ** 2;
  return {
    logPerDay: rounded(rate * times, 4), timesAsFast: rounded(times, 3), informationOnly: true,
    working: {
      inputs: [{ name: 'growth', value: rate, unit: 'log/day' }, { name: 'at', value: at, unit: 'C' }, { name: 'to', value: to, unit: 'C' }], model: 'listeria-growth', formula: 'rate x ((to + 1.18)/(at + 1.18))^2',
      source: 'US risk assessment, appendix 8', range: '0 to 15 C', uncertainty: 'growth differs several times over between strains and products', certainty: 'published',
    },
  };
}

export function rateWorking(inputs: Working['inputs'], formula: string): Working {
  return { inputs, model: 'spoilage', formula, source: SOURCE, range: RANGE, uncertainty: 'species and handling differ: smell and look decide', certainty: 'published' };
}
