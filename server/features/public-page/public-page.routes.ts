import { publicCodeParams, publicPack } from '../../contract/packs.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { readPublicPack } from './public-page.service.ts';

export async function publicPageRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/public/packs/:code', {
    config: { access: 'public' },
    schema: { tags: ['public'], summary: 'What a label’s code leads to: the food, never a person', params: publicCodeParams, response: { 200: publicPack } },
    // Also on a refusal: nothing about a pack stands in a search engine or a shared cache.
    onRequest: async (_request, reply) => {
      void reply.header('x-robots-tag', 'noindex, nofollow').header('cache-control', 'no-store').header('referrer-policy', 'no-referrer');
    },
  }, async (request) => readPublicPack(context, request.params.code));
}
