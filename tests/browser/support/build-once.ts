import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** The service hands out the built web app, so it is built first when it is missing or stale. */
export function buildWebApp(): void {
  execFileSync(process.execPath, [fileURLToPath(new URL('../../../web/build-if-stale.ts', import.meta.url))], { stdio: 'inherit' });
}
