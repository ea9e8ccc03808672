/** How a claim stands, in one word wherever it or its pack is shown: claimed, and once a captain has said so confirmed. */
import type { Claim, PackLine } from '$contract/packs.ts';
import { states, type StateName } from '$lib/ui/states.ts';

/** The mark of a pack in a list; of a claim that stands, with whose it is. */
export function packMark({ status, claim, mine }: Pick<PackLine, 'status' | 'claim' | 'mine'>): { state: StateName; word?: string } {
  if (status !== 'claimed') return { state: status };
  const state = claim?.status === 'confirmed' ? 'confirmed' : 'claimed';
  const of = { claimed: 'by', confirmed: 'for' }[state];
  if (mine) return { state, word: `${state} ${of} you` };
  return claim ? { state, word: `${state} ${of} ${claim.member.name}` } : { state };
}

/** Behind the name of who claimed it. */
export const claimWord = (status: Claim['status']): string => (status === 'asked' ? 'not confirmed yet' : states[status].word);
