import { today, todayQuery } from '../../contract/today.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { readToday } from './today.service.ts';

export async function todayRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/today', { config: { access: 'member' }, schema: { tags: ['today'], summary: 'The first screen', querystring: todayQuery, response: { 200: today } } }, async (request, reply) =>
    sendTagged(request, reply, await readToday(context, request.actor, request.query)),
  );
}
