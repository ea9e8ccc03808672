import { idParams } from '../../contract/common.ts';
import { packDetail, packLine, packList, packPatch, packQuery, packsBody, packsMade, toldAnswer, toldBody } from '../../contract/packs.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import { markTold } from '../batches/recall.service.ts';
import { changePack } from './pack-changes.ts';
import * as packs from './packs.service.ts';

const tags = ['packs'];

export async function packRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/packs', { config: { access: 'member' }, schema: { tags, summary: 'Packs', querystring: packQuery, response: { 200: packList } } }, async (request, reply) =>
    sendTagged(request, reply, await packs.listPacks(context, request.actor, request.query)),
  );
  app.get('/api/packs/:id', { config: { access: 'member' }, schema: { tags, summary: 'One pack: its dates with their reasons, where it came from, where it went', params: idParams, response: { 200: packDetail } } }, async (request, reply) =>
    sendTagged(request, reply, await packs.readPack(context, request.actor, request.params.id)),
  );
  app.post('/api/batches/:id/packs', { config: { access: 'crew' }, schema: { tags, summary: 'Weigh out packs of a batch', params: idParams, body: packsBody, response: { 201: packsMade } } }, async (request, reply) => {
    const made = await packs.makePacks(context, unitOf(request, context), request.params.id, request.body);
    return reply.code(201).send(made);
  });
  app.patch('/api/packs/:id', { config: { access: 'member' }, schema: { tags, summary: 'Correct a pack; the member who has it says when it was frozen or thawed', params: idParams, body: packPatch, response: { 200: packLine } } }, async (request) =>
    changePack(unitOf(request, context), request.params.id, request.body),
  );
  app.post('/api/packs/:id/told', { config: { access: 'member' }, schema: { tags, summary: 'Say that whoever has a recalled pack was told: by crew, or by who passed it on or has it', params: idParams, body: toldBody, response: { 200: toldAnswer } } }, async (request) =>
    markTold(unitOf(request, context), request.params.id, request.body.told),
  );
}
