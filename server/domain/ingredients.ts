/**
 * Ingredients of several lists as one: each named once, as it was first written, in the order in which they come (the lists'
 * own order is by weight: rule label.content). A list is text, its parts set off by commas, semicolons or lines; what stands in brackets
 * belongs to its part, and a comma between two digits to its number. Two parts are the same whatever their case, spacing and full stop.
 */
export function mergeIngredients(lists: readonly string[]): string {
  const seen = new Map<string, string>();
  for (const part of lists.flatMap(partsOf)) {
    const key = part.normalize('NFC').toLowerCase().replace(/\s+/g, ' ');
    if (!seen.has(key)) seen.set(key, part);
  }
  return [...seen.values()].join(', ');
}

function partsOf(list: string): string[] {
  const parts = [''];
  const characters = [...list];
  const inNumber = (i: number): boolean => /^\d,\d$/.test(characters.slice(i - 1, i + 2).join(''));
  let depth = 0;
  for (const [i, character] of characters.entries()) {
    if (character === '(' || character === '[') depth += 1;
    if (character === ')' || character === ']') depth = Math.max(0, depth - 1);
    if (depth === 0 && /[,;\n]/.test(character) && !inNumber(i)) parts.push('');
    else parts[parts.length - 1] += character;
  }
  return parts.map((part) => part.trim().replace(/\.$/, '').trim()).filter((part) => part !== '');
}
