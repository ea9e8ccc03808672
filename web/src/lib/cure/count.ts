/** A count of the stock, as a form has it. */
import type { StockItem } from '$contract/cures.ts';
import { STOCK_KINDS, STOCK_NAMES } from '$domain/cure/stock.ts';

export interface CountLine {
  key: number;
  /** What stands on the list already; null: something new. */
  itemId: string | null;
  /** A kind that the service knows, 'other', or nothing chosen yet. */
  choice: string;
  /** Of something else. */
  name: string;
  /** null: not weighed now. */
  grams: number | null;
  gone: boolean;
}

export const stockChoices = [...STOCK_KINDS.map((value) => ({ value: value as string, label: STOCK_NAMES[value] })), { value: 'other', label: 'Something else' }];

let keys = 0;
export const newCount = (): CountLine => ({ key: keys++, itemId: null, choice: '', name: '', grams: null, gone: false });
export const countLines = (items: readonly StockItem[]): CountLine[] => items.map((item) => ({ ...newCount(), itemId: item.id, choice: item.ingredient ?? 'other', name: item.ingredient === null ? item.name : '' }));

/** What was weighed, and what comes off the list. */
export const countBody = (lines: readonly CountLine[]): unknown => ({
  counts: lines.filter((line) => line.grams !== null || line.gone).map((line) => ({ ingredient: line.choice === 'other' || line.choice === '' ? null : line.choice, name: line.name, grams: line.gone ? null : line.grams })),
});
