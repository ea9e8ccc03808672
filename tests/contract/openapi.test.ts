import { Validator } from '@seriousme/openapi-schema-validator';
import pino from 'pino';
import { beforeAll, expect, test } from 'vitest';
import { buildApp } from '../../server/app.ts';
import type { Database } from '../../server/platform/database/open.ts';
import type { App } from '../../server/platform/http/app-type.ts';
import { routesOf } from '../support/routes.ts';

type Operation = {
  summary?: string;
  tags?: string[];
  security?: object[];
  parameters?: { in: string; name: string; required?: boolean }[];
  responses: Record<string, { $ref?: string; content?: Record<string, unknown> }>;
  'x-least-role'?: string;
};
type Document = { openapi: string; paths: Record<string, Record<string, Operation>>; components: { responses: Record<string, { content: Record<string, { schema: unknown }> }>; schemas: Record<string, { required?: string[] }> } };

let app: App;
let document: Document;
let operations: [name: string, operation: Operation][];

beforeAll(async () => {
  // The description comes from the routes alone: nothing is asked of a database.
  app = await buildApp({
    config: { host: '127.0.0.1', port: 0, publicUrl: 'http://localhost:8080', databaseUrl: null, dataDir: '/nonexistent', secret: 'test-secret-test-secret-test-secret-0', logLevel: 'silent', trustedProxies: [] },
    database: {} as Database, clock: () => new Date(0), random: (count) => new Uint8Array(count), logger: pino({ level: 'silent' }), webDir: null,
  });
  await app.ready();
  document = JSON.parse(JSON.stringify(app.swagger())) as Document;
  operations = Object.entries(document.paths).flatMap(([path, methods]) => Object.entries(methods).map(([method, operation]): [string, Operation] => [`${method.toUpperCase()} ${path}`, operation]));
});

test('the description is valid OpenAPI 3.1, says an independent validator', async () => {
  const validator = new Validator();
  const result = await validator.validate(structuredClone(document));
  expect(result.errors ?? []).toEqual([]);
  expect(result.valid).toBe(true);
  expect(validator.version).toBe('3.1');
  expect(document.openapi).toMatch(/^3\.1\./);
});

test('the validator refuses a broken description', async () => {
  const broken = structuredClone(document);
  (broken as { info?: object }).info = {};
  expect((await new Validator().validate(broken)).valid).toBe(false);
});

test('it lists every route of the API but itself', () => {
  const served = routesOf(app).filter((route) => !route.startsWith('HEAD ') && route !== 'GET /api/openapi.json').map((route) => route.replace(/:(\w+)/g, '{$1}'));
  expect(operations.map(([name]) => name).sort()).toEqual(served.sort());
  expect(served.length).toBeGreaterThan(50);
});

test('every operation says what it does, who may, and what success is', () => {
  for (const [name, operation] of operations) {
    expect(operation.summary, name).toMatch(/\S{3}/);
    expect(operation.tags?.length, name).toBe(1);
    expect(['public', 'member', 'crew', 'captain'], name).toContain(operation['x-least-role']);
    expect(operation.security, name).toEqual(operation['x-least-role'] === 'public' ? [] : [{ access: [] }]);
    expect(Object.keys(operation.responses).some((status) => status.startsWith('2')), name).toBe(true);
  }
});

test('every operation describes its refusals and faults as problem documents (RFC 9457)', () => {
  for (const [name, operation] of operations) {
    for (const range of ['4XX', '5XX']) expect(operation.responses[range]?.$ref, name).toBe('#/components/responses/Problem');
  }
  expect(document.components.responses['Problem']?.content).toEqual({ 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } });
  expect(document.components.schemas['Problem']?.required).toEqual(expect.arrayContaining(['type', 'title', 'status', 'detail', 'code']));
});

test('every POST asks for an Idempotency-Key, but for those that make no record; nothing else asks for one', () => {
  const keyless = (name: string) => ['POST /api/session', 'POST /api/session/renew'].includes(name) || name.startsWith('POST /api/calculations/');
  for (const [name, operation] of operations) {
    const header = operation.parameters?.find((parameter) => parameter.in === 'header' && parameter.name === 'Idempotency-Key');
    expect(header?.required ?? false, name).toBe(name.startsWith('POST ') && !keyless(name));
  }
});

test('each schema of the contract is told once, by name; every name that is referred to is there, and none is idle', () => {
  const text = JSON.stringify(document);
  const referred = new Set([...text.matchAll(/"\$ref":"#\/components\/schemas\/([^"]+)"/g)].map((match) => match[1]!));
  expect(Object.keys(document.components.schemas).sort()).toEqual([...referred].sort());
  expect([...referred]).toEqual(expect.arrayContaining(['BatchDetail', 'BatchBody', 'PackLine', 'StageKind', 'Check']));
  for (const [name, operation] of operations) {
    const { requestBody, responses } = operation as Operation & { requestBody?: { content: Record<string, { schema: { $ref?: string } }> } };
    if (requestBody) expect(requestBody.content['application/json']!.schema.$ref, name).toMatch(/^#\/components\/schemas\/[A-Z]\w+$/);
    const answers = Object.entries(responses).filter(([status]) => status.startsWith('2')).flatMap(([, answer]) => Object.values(answer.content ?? {}));
    for (const answer of answers as { schema: { $ref?: string; properties?: object } }[]) expect(answer.schema.$ref !== undefined || Object.keys(answer.schema.properties ?? {}).length <= 1, name).toBe(true);
  }
  expect(text.length).toBeLessThan(600_000);
});

test('every calculation answers with its working, or with where each thing it says was read', () => {
  const schemas = document.components.schemas as Record<string, unknown>;
  const says = (schema: unknown, seen = new Set<string>()): boolean => {
    const text = JSON.stringify(schema);
    if (/"(working|source)":/.test(text)) return true;
    const refs = [...text.matchAll(/"\$ref":"#\/components\/schemas\/([^"]+)"/g)].map((match) => match[1]!).filter((ref) => !seen.has(ref));
    return refs.some((ref) => says(schemas[ref], seen.add(ref)));
  };
  const calculations = operations.filter(([name]) => name.startsWith('POST /api/calculations/'));
  expect(calculations.length).toBeGreaterThanOrEqual(55);
  // Names found in a list are no reckoning.
  expect(calculations.filter(([, { responses }]) => !says(responses['200'])).map(([name]) => name)).toEqual(['POST /api/calculations/allergens-found']);
});
