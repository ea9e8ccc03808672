import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const names = ['domain', 'contract', 'api', 'web'];

export default defineConfig({
  resolve: {
    alias: { $lib: here('./web/src/lib'), $contract: here('./server/contract'), $domain: here('./server/domain') },
  },
  test: {
    // Two cores: more workers only make the embedded databases wait for each other.
    maxWorkers: 2,
    testTimeout: 30_000,
    hookTimeout: 60_000,
    projects: names.map((name) => ({
      extends: true as const,
      test: { name, include: [`tests/${name}/**/*.test.ts`], environment: 'node' },
    })),
  },
});
