/**
 * Whether the server can be reached, for the banner at the top and for anything that wants to wait for the signal.
 *
 *   {#if !connection.up} ... {/if}
 */
import type { NetworkFailure } from './problem.ts';

class Connection {
  /** What the device says. It may say "online" beside a router that leads nowhere. */
  online = $state(typeof navigator === 'undefined' ? true : navigator.onLine);
  /** The last request that got no answer, until one does. */
  lastFailure = $state.raw<NetworkFailure | null>(null);

  get up(): boolean {
    return this.online && this.lastFailure === null;
  }

  answered(): void {
    if (this.lastFailure !== null) this.lastFailure = null;
    if (!this.online) this.online = true;
  }

  failed(failure: NetworkFailure): void {
    this.lastFailure = failure;
  }

  /** Follows the device's own events; returns the way to stop. */
  listen(target: Window): () => void {
    const up = (): void => {
      this.online = true;
      this.lastFailure = null;
    };
    const down = (): void => {
      this.online = false;
    };
    target.addEventListener('online', up);
    target.addEventListener('offline', down);
    return () => {
      target.removeEventListener('online', up);
      target.removeEventListener('offline', down);
    };
  }
}

export const connection = new Connection();
