import { z } from 'zod';
import type { Context } from '../context.ts';
import { ProblemError } from '../errors/problem-error.ts';
import type { App } from './app-type.ts';

const healthy = z.object({ status: z.literal('ok') });

export async function healthRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/health', { config: { access: 'public' }, schema: { tags: ['service'], summary: 'The process lives', response: { 200: healthy } } }, async () => ({
    status: 'ok' as const,
  }));
  app.get('/api/ready', { config: { access: 'public' }, schema: { tags: ['service'], summary: 'The database answers', response: { 200: healthy } } }, async () => {
    try {
      await context.database.ping();
    } catch {
      throw new ProblemError('not-ready', 'The database does not answer. Try again in a moment.');
    }
    return { status: 'ok' as const };
  });
  app.get('/api/openapi.json', { config: { access: 'public' }, schema: { hide: true } }, async (_request, reply) => {
    void reply.header('content-type', 'application/json; charset=utf-8');
    return reply.send(Buffer.from(`${JSON.stringify(app.swagger(), null, 2)}\n`));
  });
}
