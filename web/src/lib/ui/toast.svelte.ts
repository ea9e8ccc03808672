/**
 * A short word at the foot of the page, read out by screen readers: what was done, and the way back where there is one.
 *
 *   toast('Landing recorded.');
 *   toast('Pack 12 discarded.', { undo: () => patch(...) });
 *   toast.failed(cause);
 */
import { explain } from '../api/problem.ts';

export interface Toast {
  id: number;
  text: string;
  tone: 'done' | 'failed';
  undo?: () => unknown;
}

const SHOWN_MS = 6_000;
/** What can be undone stays longer: people read first. */
const UNDO_MS = 12_000;

let counter = 0;
const list = $state<Toast[]>([]);

export const toasts: readonly Toast[] = list;

export function dismiss(id: number): void {
  const index = list.findIndex((entry) => entry.id === id);
  if (index >= 0) list.splice(index, 1);
}

/** Takes these words away before their time, where they are not true any more. */
export function dismissSaid(text: string): void {
  for (const entry of list.filter((one) => one.text === text)) dismiss(entry.id);
}

function show(text: string, tone: Toast['tone'], undo?: () => unknown): void {
  counter += 1;
  // The same words twice over would only cover more of the page.
  const same = list.findIndex((entry) => entry.text === text && !entry.undo);
  if (same >= 0) list.splice(same, 1);
  const id = counter;
  list.push({ id, text, tone, ...(undo ? { undo } : {}) });
  if (list.length > 3) list.shift();
  setTimeout(() => dismiss(id), undo ? UNDO_MS : SHOWN_MS);
}

export function toast(text: string, options: { undo?: () => unknown } = {}): void {
  show(text, 'done', options.undo);
}

toast.failed = (cause: unknown): void => {
  const told = explain(cause);
  show([told.detail ?? told.title, told.remedy].filter(Boolean).join(' '), 'failed');
};
