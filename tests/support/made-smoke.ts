import { Dopri } from 'dopri';
import { compositionOfSpecies, fractionsOf } from '../../server/domain/heat/composition.ts';
import { segmentsOfLog } from '../../server/domain/heat/drive.ts';
import { SlabFlow } from '../../server/domain/heat/slab-flow.ts';
import { slabMaterial } from '../../server/domain/heat/slab-material.ts';

export type MadeSmoke = { hWPerM2K: number; humidityPct: number; thicknessMm: number; startAt: string; hours?: number; speciesCode?: string; saltPct?: number; startC?: number };
export type MadeReading = { at: string; celsius: number };

const MINUTE_MS = 60_000;
const INTERVALS = 24;
const EVERY_MINUTES = 5;

/**
 * What the probes of a smoker of known h and humidity would write every five minutes: the chamber rises from 40 to 90 C in two and a half
 * hours; the core comes from a general-purpose integrator (Dormand and Prince) on even cells, not from the service's own solver.
 */
export function madeSmoke({ hWPerM2K, humidityPct, thicknessMm, startAt, hours = 4, speciesCode = 'atlantic-mackerel', saltPct = 0, startC = 6 }: MadeSmoke): { chamber: MadeReading[]; core: MadeReading[] } {
  const count = (hours * 60) / EVERY_MINUTES;
  const at = (i: number) => new Date(Date.parse(startAt) + i * EVERY_MINUTES * MINUTE_MS).toISOString();
  const chamber = Array.from({ length: count + 1 }, (_, i) => ({ at: at(i), celsius: Math.round(10 * (40 + 50 * Math.min(1, (i * EVERY_MINUTES) / 150))) / 10 }));
  const { segments } = segmentsOfLog({ readings: chamber, relativeHumidityPct: humidityPct });
  const material = slabMaterial(fractionsOf(compositionOfSpecies(speciesCode)), saltPct);
  const slab = new SlabFlow({ material, lengthM: thicknessMm / 2000, hWPerM2K, wet: true, startC, intervals: INTERVALS, cluster: 0 });
  const nodes = INTERVALS + 1;
  let state = [...new Array<number>(nodes).fill(startC), ...new Array<number>(nodes).fill(1)];
  const core = [{ at: at(0), celsius: startC }];
  segments.forEach(({ fromS, toS, from, to }, i) => {
    const integrator = new Dopri((timeS, y, dy) => {
      for (let node = 0; node < nodes; node += 1) {
        slab.temperatureC[node] = y[node]!;
        slab.waterKgPerM3[node] = y[nodes + node]! * material.waterKgPerM3;
      }
      const share = (timeS - fromS) / (toS - fromS);
      const air = { airC: from.airC + share * (to.airC - from.airC), vapourKPa: from.vapourKPa + share * (to.vapourKPa - from.vapourKPa) };
      slab.evaluate(air, air);
      for (let node = 0; node < nodes; node += 1) {
        dy[node] = slab.rateT[node]!;
        dy[nodes + node] = slab.rateW[node]! / material.waterKgPerM3;
      }
    }, 2 * nodes, { atol: 0.02, rtol: 1e-4, maxSteps: 10_000_000 });
    integrator.initialise(fromS, state);
    state = integrator.run(toS)([toS])[0]!;
    core.push({ at: at(i + 1), celsius: Math.round(state[0]! * 10) / 10 });
  });
  return { chamber, core };
}
