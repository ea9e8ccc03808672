import type { Certainty } from '../working.ts';

export type AdviceTopic = 'sharing' | 'mercury' | 'ciguatera' | 'listeria' | 'parasites' | 'allergens';

/** One piece of advice in plain words, fit for a page that anybody may read. It names no place and no person. */
export type AdviceItem = {
  topic: AdviceTopic;
  ruleId: string;
  /** Species names it is about; empty when it is about all of it. */
  species: string[];
  /** 'avoid': some or all should not eat it. 'limit': how much. 'inform': what is in it or how to treat it. */
  level: 'avoid' | 'limit' | 'inform';
  text: string;
  /** The same for a label; null where it does not belong there. */
  label: string | null;
  source: string;
  certainty: Certainty;
};
