/**
 * A list that grows, read page by page with the cursor the server hands out. Shown by CursorList.
 *
 *   const packs = pages((cursor, signal) => get(withQuery('/api/packs', { cursor, status }), packPage, { signal }));
 *   <CursorList of={packs} empty="No packs yet.">{#snippet item(pack)}...{/snippet}</CursorList>
 */
export interface Page<T> {
  items: T[];
  nextCursor: string | null;
}

export interface Pages<T> {
  readonly items: T[];
  readonly failure: unknown;
  readonly loading: boolean;
  /** Whether the first page has come. */
  readonly ready: boolean;
  readonly more: boolean;
  loadMore(): Promise<void>;
  reload(): Promise<void>;
}

export function pages<T>(read: (cursor: string | undefined, signal: AbortSignal) => Promise<Page<T>>): Pages<T> {
  let items = $state.raw<T[]>([]);
  let next = $state<string | undefined>(undefined);
  let failure = $state.raw<unknown>(null);
  let loading = $state(true);
  let ready = $state(false);
  let current: AbortController | null = null;

  async function run(cursor: string | undefined, before: T[]): Promise<void> {
    current?.abort();
    const controller = new AbortController();
    current = controller;
    const pending = read(cursor, controller.signal);
    loading = true;
    try {
      const page = await pending;
      if (current !== controller) return;
      items = [...before, ...page.items];
      next = page.nextCursor ?? undefined;
      failure = null;
      ready = true;
    } catch (cause) {
      if (current !== controller) return;
      failure = cause;
    }
    loading = false;
  }

  $effect(() => {
    void run(undefined, []);
    return () => {
      current?.abort();
      current = null;
    };
  });

  return {
    get items() {
      return items;
    },
    get failure() {
      return failure;
    },
    get loading() {
      return loading;
    },
    get ready() {
      return ready;
    },
    get more() {
      return next !== undefined;
    },
    loadMore: () => (loading && failure === null ? Promise.resolve() : run(next, items)),
    reload: () => run(undefined, []),
  };
}
