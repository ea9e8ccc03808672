import { Dopri } from 'dopri';
import { compositionOfSpecies, fractionsOf } from '../../server/domain/heat/composition.ts';
import { segmentsOfStages } from '../../server/domain/heat/drive.ts';
import { SlabFlow } from '../../server/domain/heat/slab-flow.ts';
import type { SlabSetup } from '../../server/domain/heat/slab-flow.ts';
import { slabMaterial } from '../../server/domain/heat/slab-material.ts';
import { runSlab } from '../../server/domain/heat/slab-run.ts';
import { median } from './figure.ts';
import type { Figure } from './figure.ts';

const ROUNDS = 3;
const TOLERANCE_C = 0.04;
/** The two must tell the same story, or the times compare nothing. */
const SAME_C = 0.1;

const PROGRAM = segmentsOfStages([{ airC: 40, relativeHumidityPct: 40, minutes: 60 }, { airC: 60, relativeHumidityPct: 30, minutes: 60 }, { airC: 95, relativeHumidityPct: 15, minutes: 120 }]);

/**
 * Even cells: the kindest grid for the reference, whose steps the smallest cell limits. The solver's own grid is finer at
 * the face.
 */
const setup: SlabSetup = {
  material: slabMaterial(fractionsOf(compositionOfSpecies('king-mackerel')), 3),
  lengthM: 0.0125, hWPerM2K: 25, wet: true, startC: 5, intervals: 32, cluster: 0,
};

/** Four hours of smoking by the slab solver, against a general-purpose integrator on the same equations, cells and tolerance. */
export function measureHeat(): Figure {
  const times = { own: [] as number[], reference: [] as number[] };
  for (let i = 0; i < 40; i += 1) own();
  for (let round = 0; round < ROUNDS; round += 1) {
    const mine = timed(own, 20);
    const theirs = timed(reference, 1);
    if (Math.abs(mine.coreC - theirs.coreC) > SAME_C) throw new Error(`The cores differ: ${mine.coreC} and ${theirs.coreC} C.`);
    times.own.push(mine.ms);
    times.reference.push(theirs.ms);
  }
  return {
    id: 'heat-solver', ratio: median(times.reference.map((ms, i) => ms / times.own[i]!)), target: 10, better: 'higher',
    detail: `${median(times.own).toFixed(2)} ms of processor time for four hours, the general integrator ${median(times.reference).toFixed(0)} ms`,
  };
}

/** Processor time: nothing here waits. */
function timed(work: () => number, times: number): { ms: number; coreC: number } {
  const start = process.cpuUsage();
  let coreC = 0;
  for (let i = 0; i < times; i += 1) coreC = work();
  const { user, system } = process.cpuUsage(start);
  return { ms: (user + system) / 1000 / times, coreC };
}

function own(): number {
  return runSlab(setup, PROGRAM, { toleranceC: TOLERANCE_C }).coreC.at(-1)!;
}

/** Water is handed over as a share of what was there, so that one tolerance suits both. */
function reference(): number {
  const nodes = setup.intervals + 1;
  const full = setup.material.waterKgPerM3;
  const slab = new SlabFlow(setup);
  let state = [...new Array<number>(nodes).fill(setup.startC), ...new Array<number>(nodes).fill(1)];
  for (const { fromS, toS, from } of PROGRAM) {
    const integrator = new Dopri((_, y, dy) => {
      for (let i = 0; i < nodes; i += 1) {
        slab.temperatureC[i] = y[i]!;
        slab.waterKgPerM3[i] = y[nodes + i]! * full;
      }
      slab.evaluate(from, from);
      for (let i = 0; i < nodes; i += 1) {
        dy[i] = slab.rateT[i]!;
        dy[nodes + i] = slab.rateW[i]! / full;
      }
    }, 2 * nodes, { atol: TOLERANCE_C, rtol: 1e-4, maxSteps: 10_000_000 });
    integrator.initialise(fromS, state);
    state = integrator.run(toS)([toS])[0]!;
  }
  return state[0]!;
}
