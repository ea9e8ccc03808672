import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';
import type { CheckState } from '../evidence.ts';
import { MAX_GAP_MINUTES, cleanSeries, joinedPairs, round1 } from './series.ts';
import type { Gap, Reading, SeriesFlag } from './series.ts';

export type Organism = 'listeria' | 'botulinum-fda' | 'botulinum-uk';

type Reference = { referenceC: number; zBelowC: number; zAboveC: number; sixDMinutes: number; name: string; source: string; certainty: Working['certainty'] };

/** Minutes at the reference temperature for six decimal reductions, and the degrees for a tenfold change below and above it. */
export const REFERENCES: Readonly<Record<Organism, Reference>> = {
  listeria: { referenceC: 70, zBelowC: 7.5, zAboveC: 7.5, sixDMinutes: 2, name: 'Listeria monocytogenes', source: 'HG appendix 4 table A-3, from memory', certainty: 'from memory' },
  'botulinum-fda': { referenceC: 90, zBelowC: 7, zAboveC: 10, sixDMinutes: 10, name: 'non-proteolytic Clostridium botulinum B', source: 'HG table A-4, from memory', certainty: 'from memory' },
  'botulinum-uk': { referenceC: 90, zBelowC: 9, zAboveC: 10, sixDMinutes: 10, name: 'non-proteolytic Clostridium botulinum B', source: 'UK FSA', certainty: 'published' },
};

/** How many minutes at the reference one minute at a temperature is worth. Any temperature in Celsius. */
export function lethalRate(celsius: number, organism: Organism): number {
  const { referenceC, zBelowC, zAboveC } = REFERENCES[organism];
  return 10 ** ((celsius - referenceC) / (celsius < referenceC ? zBelowC : zAboveC));
}

export type LethalityInput = {
  readings: readonly Reading[];
  organism?: Organism;
  maxGapMinutes?: number;
  unitConfirmed?: boolean;
};

export type Lethality = {
  state: CheckState;
  /** Equivalent minutes at the reference temperature, exact for straight lines between readings. */
  equivalentMinutes: number;
  /** The same by the trapezoid rule, for comparison: it reads high where readings are far apart. */
  trapezoidMinutes: number;
  neededMinutes: number;
  decimalReductions: number;
  referenceC: number;
  recordedMinutes: number;
  found: string;
  gaps: Gap[];
  flags: SeriesFlag[];
  working: Working;
};

/**
 * Lethality of a core's readings: the integral of 10^((T - T_ref)/z), exactly, along
 * straight lines between readings. Stretches longer than `maxGapMinutes` (default 10)
 * without a reading count as nothing. 'not-recorded' without two usable readings that
 * join, or when the unit is in doubt. Range: cores from -30 to 100 C. Throws DomainError
 * on times that are none. Source: rule smoke.lethality.
 */
export function lethality(input: LethalityInput): Lethality {
  const organism = input.organism ?? 'listeria';
  if (!(organism in REFERENCES)) {
    throw new DomainError({ code: 'lethality.organism', field: 'organism', value: organism, problem: 'has no table here', remedy: 'choose listeria, botulinum-fda or botulinum-uk' });
  }
  const reference = REFERENCES[organism];
  const maxGap = input.maxGapMinutes ?? MAX_GAP_MINUTES;
  const series = cleanSeries(input.readings, { place: 'core', strict: 'lower', maxGapMinutes: maxGap, unitConfirmed: input.unitConfirmed });
  let [equivalentMinutes, trapezoidMinutes, recordedMinutes] = [0, 0, 0];
  for (const i of joinedPairs(series, maxGap)) {
    const [from, to, minutes] = [series.celsius[i]!, series.celsius[i + 1]!, series.minutes[i + 1]! - series.minutes[i]!];
    equivalentMinutes += segmentMinutes(from, to, minutes, organism);
    trapezoidMinutes += (minutes * (lethalRate(from, organism) + lethalRate(to, organism))) / 2;
    recordedMinutes += minutes;
  }
  const recorded = recordedMinutes > 0 && !series.unitInDoubt;
  const state = !recorded ? 'not-recorded' : equivalentMinutes >= reference.sixDMinutes ? 'met' : 'not-met';
  return {
    state, equivalentMinutes, trapezoidMinutes, recordedMinutes,
    neededMinutes: reference.sixDMinutes,
    decimalReductions: (6 * equivalentMinutes) / reference.sixDMinutes,
    referenceC: reference.referenceC,
    found: foundWords(recorded, series.unitInDoubt, equivalentMinutes, reference, series.gaps.length),
    gaps: series.gaps,
    flags: series.flags,
    working: lethalityWorking(reference, maxGap, series.minutes.length, recordedMinutes),
  };
}

function foundWords(recorded: boolean, inDoubt: boolean, minutes: number, { referenceC }: Reference, gaps: number): string {
  if (inDoubt) return 'The unit of the log is in doubt.';
  if (!recorded) return 'No two readings that join.';
  // Rounded down, so that a value just short never reads as the limit.
  return `${Math.floor(minutes * 100) / 100} minutes at ${referenceC} C${gaps > 0 ? `, with ${gaps} gap${gaps > 1 ? 's' : ''} that count as nothing` : ''}`;
}

/** Exact minutes at the reference along a straight line, split where the line crosses the reference and z changes. */
export function segmentMinutes(fromC: number, toC: number, minutes: number, organism: Organism): number {
  const { referenceC } = REFERENCES[organism];
  if ((fromC - referenceC) * (toC - referenceC) < 0) {
    const share = (referenceC - fromC) / (toC - fromC);
    return segmentMinutes(fromC, referenceC, minutes * share, organism) + segmentMinutes(referenceC, toC, minutes * (1 - share), organism);
  }
  const { zBelowC, zAboveC } = REFERENCES[organism];
  const z = fromC < referenceC || toC < referenceC ? zBelowC : zAboveC;
  const first = 10 ** ((fromC - referenceC) / z);
  const bend = (Math.LN10 * (toC - fromC)) / z;
  return minutes * first * (Math.abs(bend) < 1e-9 ? 1 + bend / 2 : Math.expm1(bend) / bend);
}

function lethalityWorking(reference: Reference, maxGap: number, readings: number, recordedMinutes: number): Working {
  return {
    inputs: [
      { name: 'readings used', value: readings }, { name: 'minutes recorded', value: round1(recordedMinutes), unit: 'min' },
      { name: 'longest gap allowed', value: maxGap, unit: 'min' }, { name: 'reference temperature', value: reference.referenceC, unit: 'C' },
      { name: 'z below the reference', value: reference.zBelowC, unit: 'C' }, { name: 'z above it', value: reference.zAboveC, unit: 'C' },
    ],
    model: 'lethality', formula: 'Integral of 10^((T - T_ref)/z) over time, exact along straight lines between readings; six decimal reductions of '
      + `${reference.name} take ${reference.sixDMinutes} minutes at the reference.`,
    source: reference.source,
    range: 'Cores up to 100 C; readings that join within the longest gap.',
    uncertainty: 'A probe that reads 0.5 C high overstates it by about 17 % (z 7.5).',
    certainty: reference.certainty,
  };
}
