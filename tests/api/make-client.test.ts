import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, test } from 'vitest';

// A place without node_modules above it, as an install without the prisma command is.
const bare = mkdtempSync(path.join(tmpdir(), 'tidelarder-bare-'));
afterAll(() => rmSync(bare, { recursive: true }));
const run = () => spawnSync(process.execPath, [path.join(bare, 'prisma/make-client.mjs')], { encoding: 'utf8' });

test('an install without the maker of the database client does not fail, and says what to do; with a client there it is quiet', () => {
  cpSync(fileURLToPath(new URL('../../prisma/make-client.mjs', import.meta.url)), path.join(bare, 'prisma/make-client.mjs'));
  const without = run();
  expect([without.status, without.stderr]).toEqual([0, expect.stringContaining('npm install && npm run build')]);
  mkdirSync(path.join(bare, 'server/platform/prisma-client'), { recursive: true });
  writeFileSync(path.join(bare, 'server/platform/prisma-client/client.ts'), '');
  const present = run();
  expect([present.status, present.stderr]).toEqual([0, '']);
});

test('a maker that fails makes the install fail', () => {
  const folder = path.join(bare, 'node_modules/prisma/build');
  mkdirSync(folder, { recursive: true });
  writeFileSync(path.join(folder, 'index.js'), 'process.exit(3);');
  expect(run().status).toBe(3);
});
