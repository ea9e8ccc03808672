import { boat, boatBody, boatList, boatPatch } from '../../contract/catch.ts';
import { idParams } from '../../contract/common.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import * as boats from './boats.service.ts';

const tags = ['boats'];

export async function boatRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/boats', { config: { access: 'member' }, schema: { tags, summary: 'The boats', response: { 200: boatList } } }, async (request, reply) =>
    sendTagged(request, reply, await boats.listBoats(context)),
  );
  app.post('/api/boats', { config: { access: 'captain' }, schema: { tags, summary: 'Add a boat', body: boatBody, response: { 201: boat } } }, async (request, reply) => {
    const made = await boats.addBoat(unitOf(request, context), request.body);
    return reply.code(201).send(made);
  });
  app.patch('/api/boats/:id', { config: { access: 'captain' }, schema: { tags, summary: 'Change a boat', params: idParams, body: boatPatch, response: { 200: boat } } }, async (request) =>
    boats.changeBoat(unitOf(request, context), request.params.id, request.body),
  );
}
