import type { Certainty, PackageKind, ProductKind } from '../working.ts';
import type { Rule, RuleGroup, RuleLimit } from './rule.ts';

type Products = { products: readonly ProductKind[] };
export const SMOKED: Products = { products: ['hot-smoked'] };
export const DIP: Products = { products: ['dip'] };
export const RAW: Products = { products: ['raw'] };
export const FISH: Products = { products: ['hot-smoked', 'raw'] };
export const ALL: Products = { products: ['hot-smoked', 'dip', 'raw'] };
export const NO_AIR: readonly PackageKind[] = ['vacuum', 'jar'];

export const limit = (id: string, name: string, value: number, unit: RuleLimit['unit'], direction: RuleLimit['direction'], tightest: number): RuleLimit => ({ id, name, value, unit, direction, tightest });

/** Not releasable, and on hold when it is not met or not recorded: what most rules are. */
export const firm = { kind: 'check', ifNotMet: 'hold', ifNotRecorded: 'hold', releasable: false } as const;
/** As firm, and what is not met is never made good. */
export const final = { kind: 'check', ifNotMet: 'do-not-share', ifNotRecorded: 'hold', releasable: false } as const;
/** Held against what was recorded alone; a captain may let it go with a reason. */
export const asked = { kind: 'check', ifNotMet: 'hold', ifNotRecorded: 'nothing', releasable: true } as const;
/** As final, where something was recorded. */
export const ifLogged = { kind: 'check', ifNotMet: 'do-not-share', ifNotRecorded: 'nothing', releasable: false } as const;
/** Shown, and no part of the verdict. */
export const information = { kind: 'check', ifNotMet: 'nothing', ifNotRecorded: 'nothing', releasable: false } as const;

/** What no record can show: told to whoever works, and never met or not met. */
export const guidance = (id: string, title: string, group: RuleGroup, appliesTo: Rule['appliesTo'], words: string, source: string, certainty: Certainty): Rule => ({
  kind: 'guidance', id, title, group, appliesTo, evidence: '', evidenceAt: 'nowhere', limits: [], words, source, certainty, whatToDo: '', ifNotMet: 'nothing', ifNotRecorded: 'nothing', releasable: false,
});
