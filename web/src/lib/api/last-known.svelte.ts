/**
 * Something read from the server that stays of use with no signal: until it is read, what this device read last stands in.
 *
 *   const stock = lastKnown('cure-stock', '/api/cure-stock', stockList);       // while a component is made
 *   {stock.data?.items}  {#if stock.at !== null}as of {showDayTime(new Date(stock.at))}{/if}
 */
import type { z } from 'zod';
import { get } from './client.ts';
import { keepAnswer, keptAnswer } from './kept-answers.ts';
import { load } from './load.svelte.ts';

export interface LastKnown<T> {
  readonly data: T | undefined;
  readonly failure: unknown;
  readonly loading: boolean;
  /** When what stands in was read, in milliseconds; null when it was read just now. */
  readonly at: number | null;
  reload(): Promise<void>;
  set(data: T): void;
}

export function lastKnown<T>(name: string, url: string, schema: z.ZodType<T>): LastKnown<T> {
  const kept = keptAnswer(name);
  // What an earlier version of the service said may have another shape.
  const usable = kept === null ? undefined : schema.safeParse(kept.answer);
  const read = load(async (signal) => {
    const answer = await get(url, schema, { signal });
    keepAnswer(name, answer, Date.now());
    return answer;
  });
  return {
    get data() {
      return read.data ?? usable?.data;
    },
    get failure() {
      return read.failure;
    },
    get loading() {
      return read.loading;
    },
    get at() {
      return read.data === undefined && usable?.success ? kept!.at : null;
    },
    reload: read.reload,
    set(next) {
      read.set(next);
      keepAnswer(name, next, Date.now());
    },
  };
}
