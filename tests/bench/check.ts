import { checksOf, smokedFindings } from '../../server/domain/rules/judge.ts';
import type { BatchEvidence } from '../../server/domain/rules/evidence.ts';
import { compositionOfSpecies, fractionsOf } from '../../server/domain/heat/composition.ts';
import { segmentsOfStages } from '../../server/domain/heat/drive.ts';
import { slabMaterial } from '../../server/domain/heat/slab-material.ts';
import { runSlab } from '../../server/domain/heat/slab-run.ts';
import { median } from './figure.ts';
import type { Figure } from './figure.ts';

const READINGS = 5000;
const CHECK_MS = 20;
const SMOKE_MS = 5;

/** What a person waits for, as parts of the longest that it may take. */
export const measureChecks = (): Figure[] => [
  against('batch-check', CHECK_MS, `the whole check of a batch with ${READINGS} readings`, checkBatch(), 3),
  against('smoke-forecast-run', SMOKE_MS, 'one run of four hours in the smoker', smoke(), 10),
];

function against(id: string, mostMs: number, what: string, work: () => void, times: number): Figure {
  for (let i = 0; i < 30; i += 1) work();
  const ms = median(Array.from({ length: 15 }, () => processorMs(work, times)));
  return { id, ratio: ms / mostMs, target: 1, better: 'lower', detail: `${ms.toFixed(1)} ms of processor time for ${what}, ${mostMs} ms at most` };
}

function processorMs(work: () => void, times: number): number {
  const start = process.cpuUsage();
  for (let i = 0; i < times; i += 1) work();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000 / times;
}

/** A log each seven seconds from a cold fish through the hold and down again. */
function checkBatch(): () => void {
  const end = Date.parse('2026-06-10T13:00:00Z');
  const at = (minutes: number) => new Date(end + minutes * 60_000);
  const stage = { id: 'smoke', kind: 'smoke', startedAt: at(-240), finishedAt: at(0), maxCoreC: 66, holdMinutes: 60, cooledTo21At: at(110), cooledAt: at(160) } as const;
  const core = (i: number) => (i < 2000 ? 10 + i * 0.028 : i < 2500 ? 66 : Math.max(3, 66 - (i - 2500) * 0.05));
  const numbers = Array.from({ length: READINGS }, (_, i) => i);
  const evidence: BatchEvidence = {
    product: 'hot-smoked', smoke: stage, stages: [stage], measurements: [], measurementsBefore: [], packs: [], mix: null, readingsBefore: [], curesBefore: [], curedBeforeMs: 0, joinedAt: null, drawnAt: null, judgedAt: null, frozenBefore: 'none', guttedSource: '',
    readings: [{ place: 'core', probe: '', stageId: 'smoke', unitConfirmed: false, atMs: numbers.map((i) => end + (-240 + i / 8.3) * 60_000), celsius: numbers.map(core) }],
    landings: [{ species: 'Atlantic mackerel', speciesCode: 'atlantic-mackerel', scombrotoxin: true, caughtAt: at(-900), guttedAt: null, icedAt: at(-360), landedAt: null, coreC: 3, airC: 12, waterC: 10, form: 'whole', recordedAt: at(-300) }],
  };
  return () => {
    if (checksOf(smokedFindings(evidence, {}), []).length < 5) throw new Error('A batch is checked by more rules than that.');
  };
}

function smoke(): () => void {
  const program = segmentsOfStages([{ airC: 40, relativeHumidityPct: 40, minutes: 60 }, { airC: 60, relativeHumidityPct: 30, minutes: 60 }, { airC: 95, relativeHumidityPct: 15, minutes: 120 }]);
  const slab = { material: slabMaterial(fractionsOf(compositionOfSpecies('king-mackerel')), 3), lengthM: 0.0125, hWPerM2K: 25, wet: true, startC: 5, intervals: 32 };
  return () => {
    if (runSlab(slab, program).coreC.at(-1)! < 40) throw new Error('That fish was not smoked.');
  };
}
