import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { randomBytes } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { buildApp } from '../../app.ts';
import type { Database } from '../database/open.ts';
import { makeLogger } from '../logger.ts';

/**
 * Writes openapi.json from the routes, or with --check compares the two and fails on a difference. No route is called,
 * so there is no database behind it.
 */
const file = fileURLToPath(new URL('../../../openapi.json', import.meta.url));
const app = await buildApp({
  config: { host: '127.0.0.1', port: 8080, publicUrl: 'http://localhost:8080', databaseUrl: null, dataDir: '', secret: randomBytes(24).toString('hex'), logLevel: 'silent', trustedProxies: [] },
  database: {} as Database,
  clock: () => new Date(0),
  random: (bytes) => randomBytes(bytes),
  logger: makeLogger('silent'),
  webDir: null,
});
await app.ready();
const text = `${JSON.stringify(app.swagger(), null, 2)}\n`;
if (process.argv.includes('--check')) {
  if (!existsSync(file) || readFileSync(file, 'utf8') !== text) {
    console.error('openapi.json is not what the routes say. Run: npm run openapi');
    process.exitCode = 1;
  }
} else {
  writeFileSync(file, text);
}
