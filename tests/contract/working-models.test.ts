// A working that names no model leads to no page. Plain arithmetic and look-ups, which explain themselves, are listed here by file.
import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { expect, it } from 'vitest';
import { MODELS } from '../../server/domain/working.ts';

const domain = fileURLToPath(new URL('../../server/domain/', import.meta.url));
const PLAIN = ['advice/advice.ts', 'cure/formula.ts', 'cure/shopping.ts', 'cure/stock.ts'];

type Found = { where: string; model: string | null };

/** Every object of a source text that is a working: it has a formula, a source and how sure it is. */
function workingsOf(where: string, text: string): Found[] {
  const found: Found[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isObjectLiteralExpression(node)) {
      const named = new Map(node.properties.flatMap((p) => (p.name ? [[p.name.getText(), p] as const] : [])));
      const model = named.get('model');
      if (['formula', 'source', 'certainty'].every((name) => named.has(name))) found.push({ where, model: model && ts.isPropertyAssignment(model) ? model.initializer.getText().slice(1, -1) : null });
    }
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(where, text, ts.ScriptTarget.ESNext, true));
  return found;
}

it('every working of the domain names a model, and every model is named', () => {
  const files = readdirSync(domain, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.ts')).map((file) => file.split(path.sep).join('/'));
  const found = files.flatMap((file) => workingsOf(file, readFileSync(path.join(domain, file), 'utf8')));
  expect(found.length).toBeGreaterThan(30);
  expect([...new Set(found.filter((working) => working.model === null).map((working) => working.where))].sort()).toEqual(PLAIN);
  expect([...new Set(found.flatMap((working) => working.model ?? []))].sort()).toEqual([...MODELS].sort());
});

it('finds one that names none', () => {
  const text = "const a = { inputs: [], formula: 'x', source: 'y', certainty: 'arithmetic' }; const b = { model: 'ice', inputs: [], formula, source, certainty };";
  expect(workingsOf('a.ts', text)).toEqual([{ where: 'a.ts', model: null }, { where: 'a.ts', model: 'ice' }]);
});
