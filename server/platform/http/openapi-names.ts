import { z } from 'zod';
import * as advice from '../../contract/advice.ts';
import * as batches from '../../contract/batches.ts';
import * as advised from '../../contract/calculations/advice.ts';
import * as boat from '../../contract/calculations/boat.ts';
import * as cooling from '../../contract/calculations/cooling.ts';
import * as cure from '../../contract/calculations/cure.ts';
import * as heat from '../../contract/calculations/heat.ts';
import * as keeping from '../../contract/calculations/keeping.ts';
import * as plan from '../../contract/calculations/plan.ts';
import * as records from '../../contract/calculations/records.ts';
import * as salt from '../../contract/calculations/salt.ts';
import * as series from '../../contract/calculations/series.ts';
import * as yields from '../../contract/calculations/yield.ts';
import * as landings from '../../contract/catch.ts';
import * as common from '../../contract/common.ts';
import * as cures from '../../contract/cures.ts';
import * as evidence from '../../contract/evidence.ts';
import * as formulas from '../../contract/formulas.ts';
import * as labels from '../../contract/labels.ts';
import * as packs from '../../contract/packs.ts';
import * as people from '../../contract/people.ts';
import * as rules from '../../contract/rules.ts';
import * as smokers from '../../contract/smokers.ts';
import * as stations from '../../contract/stations.ts';
import * as today from '../../contract/today.ts';
import * as expected from '../../contract/yields.ts';

/** What stands in an address is written out in place: OpenAPI takes it apart into parameters. */
const inAddress = /(Query|Params|Token)$/;
/** An empty answer keeps its own words. */
const plainest: ReadonlySet<unknown> = new Set([common.nothing]);
const worthAName = new Set(['object', 'enum', 'union']);

/** Gives the contract's schemas the names of their exports, so that the description tells each of them once. */
export function nameSchemas(): void {
  for (const contract of [common, people, landings, batches, evidence, cures, rules, packs, smokers, stations, formulas, labels, today, series, cure, salt, plan, heat, cooling, boat, keeping, advice, advised, records, yields, expected]) {
    for (const [name, schema] of Object.entries(contract)) {
      if (!(schema instanceof z.ZodType) || !worthAName.has(schema.def.type) || inAddress.test(name) || plainest.has(schema)) continue;
      const told = z.globalRegistry.get(schema);
      if (told?.id === undefined) z.globalRegistry.add(schema, { ...told, id: name.charAt(0).toUpperCase() + name.slice(1) });
    }
  }
}

type Schemas = Record<string, unknown>;
const prefix = '#/components/schemas/';
const refsIn = (value: unknown): string[] => [...JSON.stringify(value ?? null).matchAll(/"\$ref":"#\/components\/schemas\/([^"]+)"/g)].map((match) => match[1]!);

/**
 * Leaves the named schemas that something in the document refers to. A request's reading of a schema comes as "NameInput":
 * it gets the plain name where nothing answers with another reading of it.
 */
export function tidySchemas<T extends { paths?: unknown; components?: { schemas?: unknown } }>(document: T): T {
  const schemas = (document.components?.schemas ?? {}) as Schemas;
  const used = reachable({ paths: document.paths, components: { ...document.components, schemas: undefined } }, schemas);
  const plain = (name: string): string => {
    const short = name.replace(/Input$/, '');
    return short !== name && short in schemas && (!used.has(short) || sameReading(schemas, name, short)) ? short : name;
  };
  const kept = Object.fromEntries([...used].sort().map((name) => [plain(name), schemas[name]]));
  const whole = { ...document, components: { ...document.components, schemas: kept } };
  return JSON.parse(JSON.stringify(whole), (key, value: unknown) => (key === '$ref' && typeof value === 'string' && value.startsWith(prefix) ? `${prefix}${plain(value.slice(prefix.length))}` : value)) as T;
}

function reachable(from: unknown, schemas: Schemas): Set<string> {
  const used = new Set(refsIn(from));
  for (const name of used) for (const ref of refsIn(schemas[name])) used.add(ref);
  return used;
}

/** Whether both readings come to the same, whatever the readings of what they refer to are called. */
function sameReading(schemas: Schemas, a: string, b: string): boolean {
  const bare = (name: string) => JSON.stringify(schemas[name]);
  return bare(a) === bare(b) && refsIn(schemas[a]).length === 0;
}
