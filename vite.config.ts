import adapter from '@sveltejs/adapter-static';
import { sveltekit } from '@sveltejs/kit/vite';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';
import { leanZod } from './web/lean-zod.ts';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

// The web app is a single page that any route may start on: one fallback page, no server rendering.
// Everything SvelteKit needs is relative to `root`, so the rest of the repository stays out of its way.
export default defineConfig({
  root: here('./web'),
  plugins: [
    leanZod(),
    sveltekit({
      adapter: adapter({ pages: here('./web/build'), assets: here('./web/build'), fallback: 'index.html' }),
      outDir: '.svelte-kit',
      files: { src: 'src', assets: 'static' },
      compilerOptions: { runes: true },
      paths: { relative: false },
      // Clients with an older build notice a new one and load their next page afresh.
      version: { pollInterval: 10 * 60_000 },
    }),
  ],
  resolve: {
    alias: {
      $lib: here('./web/src/lib'),
      $contract: here('./server/contract'),
      $domain: here('./server/domain'),
    },
  },
  build: {
    manifest: true,
    // Phones in a boathouse are not new: lower newer CSS to what these can read.
    cssTarget: ['chrome107', 'safari16', 'firefox104'],
  },
  server: {
    proxy: { '/api': 'http://127.0.0.1:8080' },
    fs: { allow: [here('.')] },
  },
});
