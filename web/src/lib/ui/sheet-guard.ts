/** What keeps a tap or the back button from doing more than was meant. */

/** A second tap comes within this time of the first, which is how most systems count a double one. */
export const DOUBLE_TAP_MS = 500;

/** Takes every tap for a moment: the second of a double tap on what goes away would fall on whatever lies behind it or moves into its place. */
export function swallowTaps(body: HTMLElement = document.body): void {
  const shield = body.ownerDocument.createElement('div');
  shield.className = 'tap-shield';
  body.append(shield);
  setTimeout(() => shield.remove(), DOUBLE_TAP_MS);
}

const open: object[] = [];

/** The sheets that are open, the topmost last: one press of back is for that one alone. */
export const openSheets = {
  add(sheet: object): () => void {
    open.push(sheet);
    return () => void open.splice(open.indexOf(sheet), 1);
  },
  isTop: (sheet: object): boolean => open.at(-1) === sheet,
};
