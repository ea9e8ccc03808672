/**
 * Adds up, compressed, the scripts a browser fetches before the first screen is up, and fails above the ceiling.
 * Reads the manifest of the last build, so run `npm run build` first. `npm run size -- --files` lists them.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { gzipSync } from 'node:zlib';

const CEILING_KB = 120;
/** Passed with a word only: what counts is the whole first screen. */
const SHELL_AIM_KB = 70;

interface Chunk {
  file: string;
  src?: string;
  imports?: string[];
  css?: string[];
}

const web = import.meta.dirname;
const client = join(web, '.svelte-kit/output/client');
const manifestPath = join(client, '.vite/manifest.json');

if (!existsSync(manifestPath)) {
  console.error(`${relative(process.cwd(), manifestPath)} is missing. Run "npm run build" first.`);
  process.exit(1);
}
const manifest = JSON.parse(readFileSync(manifestPath, 'utf8')) as Record<string, Chunk>;

/** The manifest keys the bootstrapping page loads, whatever the route. */
function entryKeys(): string[] {
  return Object.keys(manifest).filter((key) =>
    /runtime\/client\/(entry|client-entry|payload)\.js$|client-optimized\/app\.js$/.test(key),
  );
}

/** The manifest keys of the route components named, read from the node files that import them. */
function nodeKeys(components: string[]): string[] {
  return components.map((component) => {
    const key = Object.keys(manifest).find((candidate) => {
      if (!/client-optimized\/nodes\/\d+\.js$/.test(candidate)) return false;
      const source = readFileSync(join(web, candidate), 'utf8');
      return source.includes(`src/routes/${component}"`);
    });
    if (key === undefined) throw new Error(`No built node imports src/routes/${component}.`);
    return key;
  });
}

function filesOf(keys: string[]): Set<string> {
  const files = new Set<string>();
  const seen = new Set<string>();
  const visit = (key: string): void => {
    if (seen.has(key)) return;
    seen.add(key);
    const chunk = manifest[key];
    if (chunk === undefined) throw new Error(`The manifest has no entry ${key}.`);
    if (chunk.file.endsWith('.js')) files.add(chunk.file);
    for (const next of chunk.imports ?? []) visit(next);
  };
  for (const key of keys) visit(key);
  return files;
}

function kilobytes(files: Set<string>): number {
  let bytes = 0;
  for (const file of files) bytes += gzipSync(readFileSync(join(client, file)), { level: 9 }).length;
  return bytes / 1024;
}

const routes = join(web, 'src/routes');
const frame = ['+layout.svelte', '(app)/+layout.svelte'].filter((path) => existsSync(join(routes, path)));
const first = '(app)/+page.svelte';

const verbose = process.argv.includes('--files');

function list(files: Set<string>): void {
  for (const file of files) console.log(`  ${kilobytes(new Set([file])).toFixed(1).padStart(6)}  ${file}`);
}

const shellFiles = filesOf([...entryKeys(), ...nodeKeys(frame)]);
if (verbose) list(shellFiles);
const shell = kilobytes(shellFiles);
console.log(`Shell: ${shell.toFixed(1)} KB compressed (aim ${SHELL_AIM_KB} KB)`);

let total = shell;
if (existsSync(join(routes, first))) {
  const files = filesOf([...entryKeys(), ...nodeKeys([...frame, first])]);
  if (verbose) list(new Set([...files].filter((file) => !shellFiles.has(file))));
  total = kilobytes(files);
  console.log(`First screen in all: ${total.toFixed(1)} KB compressed (ceiling ${CEILING_KB} KB)`);
}
if (shell > SHELL_AIM_KB) console.log('The shell leaves little room for the screen.');
if (total > CEILING_KB) {
  console.error('Too large: load heavy parts only when they are opened (await import).');
  process.exit(1);
}
