/** Words on screen for the values of the contract, in one place. */
import type { StageKind, PackageKind, Form, Pooling } from '$domain/working.ts';

export const stageWords: Record<StageKind, string> = {
  prepare: 'Prepare',
  cure: 'Cure',
  rinse: 'Rinse',
  dry: 'Dry',
  smoke: 'Smoke',
  cool: 'Cool',
  mix: 'Mix',
  pack: 'Pack',
};
export const formWords: Record<Form, string> = { whole: 'whole', gutted: 'gutted', 'headed-gutted': 'headed and gutted', fillet: 'fillet' };
export const poolingWords: Record<Pooling, string> = { apart: 'stays apart', tray: 'own tray', pooled: 'may be pooled' };
export const packageWords: Record<PackageKind, string> = { tub: 'Tub, lets air in', bag: 'Bag, lets air in', vacuum: 'Vacuum', jar: 'Jar' };
export const storageWords = { refrigerated: 'Refrigerated', frozen: 'Frozen' } as const;
export const productWords = { 'hot-smoked': 'Hot-smoked', dip: 'Dip or spread', raw: 'Raw' } as const;
export const stationWords = {
  'brine-tub': 'Brine tub',
  refrigerator: 'Refrigerator',
  'drying-rack': 'Drying rack',
  smoker: 'Smoker',
  bench: 'Bench',
  freezer: 'Freezer',
} as const;
export const roleWords = { captain: 'Captain', crew: 'Crew', member: 'Member' } as const;
