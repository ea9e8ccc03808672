import { readFileSync } from 'node:fs';

/** The rows of a reference table copied beside the domain tests, without its heading; cells may be quoted. */
export function table(name: string): string[][] {
  const text = readFileSync(new URL(`../domain/tables/${name}.csv`, import.meta.url), 'utf8');
  const rows = text.trim().split('\n').slice(1).map((line) => [...line.matchAll(/(?:^|,)(?:"([^"]*)"|([^,]*))/g)].map((cell) => cell[1] ?? cell[2] ?? ''));
  if (rows.length === 0) throw new Error(`${name} has no rows`);
  return rows;
}

/** The same with every cell a number. */
export function numbers(name: string): number[][] {
  return table(name).map((row) => row.map((cell) => {
    const value = Number(cell);
    if (cell === '' || Number.isNaN(value)) throw new Error(`${name}: ${cell} is no number`);
    return value;
  }));
}
