import { defineConfig } from 'prisma/config';

/**
 * The command line tool downloads an engine before every command. Generating the client and checking the schema never
 * run that engine, and an existing program named in its place keeps them from reaching for the network. Other commands
 * must find the real one: a stand-in would report migrations as applied that never ran.
 */
const command = process.argv.slice(2).find((argument) => !argument.startsWith('-'));
if (command === 'generate' || command === 'validate') {
  process.env['PRISMA_SCHEMA_ENGINE_BINARY'] ??= process.execPath;
}

const url = process.env['DATABASE_URL'];

export default defineConfig({
  schema: 'prisma/schema.prisma',
  migrations: { path: 'prisma/migrations' },
  ...(url ? { datasource: { url } } : {}),
});
