import { SlabFace } from './slab-face.ts';
import type { Air } from './slab-face.ts';
import { diffusivityTable } from './slab-material.ts';
import type { SlabMaterial } from './slab-material.ts';

/** How much closer the nodes stand at the face than in the middle, where water leaves a thin layer; 0 is evenly. */
const CLUSTER = 0.8;

export type SlabSetup = { material: SlabMaterial; lengthM: number; hWPerM2K: number; wet: boolean; startC: number; intervals: number; cluster?: number };

/**
 * How heat and water flow in a slab from its insulated side or middle (node 0) to its
 * face (last node): finite volumes round each node. Water inside moves by diffusion and
 * carries its heat along; what passes the face is SlabFace's.
 */
export class SlabFlow {
  readonly temperatureC: Float64Array;
  readonly waterKgPerM3: Float64Array;
  readonly face: SlabFace;
  readonly last: number;
  readonly widthM: Float64Array;
  readonly heatCapacity: Float64Array;
  /** Rates of change, K/s and kg/m3 s, as the last evaluation found them. */
  readonly rateT: Float64Array;
  readonly rateW: Float64Array;
  /** Conductances to the next node: of heat, of heat with the moving water, of water. */
  readonly conduct: Float64Array;
  readonly carry: Float64Array;
  readonly diffuse: Float64Array;

  private readonly setup: SlabSetup;
  private readonly nodeM: Float64Array;
  private readonly diffusivity: Float64Array;
  private readonly conductivity: Float64Array;
  private readonly moisture: Float64Array;

  constructor(setup: SlabSetup) {
    const array = () => new Float64Array(setup.intervals + 1);
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
  }

  /** Rates of change in this air, the parts of the matrix, and what the change to the next air does. */
  evaluate(air: Air, next: Air): void {
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
}
