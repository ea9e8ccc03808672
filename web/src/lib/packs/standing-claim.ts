import type { PackLine } from '$contract/packs.ts';

/** A claim that stands, as far as deciding it needs. */
export type StandingClaim = NonNullable<PackLine['claim']> & { product: string; recalled: boolean };
