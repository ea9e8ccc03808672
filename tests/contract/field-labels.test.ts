import { expect, test } from 'vitest';
import type { z } from 'zod';
import * as batches from '../../server/contract/batches.ts';
import * as landings from '../../server/contract/catch.ts';
import * as common from '../../server/contract/common.ts';
import * as formulas from '../../server/contract/formulas.ts';
import * as labels from '../../server/contract/labels.ts';
import * as packs from '../../server/contract/packs.ts';
import * as people from '../../server/contract/people.ts';
import * as stations from '../../server/contract/stations.ts';
import * as today from '../../server/contract/today.ts';
import { FIELD_LABELS, fieldLabel } from '../../server/domain/field-labels.ts';
import { checkInstant } from '../../server/domain/readings.ts';

type Def = { shape?: Record<string, z.ZodType>; innerType?: z.ZodType; element?: z.ZodType; in?: z.ZodType; out?: z.ZodType; options?: z.ZodType[] };

/** Every name that stands in a schema, at any depth. */
function namesIn(schema: z.ZodType, names = new Set<string>()): Set<string> {
  const def = schema.def as unknown as Def;
  for (const [name, inner] of Object.entries(def.shape ?? {})) namesIn(inner, names.add(name));
  for (const inner of [def.innerType, def.element, def.in, def.out, ...(def.options ?? [])]) if (inner) namesIn(inner, names);
  return names;
}

test('every field that a request can hold has a label in people’s words', () => {
  const requests = [batches, landings, common, formulas, labels, packs, people, stations, today].flatMap((contract) =>
    Object.entries(contract).filter(([name]) => /(Body|Patch|Query|Params|Token)$/.test(name)).map(([, schema]) => schema as z.ZodType));
  const names = new Set(requests.flatMap((schema) => [...namesIn(schema)]));
  expect(names.size).toBeGreaterThan(100);
  expect([...names].filter((name) => !(name in FIELD_LABELS))).toEqual([]);
  expect(Object.values(FIELD_LABELS).filter((label) => /[a-z][A-Z]/.test(label))).toEqual([]);
});

test('a path is told by its last name and the number of its line; an unknown name by its words', () => {
  expect(['finishedAt', 'draws.1.grams', 'weightsG.39', 'captain.userName', 'restDays', 'oddG'].map(fieldLabel)).toEqual(['time it finished', 'weight, line 2', 'weights, line 40', 'user name', 'rest days', 'odd']);
});

test('the trade’s refusals use the same words', () => {
  expect(() => checkInstant(new Date('2026-06-11T00:00:00Z'), new Date('2026-06-10T00:00:00Z'), 'finishedAt')).toThrow('Time it finished 2026-06-11T00:00:00.000Z is in the future; enter when it happened.');
});
