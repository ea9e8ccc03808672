/**
 * Salt in a slab held as an even grid of layers, from the closed face (or the centre) to
 * the open one, and moved on in time exactly by cosine series. Lets stages follow each
 * other: cure, rest, fresh water. Source: Crank 1975, separation of variables.
 */

/** Layers in a slab: enough that the mean is right to a part in a thousand. */
export const LAYERS = 96;

/** The middle of each layer, 0 at the closed face and 1 at the open one. */
export function layerCentres(): number[] {
  return Array.from({ length: LAYERS }, (_, index) => (index + 0.5) / LAYERS);
}

/** The surface kept at one strength for a time Fo. */
export function moveOpen(layers: readonly number[], surface: number, fo: number): number[] {
  if (fo <= 0) return [...layers];
  const excess = layers.map((value) => value - surface);
  return series(excess, fo, (mode) => (mode + 0.5) * Math.PI, 0).map((value) => value + surface);
}

/** Nothing in or out for a time Fo: the salt spreads evenly. */
export function moveSealed(layers: readonly number[], fo: number): number[] {
  if (fo <= 0) return [...layers];
  const mean = meanOf(layers);
  const excess = layers.map((value) => value - mean);
  return series(excess, fo, (mode) => mode * Math.PI, 1).map((value) => value + mean);
}

export function meanOf(layers: readonly number[]): number {
  return layers.reduce((sum, value) => sum + value, 0) / layers.length;
}

function series(excess: readonly number[], fo: number, wave: (mode: number) => number, firstMode: number): number[] {
  const count = excess.length;
  const moved = new Array<number>(count).fill(0);
  for (let mode = firstMode; mode < count; mode++) {
    const q = wave(mode);
    const fade = Math.exp(-q * q * fo);
    if (fade < 1e-14) break;
    let part = 0;
    for (let layer = 0; layer < count; layer++) part += excess[layer]! * Math.cos((q * (layer + 0.5)) / count);
    const size = (2 / count) * part * fade;
    for (let layer = 0; layer < count; layer++) moved[layer]! += size * Math.cos((q * (layer + 0.5)) / count);
  }
  return moved;
}
