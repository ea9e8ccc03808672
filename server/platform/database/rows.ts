/** How many rows a page's statement may ask for: the page that was asked for and one more, which tells whether there is a next. */
const AMOUNTS = [21, 51, 101] as const;

/**
 * The least of a few amounts of rows that is more than `limit`, to be written into a statement's text and name. Given as a
 * parameter it would be unknown when the statement is planned; the server would take a plan for any amount to be dear, and
 * plan anew each time. Few amounts keep the statements few. Throws RangeError past the largest page.
 */
export function rowsFor(limit: number): number {
  const amount = AMOUNTS.find((one) => one > limit);
  if (amount === undefined) throw new RangeError(`A page of ${limit} is more than the ${AMOUNTS.at(-1)! - 1} that a list gives.`);
  return amount;
}
