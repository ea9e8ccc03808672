import type { Working } from '$contract/common.ts';

/** How sure a figure is, in a few words. */
export const certaintyWords: Record<Working['certainty'], string> = {
  published: 'Published',
  'from memory': 'Figure remembered, not checked against its source',
  'common practice': 'Common practice, no source',
  arithmetic: 'Plain arithmetic',
};
