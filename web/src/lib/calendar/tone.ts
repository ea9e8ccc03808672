/** Heat or cold: what a stage's slots are drawn in. */
import type { StageKind } from '$domain/working.ts';

export const toneOf = (kind: StageKind): 'ember' | 'tide' | 'ink' => (kind === 'smoke' ? 'ember' : kind === 'cure' || kind === 'rinse' || kind === 'cool' ? 'tide' : 'ink');
