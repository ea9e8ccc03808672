import type { AdviceItem } from '$contract/advice.ts';

export const topicWords: Record<AdviceItem['topic'], string> = {
  sharing: 'Sharing', mercury: 'Mercury', ciguatera: 'Ciguatera', listeria: 'Listeria', parasites: 'Worms', allergens: 'Allergens',
};
export const certaintyWords: Record<AdviceItem['certainty'], string> = {
  published: 'Published', 'from memory': 'Some figures remembered, not checked against their source', 'common practice': 'Common practice, no source', arithmetic: 'Plain arithmetic',
};
