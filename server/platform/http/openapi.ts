import fastifySwagger from '@fastify/swagger';
import fp from 'fastify-plugin';
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod';
import { ACCESS_COOKIE } from '../auth/tokens.ts';

/** Describes every route as OpenAPI 3.1, from the same schemas that check requests and answers. */
export const openapiPlugin = fp(
  async (app) => {
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
        const access = input.route.config?.access;
        const schema = out.schema as Record<string, unknown>;
        schema['security'] = access === undefined || access === 'public' ? [] : [{ access: [] }];
        schema['x-least-role'] = access ?? 'public';
        return out;
      },
      transformObject: jsonSchemaTransformObject,
    });
  },
  { name: 'openapi' },
);
