import { SlabFace, antiderivative } from './slab-face.ts';
import type { Air } from './slab-face.ts';
import { diffusivityTable } from './slab-material.ts';
import type { SlabMaterial } from './slab-material.ts';

/** ROS2 (Verwer et al. 1999): two stages, order two whatever the matrix, and L-stable with this gamma. */
const GAMMA = 1 - Math.SQRT1_2;
/** How much closer the nodes stand at the face than in the middle, where water leaves a thin layer; 0 is evenly. */
const CLUSTER = 0.8;

export type SlabSetup = { material: SlabMaterial; lengthM: number; hWPerM2K: number; wet: boolean; startC: number; intervals: number; cluster?: number };

/**
 * A slab from its insulated side or middle (node 0) to its face (last node): finite
 * volumes round each node, heat and water together. Water inside moves by diffusion and
 * carries its heat along; at the face heat comes in by h and goes out with the vapour,
 * whose pressure is the face's own water activity times saturation.
 */
export class SlabStepper {
  readonly temperatureC: Float64Array;
  readonly waterKgPerM3: Float64Array;
  readonly face: SlabFace;
  errorC = 0;
  errorKgPerM3 = 0;
  /** Heat that came in at the face in the last step: convection less vapour, with the heat of the water that left. */
  heatInJPerM2 = 0;

  private readonly setup: SlabSetup;
  private readonly last: number;
  private readonly nodeM: Float64Array;
  private readonly widthM: Float64Array;
  private readonly diffusivity: Float64Array;
  private readonly conductivity: Float64Array;
  private readonly heatCapacity: Float64Array;
  private readonly moisture: Float64Array;
  /** Rates of change, and the matrix: conductances between nodes as the first stage found them. */
  private readonly rateT: Float64Array;
  private readonly rateW: Float64Array;
  private readonly conduct: Float64Array;
  private readonly carry: Float64Array;
  private readonly diffuse: Float64Array;
  private readonly firstT: Float64Array;
  private readonly firstW: Float64Array;
  private readonly secondT: Float64Array;
  private readonly secondW: Float64Array;
  private readonly oldT: Float64Array;
  private readonly oldW: Float64Array;
  private readonly pivotT: Float64Array;
  private readonly upperT: Float64Array;
  private readonly lowerT: Float64Array;
  private readonly pivotW: Float64Array;
  private readonly upperW: Float64Array;
  private readonly lowerW: Float64Array;
  private crossT = 0;
  private crossW = 0;

  constructor(setup: SlabSetup) {
    const nodes = setup.intervals + 1;
    const array = () => new Float64Array(nodes);
    this.setup = setup;
    this.face = new SlabFace(setup.material, setup.hWPerM2K, setup.wet);
    this.last = setup.intervals;
    this.temperatureC = array().fill(setup.startC);
    this.waterKgPerM3 = array().fill(setup.material.waterKgPerM3);
    const cluster = setup.cluster ?? CLUSTER;
    this.nodeM = array().map((_, i) => {
      const s = i / setup.intervals;
      return setup.lengthM * ((1 + cluster) * s - cluster * s * s);
    });
    this.widthM = array().map((_, i) => (this.nodeM[Math.min(i + 1, this.last)]! - this.nodeM[Math.max(i - 1, 0)]!) / 2);
    this.diffusivity = diffusivityTable(setup.material.moistureM2PerS);
    [this.conductivity, this.heatCapacity, this.moisture] = [array(), array(), array()];
    [this.rateT, this.rateW, this.conduct, this.carry, this.diffuse] = [array(), array(), array(), array(), array()];
    [this.firstT, this.firstW, this.secondT, this.secondW, this.oldT, this.oldW] = [array(), array(), array(), array(), array(), array()];
    [this.pivotT, this.upperT, this.lowerT, this.pivotW, this.upperW, this.lowerW] = [array(), array(), array(), array(), array(), array()];
  }

