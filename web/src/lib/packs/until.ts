import type { PackLine } from '$contract/packs.ts';
import { clubDay, showShortDay } from '$lib/show.ts';

/** Until when a pack is good, in a few words: 'use by tomorrow'. */
export function untilWords(pack: Pick<PackLine, 'verdict' | 'lastDay' | 'dateKind'>): string {
  if (pack.verdict !== 'clear' || pack.lastDay === null) return 'no date yet';
  return `${pack.dateKind === 'use-by' ? 'use by' : 'best before'} ${showShortDay(pack.lastDay, clubDay(new Date()))}`;
}
