import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildApp } from './app.ts';
import { ConfigError, readConfig } from './config.ts';
import { applyRules, judgeLapsed } from './features/batches/rules.service.ts';
import { setupCode } from './features/setup/setup.service.ts';
import { syncSpecies } from './features/species/species.service.ts';
import type { Context } from './platform/context.ts';
import { tidyUp } from './platform/database/tidy-up.ts';
import { migrate } from './platform/database/migrate.ts';
import { makeLogger } from './platform/logger.ts';

/** The process: settings, database, listen, stop. */
async function main(): Promise<void> {
  const config = readConfig(process.env);
  const logger = makeLogger(config.logLevel);
  const say = (text: string) => process.stdout.write(`${text}\n`);
  const { openDatabase } = await databaseModule();
  const database = await openDatabase({ databaseUrl: config.databaseUrl, dataDir: config.dataDir, logger });
  const context: Context = { config, database, logger, clock: () => new Date(), random: (bytes) => randomBytes(bytes) };
  try {
    await migrate(database, { logger });
    await syncSpecies(database);
    await applyRules(context);
    await judgeLapsed(context);
    if (process.argv.includes('--demo')) {
      const { loadDemonstration } = await import('../prisma/demo/load.ts');
      say(await loadDemonstration(context));
    }
    await tidyUp(database, context.clock());
  } catch (error) {
    await database.close();
    throw error;
  }
  const app = await buildApp({ ...context, webDir: webDir() });
  const stopTidying = every(24 * 3600_000, () => tidyUp(database, context.clock()).catch((error: unknown) => logger.warn({ err: error }, 'tidying up failed')));
  const stopLapsing = every(3600_000, () => judgeLapsed(context).catch((error: unknown) => logger.warn({ err: error }, 'judging anew failed')));
  let stopping = false;
  const stop = (signal: string) => {
    if (stopping) return;
    stopping = true;
    logger.info({ signal }, 'stopping');
    stopTidying();
    stopLapsing();
    // app.close lets requests under way finish; whatever still hangs after 20 s is given up.
    const givenUp = setTimeout(() => process.exit(1), 20_000);
    app.close().then(() => database.close()).then(
      () => {
        clearTimeout(givenUp);
        process.exit(0);
      },
      (error: unknown) => {
        logger.error({ err: error }, 'could not stop cleanly');
        process.exit(1);
      },
    );
  };
  process.on('SIGTERM', () => stop('SIGTERM'));
  process.on('SIGINT', () => stop('SIGINT'));
  await app.listen({ host: config.host, port: config.port });
  say(await greeting(context));
}

/** Loaded late: its client is made by a tool that an install without development dependencies lacks. */
async function databaseModule(): Promise<typeof import('./platform/database/open.ts')> {
  try {
    return await import('./platform/database/open.ts');
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code !== 'ERR_MODULE_NOT_FOUND' || !message.includes('prisma-client')) throw error;
    const how = 'Run "npm install && npm run build" once, then "npm prune --omit=dev"; or copy server/platform/prisma-client from such an install.';
    throw Object.assign(new Error(`The database client is not made: its maker is a development dependency. ${how}`), { plain: true });
  }
}

function webDir(): string | null {
  const built = fileURLToPath(new URL('../web/build', import.meta.url));
  return existsSync(path.join(built, 'index.html')) ? built : null;
}

function every(milliseconds: number, work: () => unknown): () => void {
  const timer = setInterval(work, milliseconds);
  timer.unref();
  return () => clearInterval(timer);
}

async function greeting({ config, database }: Context): Promise<string> {
  const clubs = await database.query('main-club', 'select 1 from club', []);
  const lines = ['', `  Tidelarder is at ${config.publicUrl}`, `  It listens on ${config.host}, port ${config.port}.`];
  if (clubs.length === 0) lines.push('', '  There is no club yet. Open the address above and enter this code once:', '', `      ${setupCode(config)}`);
  return [...lines, ''].join('\n');
}

function plainWords(error: NodeJS.ErrnoException & { port?: number }): string | null {
  if (error.code === 'EADDRINUSE') return `Port ${error.port ?? ''} is in use. Stop what uses it, or set PORT to another number.`;
  if (error.code === 'EACCES') return 'This port or folder may not be used by this user. Set PORT to a number above 1023, or change DATA_DIR.';
  if (error.code === 'EADDRNOTAVAIL') return 'HOST is not an address of this machine. Use 127.0.0.1 or 0.0.0.0.';
  return null;
}

try {
  await main();
} catch (error) {
  const plain = error instanceof ConfigError || (error as { plain?: boolean }).plain === true ? (error as Error).message : plainWords(error as NodeJS.ErrnoException);
  console.error(plain ?? error);
  process.exit(1);
}
