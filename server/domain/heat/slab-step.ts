import { antiderivative } from './slab-face.ts';
import type { Air } from './slab-face.ts';
import { SlabFlow } from './slab-flow.ts';
import type { SlabSetup } from './slab-flow.ts';
import { SlabMatrix } from './slab-matrix.ts';

/** ROS2 (Verwer et al. 1999): two stages, order two whatever the matrix, and L-stable with this gamma. */
const GAMMA = 1 - Math.SQRT1_2;

/** Steps a slab through time, heat and water together. */
export class SlabStepper {
  readonly flow: SlabFlow;
  /** How far the first-order answer was off in the last step, the most of any node. */
  errorC = 0;
  errorKgPerM3 = 0;
  /** Heat that came in at the face in the last step: convection less vapour, with the heat of the water that left. */
  heatInJPerM2 = 0;

  private readonly setup: SlabSetup;
  private readonly matrix: SlabMatrix;
  private readonly firstT: Float64Array;
  private readonly firstW: Float64Array;
  private readonly secondT: Float64Array;
  private readonly secondW: Float64Array;
  private readonly oldT: Float64Array;
  private readonly oldW: Float64Array;

  constructor(setup: SlabSetup) {
    const array = () => new Float64Array(setup.intervals + 1);
    this.setup = setup;
    this.flow = new SlabFlow(setup);
    this.matrix = new SlabMatrix(this.flow);
    [this.firstT, this.firstW, this.secondT, this.secondW, this.oldT, this.oldW] = [array(), array(), array(), array(), array(), array()];
  }

  /** Moves by `stepS` seconds, while the air changes evenly. */
  step(stepS: number, from: Air, to: Air): void {
    const { flow, matrix, firstT, firstW, secondT, secondW } = this;
    const { face, last, rateT, rateW } = flow;
    this.oldT.set(flow.temperatureC);
    this.oldW.set(flow.waterKgPerM3);
    flow.evaluate(from, to);
    const { netByT, netByW, netIn } = face;
    // The air's own change enters both stages, once with each sign.
    const airT = (GAMMA * face.airHeat) / (flow.widthM[last]! * flow.heatCapacity[last]!);
    const airW = (GAMMA * face.airWater) / flow.widthM[last]!;
    const airNet = GAMMA * face.airNet;
    rateT[last]! += airT;
    rateW[last]! += airW;
    matrix.factor(stepS * GAMMA);
    matrix.solve(firstT, firstW);
    // The heat that came in is a quantity like the others, advanced by the same two stages.
    const firstHeat = netIn + airNet + stepS * GAMMA * (netByT * firstT[last]! + netByW * firstW[last]!);
    this.place(stepS, 0);
    flow.evaluate(to, to);
    for (let i = 0; i <= last; i += 1) {
      rateT[i]! -= 2 * firstT[i]!;
      rateW[i]! -= 2 * firstW[i]!;
    }
    rateT[last]! -= airT;
    rateW[last]! -= airW;
    matrix.solve(secondT, secondW);
    const secondHeat = face.netIn - 2 * firstHeat - airNet + stepS * GAMMA * (netByT * secondT[last]! + netByW * secondW[last]!);
    this.heatInJPerM2 = stepS * (1.5 * firstHeat + 0.5 * secondHeat);
    this.findError(stepS);
    this.place(1.5 * stepS, 0.5 * stepS);
  }

  /** Puts the slab at its old state moved by so much of each stage. */
  private place(first: number, second: number): void {
    const { temperatureC, waterKgPerM3, last } = this.flow;
    for (let i = 0; i <= last; i += 1) {
      temperatureC[i] = this.oldT[i]! + first * this.firstT[i]! + second * this.secondT[i]!;
      waterKgPerM3[i] = this.oldW[i]! + first * this.firstW[i]! + second * this.secondW[i]!;
    }
  }

  private findError(stepS: number): void {
    let [errorC, errorKgPerM3] = [0, 0];
    for (let i = 0; i <= this.flow.last; i += 1) {
      errorC = Math.max(errorC, Math.abs(this.firstT[i]! + this.secondT[i]!));
      errorKgPerM3 = Math.max(errorKgPerM3, Math.abs(this.firstW[i]! + this.secondW[i]!));
    }
    this.errorC = errorC * 0.5 * stepS;
    this.errorKgPerM3 = errorKgPerM3 * 0.5 * stepS;
  }

  /** Takes the last step back. */
  undo(): void {
    this.flow.temperatureC.set(this.oldT);
    this.flow.waterKgPerM3.set(this.oldW);
  }

  get coreC(): number {
    return this.flow.temperatureC[0]!;
  }

  get surfaceC(): number {
    return this.flow.temperatureC[this.flow.last]!;
  }

  get meanC(): number {
    return this.sum(this.flow.temperatureC) / this.setup.lengthM;
  }

  /** Water lost through the face since the start, kg/m2. */
  get lostKgPerM2(): number {
    return this.setup.material.waterKgPerM3 * this.setup.lengthM - this.sum(this.flow.waterKgPerM3);
  }

  /** Heat held, from 0 C, J/m2. */
  get heatJPerM2(): number {
    const { solidsHeat: s, waterHeat: v } = this.setup.material;
    let sum = 0;
    for (let i = 0; i <= this.flow.last; i += 1) {
      const t = this.flow.temperatureC[i]!;
      sum += this.flow.widthM[i]! * (antiderivative(s, t) + this.flow.waterKgPerM3[i]! * antiderivative(v, t));
    }
    return sum;
  }

  private sum(values: Float64Array): number {
    let sum = 0;
    for (let i = 0; i <= this.flow.last; i += 1) sum += this.flow.widthM[i]! * values[i]!;
    return sum;
  }
}
