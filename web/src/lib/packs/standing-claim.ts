import type { PackLine } from '$contract/packs.ts';

/** A claim that stands, as far as deciding it needs. */
export type StandingClaim = NonNullable<PackLine['claim']> & Pick<PackLine, 'product' | 'recalled' | 'verdict' | 'notMet' | 'lastDay'>;
