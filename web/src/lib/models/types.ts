/** What a page says of a model. Texts are data, checks are functions: they reckon with the domain when the page opens. */
import type { Model, Working } from '$contract/common.ts';
import type { MathNode } from './maths.ts';
import type { OwnPart } from './own/part.ts';

export type Certainty = Working['certainty'];

export type Equation = {
  /** Several where it would be wider than a phone: they stand under each other. */
  maths: MathNode | readonly MathNode[];
  /** The same in words, for who does not read formulas. */
  words: string;
};

export type Symbol = { sign: MathNode; meaning: string; /** Left out where it is a plain number. */ unit?: string };

export type Figure = { what: string; source: string; certainty: Certainty };

/** A published figure beside what the model gives. */
export type ModelCheck = {
  what: string;
  source: string;
  /** As published; a day or a list as text, which has to agree exactly. */
  published: number | string;
  found: number | string;
  unit: string;
  /** How far the two may be apart: the rounding of the published figure, or what the source allows. */
  within: number;
};

export type ModelPage = {
  slug: Model;
  /** What it is for, in one sentence for somebody who smokes fish once a year. */
  purpose: string;
  /** What a person may work out with it; left out where its place is elsewhere. */
  own?: readonly OwnPart[];
  /** Where that is. */
  elsewhere?: { text: string; label: string; href: string };
  equations: readonly Equation[];
  symbols: readonly Symbol[];
  figures: readonly Figure[];
  range: { holds: string; outside: string };
  /** Reckoned anew each time: a page cannot drift from the domain. */
  checks: () => ModelCheck[];
  limits: readonly string[];
  /** What it never stands in for. */
  never: string;
};

/** How far apart the two are; null where they are words. */
export function differenceOf({ published, found }: ModelCheck): number | null {
  return typeof published === 'number' && typeof found === 'number' ? found - published : null;
}

/** Whether a model gives the published figure. Rounding in binary is forgiven, nothing else. */
export function agrees(check: ModelCheck): boolean {
  const difference = differenceOf(check);
  if (difference === null) return check.published === check.found;
  return Math.abs(difference) <= check.within * (1 + 1e-9) + 1e-12;
}
