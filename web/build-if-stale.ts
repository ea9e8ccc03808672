import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

/**
 * Builds the web app when it is missing or older than what it is made from. What it is made from is told by content,
 * not by file times: a fresh clone has new times and the same content.
 */
const root = fileURLToPath(new URL('..', import.meta.url));
const output = path.join(root, 'web', 'build');
const stampFile = path.join(output, 'made-from.txt');
const sources = ['web/src', 'web/static', 'server/contract', 'server/domain', 'vite.config.ts', 'package-lock.json'];

function filesUnder(place: string): string[] {
  const full = path.join(root, place);
  if (!existsSync(full)) return [];
  if (!place.includes('.') || !/\.(ts|json)$/.test(place)) {
    return readdirSync(full, { withFileTypes: true, recursive: true })
      .filter((entry) => entry.isFile())
      .map((entry) => path.join(entry.parentPath, entry.name));
  }
  return [full];
}

function stampOfSources(): string {
  const hash = createHash('sha256');
  for (const file of sources.flatMap(filesUnder).sort()) {
    hash.update(`${path.relative(root, file).replaceAll(path.sep, '/')}\0`).update(readFileSync(file)).update('\0');
  }
  return hash.digest('hex');
}

const stamp = stampOfSources();
const built = existsSync(path.join(output, 'index.html'));
if (!(built && existsSync(stampFile) && readFileSync(stampFile, 'utf8').trim() === stamp)) {
  const vite = await import('vite').catch(() => null);
  if (!vite) {
    if (!built) {
      console.error('The web app is not built and the tools to build it are not installed. Run: npm install');
      process.exit(1);
    }
    console.error('The web app may be older than the service: the tools to build it are not installed.');
  } else {
    console.log('Building the web app (once; about half a minute)...');
    // As the command line does it: the framework's own steps hang on buildApp, which plain build() leaves out.
    const builder = await vite.createBuilder({ configFile: path.join(root, 'vite.config.ts'), logLevel: 'warn' }, null);
    await builder.buildApp();
    writeFileSync(stampFile, `${stamp}\n`);
  }
}
