import { idParams } from '../../contract/common.ts';
import { slot, slotBody, slotList, slotPatch, slotQuery } from '../../contract/stations.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import * as slots from './slots.service.ts';

const tags = ['slots'];

export async function slotRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/slots', { config: { access: 'member' }, schema: { tags, summary: 'The slots that touch a span of time, of at most 62 days', querystring: slotQuery, response: { 200: slotList } } }, async (request, reply) =>
    sendTagged(request, reply, await slots.listSlots(context, request.query)),
  );
  app.get('/api/slots/:id', { config: { access: 'member' }, schema: { tags, summary: 'One slot that is booked', params: idParams, response: { 200: slot } } }, async (request, reply) =>
    sendTagged(request, reply, await slots.readSlot(context, request.params.id)),
  );
  app.post('/api/slots', { config: { access: 'crew' }, schema: { tags, summary: 'Book a slot', body: slotBody, response: { 201: slot } } }, async (request, reply) => {
    const made = await slots.bookSlot(context, unitOf(request, context), request.body);
    return reply.code(201).send(made);
  });
  app.patch('/api/slots/:id', { config: { access: 'crew' }, schema: { tags, summary: 'Move, resize or cancel a slot', params: idParams, body: slotPatch, response: { 200: slot } } }, async (request) =>
    slots.changeSlot(unitOf(request, context), request.params.id, request.body),
  );
}
