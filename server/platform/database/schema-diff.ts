import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import type { PGlite } from '@electric-sql/pglite';
import { bindMigrationAwareSqlAdapterFactory } from '@prisma/driver-adapter-utils';
import type { SqlDriverAdapter } from '@prisma/driver-adapter-utils';
import type { MigrationList, SchemaEngine } from '@prisma/schema-engine-wasm';
import { openBlank } from './embedded.ts';
import type { Migration } from './migrate.ts';
import { embeddedAdapter } from './prisma-adapters.ts';

/** For development alone: it leans on packages that a running service does not have. */

type EngineModule = {
  SchemaEngine: typeof SchemaEngine;
  __wbg_set_wasm(exports: object): void;
};

// The types of the server know no browser, and WebAssembly comes with those.
const { WebAssembly } = globalThis as unknown as {
  WebAssembly: { instantiate(bytes: Uint8Array, imports: object): Promise<{ instance: { exports: Record<string, unknown> } }> };
};

/** Node does not load WebAssembly by import as the package expects, so it is put together by hand. */
async function loadEngine(): Promise<EngineModule> {
  const glue = createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm/schema_engine_bg');
  const engine = (await import(pathToFileURL(glue).href)) as EngineModule;
  // Where a panic of the engine leaves its words before it throws.
  Object.assign(globalThis, { PRISMA_WASM_PANIC_REGISTRY: { set_message: (words: string) => console.error(words) } });
  const bytes = readFileSync(glue.replace(/\.js$/, '.wasm'));
  const { instance } = await WebAssembly.instantiate(bytes, { './schema_engine_bg.js': engine });
  engine.__wbg_set_wasm(instance.exports);
  (instance.exports['__wbindgen_start'] as () => void)();
  return engine;
}

// Once a process: the package keeps views of the first instance's memory.
let loaded: Promise<EngineModule> | undefined;

/** Prisma's schema engine over databases that connect opens: its own first, then any shadow that it wants. */
export async function withEngine<T>(connect: () => Promise<SqlDriverAdapter>, work: (engine: SchemaEngine) => Promise<T>): Promise<T> {
  const { SchemaEngine: Engine } = await (loaded ??= loadEngine());
  const adapters = { provider: 'postgres', adapterName: 'pglite-prisma-adapter', connect, connectToShadowDb: connect } as const;
  const engine = await Engine.new({ datamodels: undefined }, () => {}, bindMigrationAwareSqlAdapterFactory(adapters));
  try {
    return await work(engine);
  } finally {
    engine.free();
  }
}

/** Migrations as the engine takes them. */
export function asList(migrations: readonly Migration[]): MigrationList {
  return {
    baseDir: '/migrations',
    lockfile: { path: './migration_lock.toml', content: 'provider = "postgresql"\n' },
    shadowDbInitScript: '',
    migrationDirectories: migrations.map(({ name, script }) => ({
      path: name,
      migrationFile: { path: 'migration.sql', content: { tag: 'ok', value: script } },
    })),
  };
}

/**
 * The SQL that turns what the migrations make into what the schema says, as far as Prisma can express it: checks,
 * triggers, exclusion constraints and partial indexes are out of its sight and left alone. Empty when both agree.
 */
export async function schemaDiff(migrations: readonly Migration[], schema: string): Promise<string> {
  const opened: PGlite[] = [];
  // The shadow, too, must have the extensions that migrations use.
  const connect = async () => {
    const database = await openBlank();
    opened.push(database);
    return embeddedAdapter(database).connect();
  };
  try {
    return await withEngine(connect, async (engine) => {
      const { stdout } = await engine.diff({
        from: { tag: 'migrations', ...asList(migrations) },
        to: { tag: 'schemaDatamodel', files: [{ path: 'schema.prisma', content: schema }] },
        script: true,
        exitCode: null,
        filters: { externalTables: [], externalEnums: [] },
      });
      const script = stdout ?? '';
      return /^\s*(-- This is an empty migration\.)?\s*$/.test(script) ? '' : script;
    });
  } finally {
    await Promise.all(opened.map((database) => database.close()));
  }
}
