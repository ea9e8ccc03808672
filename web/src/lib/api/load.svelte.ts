/**
 * Something a screen reads from the server, with its three other faces: loading, failed, gone stale.
 *
 *   const batch = load((signal) => get(`/api/batches/${params.id}`, batchView, { signal }));
 *   <Loaded of={batch}>{#snippet children(batch)}<h1>{batch.lot}</h1>{/snippet}</Loaded>
 *   await batch.reload();            // after a change; the old data stays on screen meanwhile
 *
 * Call it while a component is being set up. Reactive values read inside the function start a new load when they change.
 */
export interface Loadable<T> {
  readonly data: T | undefined;
  readonly failure: unknown;
  readonly loading: boolean;
  reload(): Promise<void>;
  /** Puts in what a write already answered, so that nothing has to be fetched again. */
  set(data: T): void;
}

export function load<T>(read: (signal: AbortSignal) => Promise<T>): Loadable<T> {
  let data = $state.raw<T | undefined>(undefined);
  let failure = $state.raw<unknown>(null);
  let loading = $state(true);
  let current: AbortController | null = null;

  async function run(): Promise<void> {
    current?.abort();
    const controller = new AbortController();
    current = controller;
    // Called before the first await, so that an effect sees what the function reads.
    const pending = read(controller.signal);
    loading = true;
    try {
      const answer = await pending;
      if (current !== controller) return;
      data = answer;
      failure = null;
    } catch (cause) {
      if (current !== controller) return;
      failure = cause;
    }
    loading = false;
  }

  $effect(() => {
    void run();
    return () => {
      current?.abort();
      current = null;
    };
  });

  return {
    get data() {
      return data;
    },
    get failure() {
      return failure;
    },
    get loading() {
      return loading;
    },
    reload: run,
    set(next) {
      data = next;
      failure = null;
      // A read that began before the write may bring the older state: it is asked for again.
      if (loading) void run();
    },
  };
}
