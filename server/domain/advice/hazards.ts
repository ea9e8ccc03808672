import type { Species } from '../species/types.ts';
import type { ProductKind } from '../working.ts';
import { list } from './mercury.ts';
import type { AdviceItem } from './types.ts';

/** Fish that is not shared at all. */
export function sharingAdvice(species: readonly Species[]): AdviceItem[] {
  return species.filter((one) => one.sharing === 'refuse').map((one) => ({
    topic: 'sharing', ruleId: 'hazards', species: [one.name], level: 'avoid', text: `${one.name}: do not share or eat it. ${one.sharingReason ?? ''}`.trim(),
    label: 'Do not eat.', source: one.hazardSource, certainty: 'published',
  }));
}

/**
 * Ciguatera in warm waters. Only where it was caught matters, and no area in words proves
 * cold water, so it is said for every species that can carry it. The place is not named:
 * the page is public.
 */
export function ciguateraAdvice(species: readonly Species[]): AdviceItem[] {
  const risky = species.filter((one) => one.ciguatera || /ciguatera/i.test(one.hazardNote));
  if (risky.length === 0) return [];
  const fromMemory = risky.some((one) => one.hazardSource === 'from memory');
  return [{
    topic: 'ciguatera', ruleId: 'people.ciguatera', species: risky.map((one) => one.name), level: 'inform',
    text: `From warm reef waters this can carry ciguatera: ${list(risky.map((one) => one.name))}. ${CIGUATERA_WORDS}`,
    label: null, source: CIGUATERA_SOURCE, certainty: fromMemory ? 'from memory' : 'published',
  }];
}

/** What is true of it whatever the species. */
export const CIGUATERA_WORDS = 'Nothing removes it: not freezing, salting, smoking or cooking. Only where it was caught matters: ask the club. Tingling, or hot and cold reversed: see a doctor and say what you ate.';
export const CIGUATERA_SOURCE = 'HG ch. 6; FDA Managing Food Safety annex 2 table 1 (2006); signs from memory';

/** Who should not eat it as it is. Source: CDC 2014 (rule people.listeria). */
export function listeriaAdvice(product: ProductKind): AdviceItem[] {
  if (product === 'raw') return [];
  return [{
    topic: 'listeria', ruleId: 'people.listeria', species: [], level: 'avoid',
    text: `Pregnant, over 65 or with weak immunity: do not eat refrigerated smoked fish${product === 'dip' ? ' or spread' : ''} unless it is cooked again to 74 C (165 F).`,
    label: 'Pregnant, over 65 or weak immunity: cook to 74 C (165 F) first.', source: 'CDC 2014', certainty: 'published',
  }];
}

/** Groups whose flesh is known for worms, from memory; the rule itself is for all fish. */
const SEA_WORMS = new Set(['salmon and trout', 'cod family', 'herrings', 'mackerels', 'rockfish', 'flatfish']);
const FRESH_WORMS = new Set(['salmon and trout', 'perches', 'whitefish', 'freshwater fish']);
const FRESH_AREA = /\b(?:lakes?|rivers?|fresh ?water|reservoir|pond|creek|loch|lough)\b/i;

/** Parasites: nothing to do for fish that is hot-smoked through; raw fish is cooked or frozen hard. */
export function parasiteAdvice(species: readonly Species[], area: string | null, product: ProductKind): AdviceItem[] {
  if (product !== 'raw') return [];
  const fresh = area !== null && FRESH_AREA.test(area);
  const known = species.filter((one) => (fresh ? FRESH_WORMS : SEA_WORMS).has(one.group) || /parasite/i.test(one.hazardNote) || FRESH_WORMS.has(one.group)).map((one) => one.name);
  return [{
    topic: 'parasites', ruleId: 'parasite', species: known.length > 0 ? known : species.map((one) => one.name), level: 'inform',
    text: `${known.length > 0 ? `${list(known)} often ${known.length > 1 ? 'carry' : 'carries'} worms. ` : ''}Raw fish: cook it before eating. To eat it raw or cold-smoked it must first be frozen at -20 C for 168 hours (7 days), or at -35 C until solid and then 15 hours at -35 C or 24 hours at -20 C. A kitchen freezer is seldom so cold.`,
    label: 'Raw fish: cook before eating.', source: 'FC 3-402.11; EU 853/2004; which fish are known for it, and kitchen freezers, from memory', certainty: 'from memory',
  }];
}
