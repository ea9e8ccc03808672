const LETTERS: Record<string, string> = { ø: 'o', æ: 'ae', å: 'a', ß: 'ss', ł: 'l', đ: 'd', ð: 'd', þ: 'th' };

/** A user name a person may like: their first name in plain letters, or nothing when it has none. */
export function offerUserName(name: string): string {
  const first = name.trim().split(/\s+/)[0] ?? '';
  const plain = first
    .toLowerCase()
    .replace(/[øæåßłđðþ]/g, (letter) => LETTERS[letter] ?? '')
    .normalize('NFD')
    .replace(/[^a-z0-9]/g, '')
    .slice(0, 30);
  return plain.length >= 2 ? plain : '';
}
