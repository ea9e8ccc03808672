import { findSpecies } from './species/index.ts';
import type { Conversion, Species } from './species/index.ts';
import { DomainError } from './working.ts';
import type { Form, ProductKind, StageKind, Working } from './working.ts';

export type Cure = { kind: 'dry' } | { kind: 'wet'; brinePct: number };
export type YieldQuestion = {
  /** A species code. */
  species: string;
  /** The form the fish came in. */
  form: Form;
  product: ProductKind;
  /** A stage, or 'overall' from the form it came in to the product. */
  stage: StageKind | 'overall';
  /** The form it is prepared to: fillet when left out. */
  to?: Form;
  /** How it is cured; every kind of cure when left out, which widens the range. */
  cure?: Cure;
};
export type YieldRange = { lowPct: number; likelyPct: number; highPct: number };
export type ExpectedYield = ({ known: true; working: Working } & YieldRange) | { known: false; reason: string; /** An upper bound, where only that is published. */ highPct: number | null };

const CURE_SOURCE = 'weight change in brine, from memory';
const SMOKE_SOURCE = 'smoking loss, from memory';
/** Smoking, with the drying before it, takes 7 to 20 % of the weight (models.md, from memory). */
const SMOKE: YieldRange = { lowPct: 80, likelyPct: 86.5, highPct: 93 };
/** A single published factor has no spread: five parts in a hundred either way are allowed (common practice). */
const SPREAD = 0.05;

/**
 * The yield to expect, in percent of what went in, as a range with the likely value;
 * or `known: false` with the reason. From conversion factors and edible flesh (prepare),
 * weight change in brine (cure) and smoking loss (smoke); 'overall' multiplies those
 * that apply. No source gives a figure for rinsing, drying by itself, cooling, mixing
 * or packing. Throws DomainError on a brine strength outside 0 to 26.4 %.
 */
export function expectedYield(question: YieldQuestion): ExpectedYield {
  const { stage, product } = question;
  if (stage === 'prepare') return prepareYield(question);
  if (stage === 'cure') return known(cureRange(question.cure), `cure: ${describe(question.cure)}`, CURE_SOURCE, 'from memory');
  if (stage === 'smoke') return known(SMOKE, '100 % less 7 to 20 %, drying before it included', SMOKE_SOURCE, 'from memory');
  if (stage !== 'overall') return unknown(`No source gives a figure for the ${stage} stage.`);
  if (product === 'dip') return unknown('A dip is as much as is mixed into it: there is no yield to expect.');
  return product === 'raw' ? prepareYield(question) : overallYield(question);
}

/** Whether a yield in percent lies in the expected range; null when either is not known. */
export function compare(actualPct: number | null, expected: ExpectedYield): 'within' | 'below' | 'above' | null {
  if (actualPct === null) return null;
  if (!expected.known) return expected.highPct !== null && actualPct > expected.highPct ? 'above' : null;
  if (actualPct < expected.lowPct) return 'below';
  return actualPct > expected.highPct ? 'above' : 'within';
}

function overallYield(question: YieldQuestion): ExpectedYield {
  const prepared = prepareYield(question);
  if (!prepared.known) return { ...prepared, highPct: null };
  const cure = cureRange(question.cure);
  const times = (key: keyof YieldRange) => (prepared[key] * cure[key] * SMOKE[key]) / 10_000;
  return known({ lowPct: times('lowPct'), likelyPct: times('likelyPct'), highPct: times('highPct') }, 'prepare x cure x smoke', `${prepared.working.source}; ${CURE_SOURCE}; ${SMOKE_SOURCE}`, 'from memory');
}

function prepareYield({ species: code, form, to = 'fillet' }: YieldQuestion): ExpectedYield {
  const species = findSpecies(code);
  if (!species) return unknown('The species is not in the table.');
  if (form === to) return unknown(`It comes as ${form} and stays so: only trim is lost, and no source gives a figure for that.`);
  if (ORDER.indexOf(form) > ORDER.indexOf(to)) return unknown(`Fish that came as ${form} cannot become ${to}.`);
  const from = form === 'whole' ? 1 : species.conversion && factor(species.conversion, form);
  if (!from) return onlyUpperBound(species, form, to);
  return to === 'fillet' ? filletYield(species, form, from) : cutYield(species, form, to, from);
}

const ORDER: readonly Form[] = ['whole', 'gutted', 'headed-gutted', 'fillet'];

