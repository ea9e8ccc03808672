import { session, setupBody, setupState } from '../../contract/people.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import { welcome } from '../session/session.routes.ts';
import * as service from './setup.service.ts';

const tags = ['set-up'];

export async function setupRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/setup', { config: { access: 'public' }, schema: { tags, summary: 'Whether the club is still to be set up', response: { 200: setupState } } }, async (request, reply) =>
    sendTagged(request, reply, await service.setupState(context)),
  );
  app.post('/api/setup', { config: { access: 'public' }, schema: { tags, summary: 'Set up the club and its first captain', body: setupBody, response: { 201: session } } }, async (request, reply) => {
    const started = await service.setUp(context, unitOf(request, context, 'setup'), request.body, request.ip);
    return reply.code(201).send(await welcome(request, reply, context, started));
  });
}
