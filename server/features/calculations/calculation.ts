import type { FastifyInstance, FastifySchema, RouteHandlerMethod } from 'fastify';
import type { z } from 'zod';
import type { App } from '../../platform/http/app-type.ts';

/** Put among the routes by `calculationRoutes`. */
export type Calculation = (app: App) => void;

type Parts<Body extends z.ZodType, Answer extends z.ZodType> = {
  /** Below /api/calculations/. */
  name: string;
  summary: string;
  body: Body;
  answer: Answer;
  /** Pure: the same question has the same answer. Throws DomainError on what it refuses. */
  reckon: (question: z.output<Body>) => z.input<Answer>;
};

/**
 * A calculation of the domain as a route. It is asked by POST, as its questions are too large for an address, but it
 * changes nothing: it takes no Idempotency-Key.
 */
export function calculation<Body extends z.ZodType, Answer extends z.ZodType>({ name, summary, body, answer, reckon }: Parts<Body, Answer>): Calculation {
  // The types of question and answer are tied together above; the route takes the schemas as any schemas.
  const schema: FastifySchema = { body, response: { 200: answer } };
  return (app) => {
    const handler: RouteHandlerMethod = (request, reply) => {
      void reply.send(reckon(request.body as z.output<Body>));
    };
    (app as unknown as FastifyInstance).post(`/api/calculations/${name}`, { config: { access: 'member', keyless: true }, schema: { ...schema, tags: ['calculations'], summary } }, handler);
  };
}
