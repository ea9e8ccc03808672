// What those who eat the fish are told: fit for anybody to read, with no person and no place in it.
import { z } from 'zod';
import { working } from './common.ts';

export const adviceItem = z.object({
  topic: z.enum(['sharing', 'mercury', 'ciguatera', 'listeria', 'parasites', 'allergens']),
  ruleId: z.string(),
  /** Names of the species it is about; empty when it is about all of it. */
  species: z.array(z.string()),
  /** 'avoid': some or all should not eat it; 'limit': how much; 'inform': what is in it or how to treat it. */
  level: z.enum(['avoid', 'limit', 'inform']),
  text: z.string(),
  /** The same for a label; null where it does not belong there. */
  label: z.string().nullable(),
  source: z.string(),
  certainty: working.shape.certainty,
});
/** An allergen that the list of ingredients gives away, with the word that did. */
export const allergenFound = z.object({ code: z.string(), name: z.string(), word: z.string() });

/** On the page of a batch or a pack, and on the public one. */
export const adviceGiven = z.object({
  items: z.array(adviceItem),
  /** The short words that belong on a label. */
  label: z.array(z.string()),
  /** The species in it that a mercury figure is published of: what meals can be reckoned for. */
  mercury: z.array(z.object({ speciesCode: z.string(), name: z.string() })),
});

export type AdviceGiven = z.infer<typeof adviceGiven>;
export type AdviceItem = z.infer<typeof adviceItem>;
export type AllergenFound = z.infer<typeof allergenFound>;
