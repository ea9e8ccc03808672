/** How a batch's own page lists its packs. */
import type { PackLine } from '$contract/packs.ts';

type Status = PackLine['status'];
const WORDS: Readonly<Record<Status, string>> = { ready: 'in the larder', claimed: 'claimed', 'handed-over': 'handed over', used: 'used', discarded: 'discarded' };
const ORDER: readonly Status[] = ['ready', 'claimed', 'handed-over', 'used', 'discarded'];
const GONE: readonly Status[] = ['used', 'discarded'];

/** What is still there first, each kind in the order of its numbers. */
export const inHand = <P extends Pick<PackLine, 'status'>>(packs: readonly P[]): P[] => [...packs.filter((p) => !GONE.includes(p.status)), ...packs.filter((p) => GONE.includes(p.status))];

/** "29 in the larder, 3 claimed, 3 used". */
export function tally(packs: readonly Pick<PackLine, 'status'>[]): string {
  return ORDER.flatMap((status) => {
    const count = packs.filter((p) => p.status === status).length;
    return count === 0 ? [] : [`${count} ${WORDS[status]}`];
  }).join(', ');
}
