import fastifySwagger from '@fastify/swagger';
import fp from 'fastify-plugin';
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod';
import { nameSchemas, tidySchemas } from './openapi-names.ts';
import { ACCESS_COOKIE } from '../auth/tokens.ts';

const keyHeader = {
  type: 'object',
  required: ['Idempotency-Key'],
  properties: {
    'Idempotency-Key': {
      type: 'string', minLength: 8, maxLength: 100, pattern: '^[\\x21-\\x7E]+$',
      description: 'New for each new record, the same when the request is sent again: the same key gives the same answer and makes one record.',
    },
  },
};

/** Describes every route as OpenAPI 3.1, from the same schemas that check requests and answers. */
export const openapiPlugin = fp(
  async (app) => {
    nameSchemas();
    await app.register(fastifySwagger, {
      openapi: {
        openapi: '3.1.0',
        info: {
          title: 'Tidelarder',
          version: '1',
          description:
            'From a landing to a labelled pack. Weights are grams, temperatures degrees Celsius, instants ISO 8601 in UTC, days are local days of the club. ' +
            'Every refusal is a problem document (RFC 9457). A POST that makes a record needs an Idempotency-Key header.',
        },
        servers: [{ url: '/' }],
        components: { securitySchemes: { access: { type: 'apiKey', in: 'cookie', name: ACCESS_COOKIE } } },
      },
      transform: (input) => {
        const out = jsonSchemaTransform(input);
        const { access, keyless } = input.route.config ?? {};
        const schema = out.schema as Record<string, unknown>;
        schema['security'] = access === undefined || access === 'public' ? [] : [{ access: [] }];
        schema['x-least-role'] = access ?? 'public';
        if (input.route.method === 'POST' && !keyless) schema['headers'] = keyHeader;
        return out;
      },
      transformObject: (input) => withProblems(jsonSchemaTransformObject(input)),
    });
  },
  { name: 'openapi' },
);

type Document = ReturnType<typeof jsonSchemaTransformObject>;

/** Adds to each operation that any refusal or fault is answered with a problem document. */
function withProblems(document: Document): Document {
  const described = document as { components?: Record<string, Record<string, unknown>>; paths?: Record<string, Record<string, { responses?: Record<string, unknown> }>> };
  described.components = {
    ...described.components,
    responses: {
      ...described.components?.['responses'],
      Problem: { description: 'A problem document (RFC 9457)', content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } } },
    },
  };
  for (const operation of Object.values(described.paths ?? {}).flatMap((path) => Object.values(path))) {
    const ref = { $ref: '#/components/responses/Problem' };
    operation.responses = { ...operation.responses, '4XX': ref, '5XX': ref };
  }
  return tidySchemas(document);
}
