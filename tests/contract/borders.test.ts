import { fileURLToPath } from 'node:url';
import { ESLint } from 'eslint';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const eslint = new ESLint({ cwd: root, flags: ['unstable_native_nodejs_ts_config'] });

/** The rules that a piece of text breaks when it stands in a file of that name. */
async function broken(filePath: string, code: string): Promise<string[]> {
  const [result] = await eslint.lintText(code, { filePath: `${root}/${filePath}` });
  const fatal = result?.messages.find((message) => message.fatal);
  if (result === undefined || fatal) throw new Error(fatal?.message ?? `${filePath} is not linted`);
  return result.messages.map((message) => message.ruleId ?? 'none');
}

const BORDER = 'import-x/no-restricted-paths';

const refused: { what: string; file: string; code: string; rule: string }[] = [
  { what: 'domain importing the platform', file: 'server/domain/made-up.ts', code: "import { x } from '../platform/context.ts';\nexport const y = x;\n", rule: BORDER },
  { what: 'domain importing the contract', file: 'server/domain/made-up.ts', code: "import type { Role } from '../contract/common.ts';\nexport type Y = Role;\n", rule: BORDER },
  { what: 'domain importing a package', file: 'server/domain/made-up.ts', code: "import { z } from 'zod';\nexport const y = z;\n", rule: BORDER },
  { what: 'domain importing Node', file: 'server/domain/made-up.ts', code: "import { readFileSync } from 'node:fs';\nexport const y = readFileSync;\n", rule: 'no-restricted-imports' },
  { what: 'domain reading the clock', file: 'server/domain/made-up.ts', code: 'export const y = Date.now();\n', rule: 'no-restricted-syntax' },
  { what: 'domain making the present date', file: 'server/domain/made-up.ts', code: 'export const y = new Date();\n', rule: 'no-restricted-syntax' },
  { what: 'domain throwing dice', file: 'server/domain/made-up.ts', code: 'export const y = Math.random();\n', rule: 'no-restricted-syntax' },
  { what: 'domain reading the environment', file: 'server/domain/made-up.ts', code: 'export const y = process.env.HOME;\n', rule: 'no-restricted-globals' },
  { what: 'contract importing the domain', file: 'server/contract/made-up.ts', code: "import { x } from '../domain/units.ts';\nexport const y = x;\n", rule: BORDER },
  { what: 'contract importing Fastify', file: 'server/contract/made-up.ts', code: "import fastify from 'fastify';\nexport const y = fastify;\n", rule: BORDER },
  { what: 'the web app importing a feature', file: 'web/src/lib/made-up.ts', code: "import { x } from '../../../server/features/boats/boats.service.ts';\nexport const y = x;\n", rule: BORDER },
  { what: 'the web app importing the platform', file: 'web/src/lib/made-up.ts', code: "import type { Context } from '../../../server/platform/context.ts';\nexport type Y = Context;\n", rule: BORDER },
  { what: 'a component importing a feature', file: 'web/src/lib/MadeUp.svelte', code: "<script lang=\"ts\">\n  import { x } from '../../../server/features/boats/boats.service.ts';\n</script>\n\n{x}\n", rule: BORDER },
  { what: 'a screen calling the network by itself', file: 'web/src/routes/made-up.ts', code: "export const y = fetch('/api/boats');\n", rule: 'no-restricted-globals' },
  { what: 'routes importing a store', file: 'server/features/boats/made-up.routes.ts', code: "import { x } from './boats.store.ts';\nexport const y = x;\n", rule: BORDER },
  { what: 'routes importing the database client', file: 'server/features/boats/made-up.routes.ts', code: "import { PrismaClient } from '../../platform/prisma-client/client.ts';\nexport const y = PrismaClient;\n", rule: BORDER },
  { what: 'a service importing the database client', file: 'server/features/boats/made-up.service.ts', code: "import { PrismaClient } from '../../platform/prisma-client/client.ts';\nexport const y = PrismaClient;\n", rule: BORDER },
  { what: 'a service importing a driver', file: 'server/features/boats/made-up.service.ts', code: "import pg from 'pg';\nexport const y = pg;\n", rule: 'no-restricted-imports' },
  { what: 'the application importing the database client', file: 'server/made-up.ts', code: "import { PrismaClient } from './platform/prisma-client/client.ts';\nexport const y = PrismaClient;\n", rule: BORDER },
  { what: 'a service reading the environment', file: 'server/features/boats/made-up.service.ts', code: 'export const y = process.env.PORT;\n', rule: 'no-restricted-properties' },
  { what: 'the platform reading the environment', file: 'server/platform/made-up.ts', code: 'export const y = process.env.PORT;\n', rule: 'no-restricted-properties' },
];

const allowed: { what: string; file: string; code: string }[] = [
  { what: 'domain importing domain and the calendar library', file: 'server/domain/made-up.ts', code: "import * as PlainDate from 'temporal-polyfill/fns/PlainDate';\nimport { addDays } from './time.ts';\nexport const y = [addDays, PlainDate.create, new Date(0)];\n" },
  { what: 'contract importing zod and contract', file: 'server/contract/made-up.ts', code: "import { z } from 'zod';\nimport { id } from './common.ts';\nexport const y = z.object({ id });\n" },
  { what: 'the web app importing contract and domain', file: 'web/src/lib/made-up.ts', code: "import { id } from '$contract/common.ts';\nimport { addDays } from '$domain/time.ts';\nexport const y = [id, addDays];\n" },
  { what: 'the API client calling the network', file: 'web/src/lib/api/made-up.ts', code: "export const y = fetch('/api/boats');\n" },
  { what: 'a store importing the database client', file: 'server/features/boats/made-up.store.ts', code: "import { PrismaClient } from '../../platform/prisma-client/client.ts';\nexport const y = PrismaClient;\n" },
  { what: 'routes importing their service', file: 'server/features/boats/made-up.routes.ts', code: "import * as service from './boats.service.ts';\nexport const y = service;\n" },
  { what: 'the configuration reading the environment', file: 'server/config.ts', code: 'export const y = process.env.PORT;\n' },
];

describe('the borders of the code, as in eslint.config.ts', () => {
  it.each(refused)('refuse $what', async ({ file, code, rule }) => {
    expect(await broken(file, code)).toContain(rule);
  });

  it.each(allowed)('allow $what', async ({ file, code }) => {
    expect(await broken(file, code)).toEqual([]);
  });
});
