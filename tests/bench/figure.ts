/** One line of the table: what was measured against what, both in this run. */
export type Figure = {
  id: string;
  ratio: number;
  target: number;
  better: 'higher' | 'lower';
  /** The two measurements in words, for the table alone. */
  detail: string;
};

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

/** The value that a share of them does not exceed (nearest rank). */
export function percentile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)]!;
}

export const met = ({ ratio, target, better }: Figure) => (better === 'higher' ? ratio >= target : ratio <= target);

export function table(figures: readonly Figure[]): string {
  const rows = [
    ['figure', 'ratio', 'target', '', 'measured'],
    ...figures.map((f) => [f.id, f.ratio.toFixed(2), `${f.better === 'higher' ? '>=' : '<='} ${f.target}`, met(f) ? 'met' : 'missed', f.detail]),
  ];
  const widths = rows[0]!.map((_, column) => Math.max(...rows.map((row) => row[column]!.length)));
  return rows.map((row) => row.map((cell, column) => cell.padEnd(widths[column]!)).join('  ').trimEnd()).join('\n');
}
