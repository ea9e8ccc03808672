import { at } from './composition.ts';
import type { Quadratic } from './composition.ts';
import { PSYCHROMETER_PER_K, STANDARD_PRESSURE_KPA, buckKPa, buckSlope, latentJPerKg } from './humid-air.ts';
import { surfaceActivity } from './slab-material.ts';
import type { SlabMaterial } from './slab-material.ts';

/** Air at an instant: temperature, and the vapour's pressure. */
export type Air = { airC: number; vapourKPa: number };

/**
 * What passes through the open face: heat by convection (radiation is left in h), vapour
 * by h_m (activity x saturation - vapour), with h/h_m as the psychrometric equation has
 * it, so that a wet face without the fish behind it stands at the wet-bulb.
 */
export class SlabFace {
  /** Heat and water into the last volume, W/m2 and kg/m2 s. */
  heatIn = 0;
  waterIn = 0;
  /** Their slopes against the face's temperature and water, as losses. */
  heatByT = 0;
  heatByW = 0;
  waterByT = 0;
  waterByW = 0;
  /** Heat that came in less what the leaving water held, with its slopes. */
  netIn = 0;
  netByT = 0;
  netByW = 0;
  /** How the three change per step when only the air changes. */
  airHeat = 0;
  airWater = 0;
  airNet = 0;

  private h = 0;
  private readonly wet: boolean;
  private readonly material: SlabMaterial;
  private vapour = 0;
  private readonly activity = new Float64Array(2);

  constructor(material: SlabMaterial, hWPerM2K: number, wet: boolean) {
    this.wet = wet;
    this.material = material;
    this.use(hWPerM2K);
  }

  /** From now on with this coefficient: the fish was moved. */
  use(hWPerM2K: number): void {
    this.h = hWPerM2K;
    this.vapour = hWPerM2K / (PSYCHROMETER_PER_K * STANDARD_PRESSURE_KPA);
  }

  /** Fluxes and slopes for a face of `t` C and `w` kg/m3 in air `from`, and what the change to air `to` alone does to them. */
  evaluate(t: number, w: number, from: Air, to: Air): void {
    const { h, material } = this;
    this.heatIn = h * (from.airC - t);
    this.heatByT = h;
    this.netIn = this.heatIn;
    this.netByT = -h;
    this.airHeat = h * (to.airC - from.airC);
    this.airNet = this.airHeat;
    if (!this.wet) return;
    surfaceActivity(w / material.dryKgPerM3, material.saltPerDry, this.activity);
    const saturated = buckKPa(t);
    const vapourHeat = this.vapour * (this.activity[0]! * saturated - from.vapourKPa);
    this.heatIn -= vapourHeat;
    const byT = this.vapour * this.activity[0]! * buckSlope(t, saturated);
    this.heatByT += byT;
    this.heatByW = (this.vapour * saturated * this.activity[1]!) / material.dryKgPerM3;
    // Dew gives its heat and runs off: it does not make the fish wetter than it was.
    const perHeat = vapourHeat > 0 ? 1 / latentJPerKg(t) : 0;
    this.waterIn = -vapourHeat * perHeat;
    this.waterByT = byT * perHeat;
    this.waterByW = this.heatByW * perHeat;
    const waterHeat = antiderivative(material.waterHeat, t);
    this.netIn = this.heatIn + this.waterIn * waterHeat;
    this.netByT = -this.heatByT - this.waterByT * waterHeat + this.waterIn * at(material.waterHeat, t);
    this.netByW = -this.heatByW - this.waterByW * waterHeat;
    const airVapour = this.vapour * (to.vapourKPa - from.vapourKPa);
    this.airHeat += airVapour;
    this.airWater = airVapour * perHeat;
    this.airNet = this.airHeat + this.airWater * waterHeat;
  }
}

/** Heat from 0 C up to t of what has this heat capacity. */
export function antiderivative([a, b, c]: Quadratic, t: number): number {
  return t * (a + t * (b / 2 + (t * c) / 3));
}
