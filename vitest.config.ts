import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
// The first four are what `npm test` runs: they need neither a database server nor a browser.
const names = ['domain', 'contract', 'api', 'web', 'kill', 'browser'];
/** The projects whose tests wait for something outside them. Not the kills: one acknowledged write that is lost is a fault. */
const tried = ['api', 'browser'];

export default defineConfig({
  resolve: {
    alias: { $lib: here('./web/src/lib'), $contract: here('./server/contract'), $domain: here('./server/domain') },
  },
  test: {
    // Two cores: more workers only make the embedded databases wait for each other.
    maxWorkers: 2,
    // Limits for what hangs, not measures of speed: a busy machine takes many times as long as an idle one, and whoever comes
    // first makes the database that the others copy.
    testTimeout: 120_000,
    hookTimeout: 180_000,
    // A screen may take its time to say something; what never comes still fails.
    expect: { poll: { timeout: 15_000 } },
    projects: names.map((name) => ({
      extends: true as const,
      // State in .svelte.ts files has to be compiled.
      plugins: name === 'web' ? [svelte({ configFile: false })] : [],
      test: {
        name,
        include: [`tests/${name}/**/*.test.ts`],
        environment: 'node',
        // On a busy machine a browser or a process may miss a moment that no person would: the gate tries once
        // more, and names what needed it. What is only reckoned gives the same answer each time, and gets one try.
        retry: process.env.CI && tried.includes(name) ? 1 : 0,
        // One browser at a time: each has a service of its own beside it, and the first builds the web app for all.
        ...(name === 'browser' ? { maxWorkers: 1 } : {}),
      },
    })),
  },
});
