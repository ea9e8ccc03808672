import { idParams } from '../../contract/common.ts';
import { giftBody, handOver, handOverBody, handOverList, handOverQuery, handOversMade, undoBody } from '../../contract/packs.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import * as handOvers from './hand-overs.service.ts';

const tags = ['hand-overs'];

export async function handOverRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/hand-overs', { config: { access: 'member' }, schema: { tags, summary: 'Hand-overs, newest first: a member’s own, everybody’s for crew', querystring: handOverQuery, response: { 200: handOverList } } }, async (request, reply) =>
    sendTagged(request, reply, await handOvers.listHandOvers(context, request.actor, request.query)),
  );
  app.post('/api/hand-overs', { config: { access: 'crew' }, schema: { tags, summary: 'Hand packs to a member or a named recipient', body: handOverBody, response: { 201: handOversMade } } }, async (request, reply) => {
    const made = await handOvers.handOver(context, unitOf(request, context), request.body);
    return reply.code(201).send(made);
  });
  app.post('/api/hand-overs/:id/undo', { config: { access: 'captain' }, schema: { tags, summary: 'Undo a hand-over or gift', params: idParams, body: undoBody, response: { 200: handOver } } }, async (request) =>
    handOvers.undoHandOver(unitOf(request, context), request.params.id, request.body),
  );
  app.post('/api/gifts', { config: { access: 'member' }, schema: { tags, summary: 'Pass on a pack that one holds', body: giftBody, response: { 201: handOver } } }, async (request, reply) => {
    const made = await handOvers.giveOn(context, unitOf(request, context), request.body);
    return reply.code(201).send(made);
  });
}
