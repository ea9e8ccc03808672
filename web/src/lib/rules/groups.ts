/** The rules in the order of the work, and the words of each part of it. */
import type { Check } from '$contract/common.ts';

export type Group = Check['group'];
export const groupWords: Record<Group, string> = {
  start: 'What may be shared', boat: 'On the boat', cure: 'Preparing and curing', smoke: 'Smoking', cool: 'Cooling', keep: 'Keeping and packing', dates: 'Dates', people: 'Who eats it',
};
const ORDER = Object.keys(groupWords) as Group[];

/** Each part of the work that has any, in its order. */
export function inGroups<T extends { group: Group }>(items: readonly T[]): { group: Group; words: string; items: T[] }[] {
  return ORDER.flatMap((group) => {
    const of = items.filter((item) => item.group === group);
    return of.length === 0 ? [] : [{ group, words: groupWords[group], items: of }];
  });
}
