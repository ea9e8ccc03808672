import { idParams } from '../../contract/common.ts';
import { learnBody, smokerLearning } from '../../contract/smokers.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import * as smokers from './smokers.service.ts';

const tags = ['stations'];

export async function smokerRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/stations/:id/fits', { config: { access: 'member' }, schema: { tags, summary: 'What a smoker has learnt, and from which smokes', params: idParams, response: { 200: smokerLearning } } }, async (request, reply) =>
    sendTagged(request, reply, await smokers.readLearning(context, request.params.id)),
  );
  app.post('/api/stations/:id/fits', { config: { access: 'crew' }, schema: { tags, summary: 'Let a smoker learn from a smoke, or no longer', params: idParams, body: learnBody, response: { 201: smokerLearning } } }, async (request, reply) =>
    reply.code(201).send(await smokers.learn(context, unitOf(request, context), request.params.id, request.body)),
  );
}
