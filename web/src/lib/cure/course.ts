/** Salt against time in the slowest and the quickest piece of a plan, for the plot. */
import { knownPieces, slowness, type KnownPiece } from '$domain/cure/pieces.ts';
import type { CurePlan, CurePlanInput } from '$domain/cure/planner.ts';
import { conditionsOf } from '$domain/cure/thickness-groups.ts';
import type { CureConditions } from '$domain/salt/uptake.ts';
import { LONGEST_CURE_MINUTES, saltUptake } from '$domain/salt/uptake.ts';
import { timeToSalt } from '$domain/salt/time-to-salt.ts';
import { COLD_AFTER_MINUTES } from '$domain/cure/warnings.ts';
import { showThickness } from '../show.ts';
import type { PlotSeries } from '../ui/plot.ts';

const STEPS = 24;
const TWO_DAYS = 2880;

export interface SaltCourse {
  series: PlotSeries[];
  ends: { name: string; minutes: number | null }[];
  untilMinutes: number;
}

const clubs = ({ club, clubByFat }: CurePlanInput) => ({ ...(club && { club }), ...(clubByFat && { clubByFat }) });

/** The conditions of every piece, the slowest first. */
export function conditionsOfAll(plan: CurePlan, input: CurePlanInput): { piece: KnownPiece; conditions: CureConditions }[] {
  const around = { ...clubs(input), surfacePercent: plan.amounts.surfacePercent, brinePerFishWater: plan.amounts.brinePerFishWater, temperatureC: input.placeTemperatureC };
  return knownPieces(input.pieces).sort((a, b) => slowness(b, input) - slowness(a, input)).map((piece) => ({ piece, conditions: conditionsOf(piece, around) }));
}

export function saltCourse(plan: CurePlan, input: CurePlanInput): SaltCourse {
  const all = conditionsOfAll(plan, input);
  const [slow, quick] = [all[0]!, all.at(-1)!];
  const same = slowness(slow.piece, input) === slowness(quick.piece, input);
  // Fat fish and skin slow salt down as thickness does.
  const thick = slow.piece.thicknessMm > quick.piece.thicknessMm;
  const shown = same ? [{ ...slow, name: showThickness(slow.piece.thicknessMm), tone: 'tide' as const }] : [
    { ...slow, name: `${thick ? 'Thickest' : 'Slowest'}, ${showThickness(slow.piece.thicknessMm)}`, tone: 'tide' as const }, { ...quick, name: `${thick ? 'Thinnest' : 'Quickest'}, ${showThickness(quick.piece.thicknessMm)}`, tone: 'kelp' as const },
  ];
  const times = shown.map(({ conditions }) => timeToSalt({ ...conditions, targetPercent: plan.clockPercent }));
  const untilMinutes = Math.min(LONGEST_CURE_MINUTES, Math.max(COLD_AFTER_MINUTES, times[0]!.minutes === null ? TWO_DAYS : times[0]!.minutes * 1.5));
  return {
    untilMinutes, ends: shown.map(({ name }, index) => ({ name, minutes: times[index]!.minutes })),
    series: shown.map(({ name, tone, conditions }) => ({ name, tone, predicted: true, points: pointsOf(conditions, untilMinutes) })),
  };
}

function pointsOf(conditions: CureConditions, untilMinutes: number): PlotSeries['points'] {
  return Array.from({ length: STEPS + 1 }, (_, step) => {
    // Denser at the start, where salt goes in fastest.
    const minutes = untilMinutes * (step / STEPS) ** 1.5;
    const { meanPercent, meanLowPercent, meanHighPercent } = saltUptake({ ...conditions, minutes });
    return { x: minutes / 60, y: meanPercent, low: meanLowPercent, high: meanHighPercent };
  });
}
