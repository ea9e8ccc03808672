import { tripBody, tripDetail, tripList, tripPatch, trip } from '../../contract/catch.ts';
import { idParams, pageQuery } from '../../contract/common.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import * as trips from './trips.service.ts';

const tags = ['trips'];

export async function tripRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/trips', { config: { access: 'member' }, schema: { tags, summary: 'The trips, newest first', querystring: pageQuery, response: { 200: tripList } } }, async (request, reply) =>
    sendTagged(request, reply, await trips.listTrips(context, request.query)),
  );
  app.post('/api/trips', { config: { access: 'crew' }, schema: { tags, summary: 'Add a trip', body: tripBody, response: { 201: trip } } }, async (request, reply) =>
    reply.code(201).send(await trips.addTrip(context, unitOf(request, context), request.body)),
  );
  app.get('/api/trips/:id', { config: { access: 'member' }, schema: { tags, summary: 'A trip with its landings', params: idParams, response: { 200: tripDetail } } }, async (request, reply) =>
    sendTagged(request, reply, await trips.readTrip(context, request.params.id)),
  );
  app.patch('/api/trips/:id', { config: { access: 'crew' }, schema: { tags, summary: 'Change, close or open a trip', params: idParams, body: tripPatch, response: { 200: trip } } }, async (request) =>
    trips.changeTrip(context, unitOf(request, context), request.params.id, request.body),
  );
}
