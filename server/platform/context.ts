import type { FastifyBaseLogger } from 'fastify';
import type { Config } from '../config.ts';
import type { Role } from '../contract/common.ts';
import type { Database } from './database/open.ts';

/** The time. Injected, so that tests can choose it. */
export type Clock = () => Date;
/** Random bytes. Injected, so that tests can repeat themselves. */
export type Random = (bytes: number) => Uint8Array;

/** What every use case may lean on. */
export type Context = {
  config: Config;
  database: Database;
  clock: Clock;
  random: Random;
  logger: FastifyBaseLogger;
};

/** Who asks. */
export type Actor = { id: string; name: string; role: Role };
