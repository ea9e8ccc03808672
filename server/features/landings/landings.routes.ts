import { landing, landingBody, landingList, landingPatch, landingQuery } from '../../contract/catch.ts';
import { idParams } from '../../contract/common.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import * as landings from './landings.service.ts';

const tags = ['landings'];

export async function landingRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.post('/api/trips/:id/landings', { config: { access: 'crew' }, schema: { tags, summary: 'Record a landing', params: idParams, body: landingBody, response: { 201: landing } } }, async (request, reply) =>
    reply.code(201).send(await landings.addLanding(context, unitOf(request, context), request.params.id, request.body)),
  );
  app.get('/api/landings', { config: { access: 'member' }, schema: { tags, summary: 'The landings, newest first', querystring: landingQuery, response: { 200: landingList } } }, async (request, reply) =>
    sendTagged(request, reply, await landings.listLandings(context, request.query)),
  );
  app.get('/api/landings/:id', { config: { access: 'member' }, schema: { tags, summary: 'A landing', params: idParams, response: { 200: landing } } }, async (request, reply) =>
    sendTagged(request, reply, await landings.readLanding(context, request.params.id)),
  );
  app.patch('/api/landings/:id', { config: { access: 'crew' }, schema: { tags, summary: 'Correct a landing, or take it out', params: idParams, body: landingPatch, response: { 200: landing } } }, async (request) =>
    landings.correctLanding(unitOf(request, context), request.params.id, request.body),
  );
}
