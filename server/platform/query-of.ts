import type { RawQuery, Tx } from './database/open.ts';

/** Plain SQL inside a Prisma transaction, in the shape that raw transactions have, so that one store serves both. */
export const queryOf = (tx: Tx): RawQuery =>
  ((_name: string, text: string, params: unknown[] = []) => tx.$queryRawUnsafe(text, ...params)) as RawQuery;
