import { batchDetail } from '../../contract/batches.ts';
import { idParams } from '../../contract/common.ts';
import { cureFactsPatch, saltFigures as figuresAnswer, stockCountBody, stockList } from '../../contract/cures.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import { tellCure } from './cures.service.ts';
import { saltFigures } from './salt-figures.service.ts';
import { countStock, listStock } from './stock.service.ts';

const tags = ['cures'];

export async function cureRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.patch('/api/stages/:id/cure', { config: { access: 'crew' }, schema: { tags, summary: 'Tell how the fish of a cure stage was cured, or correct it', params: idParams, body: cureFactsPatch, response: { 200: batchDetail } } }, async (request) =>
    tellCure(unitOf(request, context), request.params.id, request.body),
  );
  app.get('/api/salt-figures', { config: { access: 'member' }, schema: { tags, summary: 'What the club’s laboratory figures say of how fast salt goes into fish', response: { 200: figuresAnswer } } }, async (request, reply) =>
    sendTagged(request, reply, await saltFigures(context)),
  );
  app.get('/api/cure-stock', { config: { access: 'member' }, schema: { tags, summary: 'Salt, sugar and other ingredients of cures that are there', response: { 200: stockList } } }, async (request, reply) =>
    sendTagged(request, reply, await listStock(context)),
  );
  app.post('/api/cure-stock/counts', { config: { access: 'crew' }, schema: { tags, summary: 'Write down what somebody counted', body: stockCountBody, response: { 201: stockList } } }, async (request, reply) =>
    reply.code(201).send(await countStock(unitOf(request, context), request.body)),
  );
}
