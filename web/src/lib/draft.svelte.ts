/**
 * What a person had entered on this device, kept for a day: closing the page, or a phone that sleeps, loses nothing.
 *
 *   const draft = createDraft({ name: 'forecast', of: batch.id, start: () => startForecast(batch) });   // while a component is made
 *   <Fields bind:values={draft.values} />        <DraftNote {draft} />
 *
 * Kept for the member who is signed in, and for nobody else; signing out takes it away. What is as it starts is not kept.
 */
import { untrack } from 'svelte';

export interface DraftOptions<V extends object> {
  name: string;
  /** The record that it is about, so that each has its own. */
  of: string;
  start: () => V;
  /** Whether what was kept can still be used; that it has the parts of `start` is seen to. */
  fits?: (kept: V) => boolean;
}

export interface Draft<V extends object> {
  values: V;
  /** Whether anything differs from the start. */
  readonly changed: boolean;
  /** When what was found here was entered, in milliseconds; null when nothing was. */
  readonly keptAt: number | null;
  afresh: () => void;
}

const PREFIX = 'tidelarder.draft.';
const KEPT_MS = 24 * 3_600_000;
let owner: string | null = null;

export function createDraft<V extends object>({ name, of, start, fits }: DraftOptions<V>): Draft<V> {
  // As it would be read back: parts that are undefined are not kept.
  const first = JSON.stringify(untrack(start));
  const atStart = (): V => JSON.parse(first) as V;
  const key = draftKey(name, of);
  const found = keptDraft(key, Date.now());
  const usable = found && alike(found.values, atStart()) && (fits?.(found.values as V) ?? true) ? found : null;
  let values = $state<V>(usable ? (usable.values as V) : atStart());
  let keptAt = $state.raw<number | null>(usable?.at ?? null);
  const now = $derived(JSON.stringify(values));
  const changed = $derived(now !== first);
  // What was found and not touched keeps its time: looking at it does not make it younger.
  let last = untrack(() => now);
  $effect(() => {
    if (now === last) return;
    last = now;
    if (changed) keepDraft(key, now, Date.now());
    else dropDraft(key);
  });
  return {
    get values() {
      return values;
    },
    set values(next) {
      values = next;
    },
    get changed() {
      return changed;
    },
    get keptAt() {
      return keptAt;
    },
    afresh() {
      values = atStart();
      keptAt = null;
    },
  };
}

/** Who is signed in here; what anybody else left, and what is older than a day, goes. */
export function keepDraftsOf(memberId: string, now: number = Date.now()): void {
  owner = memberId;
  for (const key of draftKeys()) if (keptDraft(key, now) === null) dropDraft(key);
}

/** Signing out: nothing of it stays on the device. */
export function dropDrafts(): void {
  owner = null;
  for (const key of draftKeys()) dropDraft(key);
}

export const draftKey = (name: string, of: string): string => `${PREFIX}${name}.${of}`;

export function keepDraft(key: string, json: string, at: number): void {
  if (owner === null) return;
  try {
    localStorage.setItem(key, `{"owner":${JSON.stringify(owner)},"at":${at},"values":${json}}`);
  } catch {
    // No room, or storage refused: it then holds until the page closes.
  }
}

/** What was kept for the member who is signed in, within a day; null for anything else. */
export function keptDraft(key: string, now: number): { values: unknown; at: number } | null {
  try {
    const kept = JSON.parse(localStorage.getItem(key) ?? 'null') as { owner?: unknown; at?: unknown; values?: unknown } | null;
    if (kept === null || kept.owner !== owner || typeof kept.at !== 'number' || !(now - kept.at < KEPT_MS)) return null;
    return { values: kept.values, at: kept.at };
  } catch {
    return null;
  }
}

function dropDraft(key: string): void {
  try {
    localStorage.removeItem(key);
  } catch {
    // Then there was nothing to take away.
  }
}

function draftKeys(): string[] {
  try {
    return Object.keys(localStorage).filter((key) => key.startsWith(PREFIX));
  } catch {
    return [];
  }
}

/** Whether two values have the same parts: an earlier version of the screen may have kept others. */
export function alike(kept: unknown, start: unknown): boolean {
  if (kept === null || start === null) return typeof (kept ?? start) !== 'object' || kept === start;
  if (Array.isArray(start)) return Array.isArray(kept) && (start.length === 0 || kept.every((item) => alike(item, start[0])));
  if (typeof start !== 'object' || typeof kept !== 'object') return typeof kept === typeof start;
  const keys = Object.keys(start);
  return keys.length === Object.keys(kept).length && keys.every((key) => key in kept && alike(kept[key as keyof typeof kept], start[key as keyof typeof start]));
}