function factor(conversion: Conversion, form: Form): number | null {
  if (form === 'gutted') return conversion.gutted;
  return form === 'headed-gutted' ? conversion.guttedHeaded : null;
}

/** Fillets: skinless is the low end, skin on the likely one, all the flesh there is the high end. */
function filletYield(species: Species, form: Form, from: number): ExpectedYield {
  const { conversion, edibleYield } = species;
  const skinOn = conversion?.filletSkinOn ?? null;
  const skinless = conversion?.filletSkinless ?? null;
  if (!conversion || skinOn === null || skinless === null) return onlyUpperBound(species, form, 'fillet');
  const likelyPct = (100 * from) / skinOn;
  const lowPct = (100 * from) / Math.max(skinless, skinOn);
  const bound = edibleYield ? Math.min(100, edibleYield.percentOfWhole * from) : 0;
  const range = lowPct === likelyPct ? { lowPct: lowPct * (1 - SPREAD), likelyPct, highPct: Math.max(bound, likelyPct * (1 + SPREAD)) } : { lowPct, likelyPct, highPct: Math.max(bound, likelyPct) };
  const sources = [conversion.source, ...(edibleYield ? [`${edibleYield.source} (upper bound)`] : [])].join('; ');
  return known(range, `100 x ${from} / ${skinOn} skin on, / ${skinless} skinless, at most all the flesh`, sources, 'published');
}

/** Gutted, or headed and gutted: one published factor. */
function cutYield(species: Species, form: Form, to: Form, from: number): ExpectedYield {
  const into = species.conversion && factor(species.conversion, to);
  if (!into) return unknown(`No source gives a figure for ${species.name} from ${form} to ${to}.`);
  const likelyPct = (100 * from) / into;
  const range = { lowPct: likelyPct * (1 - SPREAD), likelyPct, highPct: Math.min(100, likelyPct * (1 + SPREAD)) };
  return known(range, `100 x ${from} / ${into}, give or take ${SPREAD * 100} % (common practice)`, species.conversion!.source, 'published');
}

function onlyUpperBound(species: Species, form: Form, to: Form): ExpectedYield {
  if (form !== 'whole' || to !== 'fillet' || !species.edibleYield) return unknown(`No source gives a figure for ${species.name} from ${form} to ${to}.`);
  const { percentOfWhole, source } = species.edibleYield;
  return { known: false, reason: `Only an upper bound is published for ${species.name}: ${percentOfWhole} % of the whole fish is flesh (${source}).`, highPct: percentOfWhole };
}

/**
 * Weight after a cure: +2 to +8 % in brine of 6 to 10 %, none near 15 %, -3 to -10 % at
 * 20 % or in a dry cure; straight lines between those. Weaker brine counts as 6 %.
 */
function cureRange(cure: Cure | undefined): YieldRange {
  if (!cure) return { lowPct: 90, likelyPct: 100, highPct: 108 };
  if (cure.kind === 'dry') return { lowPct: 90, likelyPct: 93.5, highPct: 97 };
  const p = cure.brinePct;
  if (!(p >= 0 && p <= 26.4)) {
    throw new DomainError({ code: 'yield.brine', field: 'brinePct', label: 'brine', value: p, shown: `${p} %`, problem: 'is not from 0 to 26.4 %, where brine is saturated', remedy: 'enter percent salt by weight' });
  }
  const between = (at10: number, at20: number) => 100 + (p <= 10 ? at10 : p <= 15 ? (at10 * (15 - p)) / 5 : (at20 * Math.min(p - 15, 5)) / 5);
  const [lowPct, highPct] = [between(2, -10), between(8, -3)];
  return { lowPct, likelyPct: (lowPct + highPct) / 2, highPct };
}

function describe(cure: Cure | undefined): string {
  if (!cure) return 'any kind';
  return cure.kind === 'dry' ? 'dry' : `brine of ${cure.brinePct} %`;
}

function known(range: YieldRange, formula: string, source: string, certainty: Working['certainty']): ExpectedYield {
  return {
    known: true, ...range,
    working: {
      inputs: [{ name: 'low', value: range.lowPct, unit: '%' }, { name: 'likely', value: range.likelyPct, unit: '%' }, { name: 'high', value: range.highPct, unit: '%' }],
      model: 'yield', formula, source, certainty,
    },
  };
}

function unknown(reason: string): ExpectedYield {
  return { known: false, reason, highPct: null };
}
