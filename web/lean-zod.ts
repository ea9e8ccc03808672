import type { Plugin } from 'vite';

/** Parts of zod that only a server needs, to write its OpenAPI document; each schema class drags them along. */
const SERVER_ONLY = /\/zod\/v4\/core\/(to-json-schema|json-schema-processors)\.js$/;

/** Leaves zod's JSON Schema writer out of the browser's scripts: some 7 KB compressed of the first load. */
export function leanZod(): Plugin {
  return {
    name: 'lean-zod',
    apply: 'build',
    enforce: 'pre',
    transform(code, id) {
      if (!SERVER_ONLY.test(id.replaceAll('\\', '/').split('?')[0] ?? '')) return undefined;
      const names = [...code.matchAll(/^export (?:const|function|class) (\w+)/gm)].map((match) => match[1]);
      // Schemas call the maker while they are built, so it has to return something callable.
      const stub = 'const absent = () => () => { throw new Error("JSON Schema is written by the server only."); };';
      return { code: `${stub}\nexport { ${names.map((name) => `absent as ${name}`).join(', ')} };`, map: null };
    },
  };
}