  /** Moves by `stepS` seconds. Leaves in `errorC` and `errorKgPerM3` how far the first-order answer was off, and the heat that came in. */
  step(stepS: number, from: Air, to: Air): void {
    const { temperatureC: t, waterKgPerM3: w, firstT, firstW, secondT, secondW, oldT, oldW, last } = this;
    oldT.set(t);
    oldW.set(w);
    this.evaluate(from, to);
    const { netByT, netByW, netIn } = this.face;
    const air = { heat: GAMMA * this.face.airHeat / (this.widthM[last]! * this.heatCapacity[last]!), water: GAMMA * this.face.airWater / this.widthM[last]!, net: GAMMA * this.face.airNet };
    this.rateT[last]! += air.heat;
    this.rateW[last]! += air.water;
    this.factor(stepS * GAMMA);
    this.solve(firstT, firstW);
    // The heat that came in is a quantity like the others, advanced by the same two stages.
    const firstHeat = netIn + air.net + stepS * GAMMA * (netByT * firstT[last]! + netByW * firstW[last]!);
    for (let i = 0; i <= last; i += 1) {
      t[i] = oldT[i]! + stepS * firstT[i]!;
      w[i] = oldW[i]! + stepS * firstW[i]!;
    }
    this.evaluate(to, to);
    for (let i = 0; i <= last; i += 1) {
      this.rateT[i]! -= 2 * firstT[i]!;
      this.rateW[i]! -= 2 * firstW[i]!;
    }
    this.rateT[last]! -= air.heat;
    this.rateW[last]! -= air.water;
    this.solve(secondT, secondW);
    const secondHeat = this.face.netIn - 2 * firstHeat - air.net + stepS * GAMMA * (netByT * secondT[last]! + netByW * secondW[last]!);
    this.heatInJPerM2 = stepS * (1.5 * firstHeat + 0.5 * secondHeat);
    let errorC = 0;
    let errorKgPerM3 = 0;
    for (let i = 0; i <= last; i += 1) {
      t[i] = oldT[i]! + stepS * (1.5 * firstT[i]! + 0.5 * secondT[i]!);
      w[i] = oldW[i]! + stepS * (1.5 * firstW[i]! + 0.5 * secondW[i]!);
      errorC = Math.max(errorC, Math.abs(firstT[i]! + secondT[i]!) * 0.5 * stepS);
      errorKgPerM3 = Math.max(errorKgPerM3, Math.abs(firstW[i]! + secondW[i]!) * 0.5 * stepS);
    }
    this.errorC = errorC;
    this.errorKgPerM3 = errorKgPerM3;
  }

  /** Takes the last step back. */
  undo(): void {
    this.temperatureC.set(this.oldT);
    this.waterKgPerM3.set(this.oldW);
  }

  get coreC(): number {
    return this.temperatureC[0]!;
  }

  get surfaceC(): number {
    return this.temperatureC[this.last]!;
  }

  get meanC(): number {
    return this.sum(this.temperatureC) / this.setup.lengthM;
  }

  /** Water lost through the face since the start, kg/m2. */
  get lostKgPerM2(): number {
    return this.setup.material.waterKgPerM3 * this.setup.lengthM - this.sum(this.waterKgPerM3);
  }

  /** Heat held, from 0 C, J/m2. */
  get heatJPerM2(): number {
    const { solidsHeat: s, waterHeat: v } = this.setup.material;
    let sum = 0;
    for (let i = 0; i <= this.last; i += 1) {
      const t = this.temperatureC[i]!;
      sum += this.widthM[i]! * (antiderivative(s, t) + this.waterKgPerM3[i]! * antiderivative(v, t));
    }
    return sum;
  }

  /** Rates of change of temperature and water in this air, for other integrators of the same equations. */
  ratesIn(air: Air): { celsiusPerS: Float64Array; waterKgPerM3S: Float64Array } {
    this.evaluate(air, air);
    return { celsiusPerS: this.rateT, waterKgPerM3S: this.rateW };
  }

  private sum(values: Float64Array): number {
    let sum = 0;
    for (let i = 0; i <= this.last; i += 1) sum += this.widthM[i]! * values[i]!;
    return sum;
  }

  private properties(): void {
    const { solidsHeat: s, waterHeat: v, solidsConduction: sk, solidsVolume: sv, waterConduction: wk, waterVolume: wv } = this.setup.material;
    const { wet } = this.setup;
    for (let i = 0; i <= this.last; i += 1) {
      const t = this.temperatureC[i]!;
      const w = this.waterKgPerM3[i]!;
      this.heatCapacity[i] = s[0] + (s[1] + s[2] * t) * t + w * (v[0] + (v[1] + v[2] * t) * t);
      this.conductivity[i] = (sk[0] + (sk[1] + sk[2] * t) * t + w * (wk[0] + (wk[1] + wk[2] * t) * t))
        / (sv[0] + (sv[1] + sv[2] * t) * t + w * (wv[0] + (wv[1] + wv[2] * t) * t));
      if (!wet) continue;
      const place = Math.min(Math.max(t + 5, 0), 134.999);
      const below = place | 0;
      const low = this.diffusivity[below]!;
      this.moisture[i] = low + (this.diffusivity[below + 1]! - low) * (place - below);
    }
  }

