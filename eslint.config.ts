import js from '@eslint/js';
import { createNodeResolver, importX } from 'eslint-plugin-import-x';
import svelte from 'eslint-plugin-svelte';
import { defineConfig } from 'eslint/config';
import globals from 'globals';
import ts from 'typescript-eslint';

/*
 * The borders of the code, held here. `from` is what a zone may not reach, `except` what of it it may.
 *   domain/    only itself and the calendar library: pure, and usable by the web app
 *   contract/  only itself and zod: it is shared with the web app
 *   web        of the server only contract/ and domain/
 *   routes     never the store nor the database client: HTTP only
 *   database   the client is for stores, platform/ and prisma/
 */
const client = './server/platform/prisma-client';
const zones = [
  {
    target: './server/domain',
    from: '.',
    except: ['./server/domain', './node_modules/temporal-polyfill'],
    message: 'domain/ imports only domain/ and temporal-polyfill.',
  },
  {
    target: './server/contract',
    from: '.',
    except: ['./server/contract', './node_modules/zod'],
    message: 'contract/ imports only contract/ and zod.',
  },
  {
    target: './web/src',
    from: './server',
    except: ['./contract', './domain'],
    message: 'The web app may use contract/ and domain/ only.',
  },
  {
    target: './server/features/**/*.routes.ts',
    from: './server/features/**/*.store.ts',
    message: 'Routes call the service; only the service calls the store.',
  },
  {
    target: ['./server/*.ts', './server/features/**/!(*.store).ts'],
    from: client,
    message: 'Only *.store.ts, platform/ and prisma/ use the database client.',
  },
];

const drivers = ['@prisma/*', 'pg', 'pglite-prisma-adapter', '@electric-sql/*'];
const builtins = { regex: '^node:|^(fs|path|crypto|os|child_process|http|https|net)(/|$)' };

export default defineConfig(
  { ignores: ['node_modules/', 'web/build/', 'web/.svelte-kit/', 'web/node_modules/', 'server/platform/prisma-client/', 'tests/output/', 'data/'] },
  js.configs.recommended,
  ts.configs.recommended,
  svelte.configs.recommended,
  {
    languageOptions: { globals: globals.node },
    linterOptions: { reportUnusedDisableDirectives: 'error' },
    plugins: { 'import-x': importX },
    settings: {
      'import-x/resolver-next': [
        createNodeResolver({
          extensions: ['.ts', '.js', '.svelte', '.json'],
          alias: {
            $lib: [`${import.meta.dirname}/web/src/lib`],
            $contract: [`${import.meta.dirname}/server/contract`],
            $domain: [`${import.meta.dirname}/server/domain`],
          },
        }),
      ],
    },
    rules: {
      'import-x/no-restricted-paths': ['error', { basePath: import.meta.dirname, zones }],
      '@typescript-eslint/consistent-type-imports': ['error', { fixStyle: 'separate-type-imports', disallowTypeAnnotations: false }],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_', caughtErrorsIgnorePattern: '^_', ignoreRestSiblings: true }],
      'no-console': 'off',
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      // Text that people type is searched for control characters on purpose.
      'no-control-regex': 'off',
    },
  },
  {
    name: 'server: the environment is read in one place',
    files: ['server/**/*.ts'],
    ignores: ['server/config.ts', 'server/main.ts'],
    rules: {
      'no-restricted-properties': ['error', { object: 'process', property: 'env', message: 'Only config.ts reads the environment; take what you need as a parameter.' }],
    },
  },
  {
    name: 'server: drivers stay in stores and platform',
    files: ['server/*.ts', 'server/features/**/*.ts'],
    ignores: ['server/features/**/*.store.ts'],
    rules: {
      'no-restricted-imports': ['error', { patterns: [{ group: drivers, message: 'Only *.store.ts, platform/ and prisma/ use the database client.' }] }],
    },
  },
  {
    name: 'domain and contract: no platform of any kind',
    files: ['server/domain/**/*.ts', 'server/contract/**/*.ts'],
    rules: {
      'no-restricted-imports': ['error', { patterns: [{ ...builtins, message: 'This runs in the browser too.' }] }],
      'no-restricted-globals': ['error', 'process', 'Buffer', 'fetch', 'window', 'document', 'localStorage'],
    },
  },
  {
    name: 'domain: time and chance are parameters',
    files: ['server/domain/**/*.ts'],
    rules: {
      'no-restricted-syntax': [
        'error',
        { selector: "MemberExpression[object.name='Date'][property.name='now']", message: 'Time is a parameter.' },
        { selector: "NewExpression[callee.name='Date'][arguments.length=0]", message: 'Time is a parameter.' },
        { selector: "MemberExpression[object.name='Math'][property.name='random']", message: 'Chance is a parameter.' },
        { selector: "MemberExpression[object.name='crypto']", message: 'Chance is a parameter.' },
      ],
    },
  },
  {
    name: 'web: one caller of the network',
    files: ['web/src/**/*.{ts,svelte}'],
    languageOptions: { globals: globals.browser },
    rules: {
      'no-restricted-globals': ['error', { name: 'fetch', message: 'Use $lib/api/client.ts: it renews, retries and checks answers.' }],
      'no-restricted-imports': ['error', { patterns: [{ ...builtins, message: 'This runs in a browser.' }] }],
    },
  },
  { files: ['web/src/lib/api/**'], rules: { 'no-restricted-globals': 'off' } },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser, extraFileExtensions: ['.svelte'] } },
    rules: {
      // The app always lives at the root of its address, so plain paths are right.
      'svelte/no-navigation-without-resolve': 'off',
      // Props are declared with `let`, bindable or not.
      'prefer-const': 'off',
      // TypeScript knows which names exist.
      'no-undef': 'off',
    },
  },
  { files: ['**/*.ts'], rules: { 'no-undef': 'off' } },
  { files: ['tests/**/*.ts'], rules: { '@typescript-eslint/no-explicit-any': 'off' } },
  { files: ['web/static/*.js'], languageOptions: { globals: globals.browser, sourceType: 'script' }, rules: { 'no-var': 'off' } },
);
