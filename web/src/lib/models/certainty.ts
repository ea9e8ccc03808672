import type { Working } from '$contract/common.ts';

/** How sure a figure is, in a few words. */
export const certaintyWords: Record<Working['certainty'], string> = {
  published: 'Published',
  'from memory': 'From memory, not checked against a document',
  'common practice': 'Common practice, no source',
  arithmetic: 'Plain arithmetic',
};
