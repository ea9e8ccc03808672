// Runs after every npm install: makes the database client (server/platform/prisma-client) with the prisma command, which is a
// development dependency. An install without those must not fail: it then uses the client that is there, or says how to get it.
// Plain JavaScript, since npm may run it with a Node too old for the service itself.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const client = fileURLToPath(new URL('../server/platform/prisma-client/client.ts', import.meta.url));

/** Where the command is installed, or null. */
function command() {
  try {
    return createRequire(import.meta.url).resolve('prisma/build/index.js');
  } catch {
    return null;
  }
}

const prisma = command();
if (prisma !== null) {
  const { status, error } = spawnSync(process.execPath, [prisma, 'generate'], { cwd: root, stdio: 'inherit' });
  if (error) console.error(error.message);
  process.exit(status ?? 1);
}
if (!existsSync(client)) {
  console.error(
    'The database client is not made, and the service does not start without it: its maker is a development dependency.\n' +
      'Run "npm install && npm run build" once, then "npm prune --omit=dev"; or copy server/platform/prisma-client and web/build from such an install.',
  );
}
