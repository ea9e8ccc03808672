import type { Plugin } from 'vite';

/** Parts of zod that only a server needs, to write its OpenAPI document; each schema class drags them along. */
const SERVER_ONLY = /\/zod\/v4\/core\/(to-json-schema|json-schema-processors)\.js$/;

/** Zod's own English messages: the contract and lib/issues.ts have the words people see. */
const WORDS = /\/zod\/v4\/locales\/en\.js$/;

/** Leaves out of the browser's scripts what zod carries for others: some 6 KB compressed of the first load. */
export function leanZod(): Plugin {
  return {
    name: 'lean-zod',
    apply: 'build',
    enforce: 'pre',
    transform(code, id) {
      const path = id.replaceAll('\\', '/').split('?')[0] ?? '';
      if (WORDS.test(path)) return { code: 'export default () => ({ localeError: () => "This is not right." });', map: null };
      if (!SERVER_ONLY.test(path)) return undefined;
      const names = [...code.matchAll(/^export (?:const|function|class) (\w+)/gm)].map((match) => match[1]);
      // Schemas call the maker while they are built, so it has to return something callable.
      const stub = 'const absent = () => () => { throw new Error("JSON Schema is written by the server only."); };';
      return { code: `${stub}\nexport { ${names.map((name) => `absent as ${name}`).join(', ')} };`, map: null };
    },
  };
}