  /** Rates of change now, and the parts of the matrix. */
  private evaluate(air: Air, next: Air): void {
    this.properties();
    const { temperatureC: t, waterKgPerM3: w, nodeM, widthM, heatCapacity, conductivity, moisture, last } = this;
    const waterHeat = this.setup.material.waterHeat[0];
    let heatIn = 0;
    let waterIn = 0;
    let carryIn = 0;
    for (let i = 0; i < last; i += 1) {
      const gap = nodeM[i + 1]! - nodeM[i]!;
      const conduct = (conductivity[i]! + conductivity[i + 1]!) / (2 * gap);
      const diffuse = this.setup.wet ? (moisture[i]! + moisture[i + 1]!) / (2 * gap) : 0;
      const heat = conduct * (t[i]! - t[i + 1]!);
      const water = diffuse * (w[i]! - w[i + 1]!);
      const carry = (water * waterHeat) / 2;
      const carried = carry * (t[i]! - t[i + 1]!);
      this.conduct[i] = conduct;
      this.diffuse[i] = diffuse;
      this.carry[i] = carry;
      this.rateT[i] = (heatIn - heat + carryIn + carried) / (widthM[i]! * heatCapacity[i]!);
      this.rateW[i] = (waterIn - water) / widthM[i]!;
      heatIn = heat;
      waterIn = water;
      carryIn = carried;
    }
    this.face.evaluate(t[last]!, w[last]!, air, next);
    this.rateT[last] = (heatIn + carryIn + this.face.heatIn) / (widthM[last]! * heatCapacity[last]!);
    this.rateW[last] = (waterIn + this.face.waterIn) / widthM[last]!;
  }

  /** Factors I - g A for both chains down to the last row, which the face couples. */
  private factor(g: number): void {
    const { widthM, heatCapacity, conduct, carry, diffuse, last, lowerT, lowerW, upperT, upperW, pivotT, pivotW } = this;
    // Conductances to the node before: of heat with and against the water that carries some, and of water.
    let [heatBack, waterBack] = [0, 0];
    let [topT, topW] = [0, 0];
    for (let i = 0; i <= last; i += 1) {
      const scaleT = g / (widthM[i]! * heatCapacity[i]!);
      const scaleW = g / widthM[i]!;
      const end = i === last;
      const heatOn = end ? this.face.heatByT : conduct[i]! - carry[i]!;
      const waterOn = end ? this.face.waterByW : diffuse[i]!;
      let diagonalT = 1 + scaleT * (heatBack + heatOn);
      let diagonalW = 1 + scaleW * (waterBack + waterOn);
      if (i > 0) {
        const factorT = (-scaleT * heatBack) / pivotT[i - 1]!;
        const factorW = (-scaleW * waterBack) / pivotW[i - 1]!;
        diagonalT -= factorT * topT;
        diagonalW -= factorW * topW;
        lowerT[i] = factorT;
        lowerW[i] = factorW;
      }
      topT = -scaleT * heatOn;
      topW = -scaleW * waterOn;
      upperT[i] = topT;
      upperW[i] = topW;
      pivotT[i] = diagonalT;
      pivotW[i] = diagonalW;
      if (end) break;
      heatBack = conduct[i]! + carry[i]!;
      waterBack = diffuse[i]!;
    }
    this.crossT = (g / (widthM[last]! * heatCapacity[last]!)) * this.face.heatByW;
    this.crossW = (g / widthM[last]!) * this.face.waterByT;
  }

  /** Solves for the stage from the rates as they stand. */
  private solve(outT: Float64Array, outW: Float64Array): void {
    const { last, lowerT, lowerW, upperT, upperW, pivotT, pivotW } = this;
    outT[0] = this.rateT[0]!;
    outW[0] = this.rateW[0]!;
    for (let i = 1; i <= last; i += 1) {
      outT[i] = this.rateT[i]! - lowerT[i]! * outT[i - 1]!;
      outW[i] = this.rateW[i]! - lowerW[i]! * outW[i - 1]!;
    }
    const determinant = pivotT[last]! * pivotW[last]! - this.crossT * this.crossW;
    const [endT, endW] = [outT[last]!, outW[last]!];
    outT[last] = (endT * pivotW[last]! - endW * this.crossT) / determinant;
    outW[last] = (endW * pivotT[last]! - endT * this.crossW) / determinant;
    for (let i = last - 1; i >= 0; i -= 1) {
      outT[i] = (outT[i]! - upperT[i]! * outT[i + 1]!) / pivotT[i]!;
      outW[i] = (outW[i]! - upperW[i]! * outW[i + 1]!) / pivotW[i]!;
    }
  }
}
