/** What keeps a tap or the back button from doing more to an open sheet than was meant. */

/** A second tap comes within this time of the first. */
const DOUBLE_TAP_MS = 400;

/** Takes every tap for a moment: the second of a double tap on a sheet that closes would fall on whatever lies behind it. */
export function swallowTaps(body: HTMLElement = document.body): void {
  const shield = body.ownerDocument.createElement('div');
  shield.className = 'sheet-shield';
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
