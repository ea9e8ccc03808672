import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** The service hands out the built web app, so it is built first when it is missing or stale. */
export function buildWebApp(): void {
  // The test runner's own settings would make another build of it.
  const { NODE_ENV: _mode, VITEST: _runner, ...env } = process.env;
  execFileSync(process.execPath, [fileURLToPath(new URL('../../../web/build-if-stale.ts', import.meta.url))], { stdio: 'inherit', env });
}
