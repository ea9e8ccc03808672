/** What nobody recorded, beside a verdict that is clear without it: "Cured in the cold" and the like within one sentence. */
export function sayUnrecorded(titles: readonly string[]): string {
  const words = titles.map((title) => title.charAt(0).toLowerCase() + title.slice(1));
  return words.length === 0 ? '' : `By what was recorded. Nobody recorded: ${words.join('; ')}.`;
}
