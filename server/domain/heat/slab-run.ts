import type { Air } from './slab-face.ts';
import type { SlabSetup } from './slab-flow.ts';
import { SlabStepper } from './slab-step.ts';

/** A stretch of time in which the air changes evenly; `jump` when it does not join the one before; `hWPerM2K` is the slab's own unless said. */
export type AirSegment = { fromS: number; toS: number; from: Air; to: Air; jump: boolean; hWPerM2K?: number };

export type SlabTrace = {
  minutes: number[];
  coreC: number[];
  surfaceC: number[];
  meanC: number[];
  /** Water lost, g per kg of the flesh as it went in. */
  lossGPerKg: number[];
  airC: number[];
  steps: number;
  /** Heat in less heat out less heat gained, as a share of the heat that moved. */
  energyError: number;
};

export type RunOptions = {
  /** What a step may err by, kelvin, on the first-order estimate; the answer itself is an order better. */
  toleranceC?: number;
  longestStepS?: number;
  /** Even steps instead, for showing the order of the method. */
  evenStepS?: number;
};

const TOLERANCE_C = 0.04;
const LONGEST_STEP_S = 120;
const FIRST_STEP_S = 0.5;
/** Water matters less to the temperatures than heat does: a share of what was there. */
const WATER_TOLERANCE = 0.01;
const SHORTEST_STEP_S = 1e-3;

/** Runs the slab through segments that follow one another. No checks: the callers have made them. */
export function runSlab(setup: SlabSetup, segments: readonly AirSegment[], options: RunOptions = {}): SlabTrace {
  const slab = new SlabStepper(setup);
  const trace: SlabTrace = { minutes: [], coreC: [], surfaceC: [], meanC: [], lossGPerKg: [], airC: [], steps: 0, energyError: 0 };
  const perKg = 1000 / (setup.lengthM * setup.material.densityKgPerM3);
  const heatAtStart = slab.heatJPerM2;
  let [heatIn, heatMoved, stepS] = [0, 0, FIRST_STEP_S];
  const record = (timeS: number, air: Air) => {
    trace.minutes.push(timeS / 60);
    trace.coreC.push(slab.coreC);
    trace.surfaceC.push(slab.surfaceC);
    trace.meanC.push(slab.meanC);
    trace.lossGPerKg.push(setup.wet ? slab.lostKgPerM2 * perKg : 0);
    trace.airC.push(air.airC);
  };
  if (segments.length > 0) record(segments[0]!.fromS, segments[0]!.from);
  for (const segment of segments) {
    if (segment.jump) stepS = FIRST_STEP_S;
    slab.flow.face.use(segment.hWPerM2K ?? setup.hWPerM2K);
    let timeS = segment.fromS;
    let air = segment.from;
    while (timeS < segment.toS - 1e-9) {
      const planned = options.evenStepS ?? stepS;
      const left = segment.toS - timeS;
      // Two halves rather than a long step and a sliver.
      const tried = left <= planned * 1.0001 ? left : options.evenStepS === undefined && left < 2 * planned ? left / 2 : planned;
      const next = airAt(segment, timeS + tried);
      slab.step(tried, air, next);
      const error = Math.max(slab.errorC / (options.toleranceC ?? TOLERANCE_C), slab.errorKgPerM3 / (WATER_TOLERANCE * setup.material.waterKgPerM3));
      if (options.evenStepS === undefined) {
        stepS = Math.min(options.longestStepS ?? LONGEST_STEP_S, tried * Math.min(3, Math.max(0.2, 0.9 / Math.sqrt(error + 1e-12))));
        if (error > 1 && tried > SHORTEST_STEP_S) {
          slab.undo();
          continue;
        }
      }
      heatIn += slab.heatInJPerM2;
      heatMoved += Math.abs(slab.heatInJPerM2);
      timeS += tried;
      air = next;
      trace.steps += 1;
      record(timeS, air);
    }
  }
  const gained = slab.heatJPerM2 - heatAtStart;
  trace.energyError = heatMoved === 0 ? 0 : (heatIn - gained) / heatMoved;
  return trace;
}

function airAt({ fromS, toS, from, to }: AirSegment, timeS: number): Air {
  const share = (timeS - fromS) / (toS - fromS);
  return { airC: from.airC + share * (to.airC - from.airC), vapourKPa: from.vapourKPa + share * (to.vapourKPa - from.vapourKPa) };
}

/** A trace's value at a minute, straight between its points. Ends hold beyond the ends. */
export function readTrace(minutes: readonly number[], values: readonly number[], at: number): number {
  let [low, high] = [0, minutes.length - 1];
  if (at <= minutes[0]!) return values[0]!;
  if (at >= minutes[high]!) return values[high]!;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (minutes[middle]! <= at) low = middle;
    else high = middle;
  }
  const share = (at - minutes[low]!) / (minutes[high]! - minutes[low]!);
  return values[low]! + share * (values[high]! - values[low]!);
}
