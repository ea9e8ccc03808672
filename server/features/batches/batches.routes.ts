import { batchBody, batchDetail, batchList, batchPatch, batchQuery, drawPatch, drawsBody, holderList, recallBody, recallLiftBody, stageBody, stagePatch } from '../../contract/batches.ts';
import { idParams } from '../../contract/common.ts';
import { batchYields as yieldsAnswer } from '../../contract/yields.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { matches, sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import { changeBatch, createBatch } from './create.service.ts';
import { addDraws, changeDraw } from './draws.service.ts';
import { listBatches, pageReader } from './page.service.ts';
import { revisionSql } from './page.sql.ts';
import type { Revision } from './page.sql.ts';
import { liftRecall, listHolders, recallLot } from './recall.service.ts';
import { addStage, changeStage } from './stages.service.ts';
import { batchYields } from './yields.service.ts';

const tags = ['batches'];
const ok = { 200: batchDetail };
const made = { 201: batchDetail };

export async function batchRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/batches', { config: { access: 'member' }, schema: { tags, summary: 'The batches, newest first', querystring: batchQuery, response: { 200: batchList } } }, async (request, reply) =>
    sendTagged(request, reply, await listBatches(context, request.query)),
  );
  app.post('/api/batches', { config: { access: 'crew' }, schema: { tags, summary: 'Start a batch; drawing from landings needs a captain', body: batchBody, response: made } }, async (request, reply) =>
    reply.code(201).send(await createBatch(context, unitOf(request, context), request.body)),
  );
  const readPage = pageReader(context);
  const alongside = { name: 'batch-revision', sql: revisionSql };
  app.get('/api/batches/:id', { config: { access: 'member', alongside }, schema: { tags, summary: 'A batch with all that belongs to it', params: idParams, response: ok } }, async (request, reply) => {
    const { tag, body } = await readPage(request.actor, request.params.id, request.alongside as Revision | null, (t) => matches(request, t));
    void reply.header('etag', tag).header('cache-control', 'private, no-cache');
    if (body === null) return reply.code(304 as 200).send(undefined as never);
    // Text already, sent as it is: the schema above describes it, and is not run over it again.
    return reply.header('content-type', 'application/json; charset=utf-8').send(body as never);
  });
  app.patch('/api/batches/:id', { config: { access: 'crew' }, schema: { tags, summary: 'Change a batch’s name, note, ingredients or allergens', params: idParams, body: batchPatch, response: ok } }, async (request) =>
    changeBatch(unitOf(request, context), request.params.id, request.body),
  );
  app.post('/api/batches/:id/draws', { config: { access: 'crew' }, schema: { tags, summary: 'Draw weight into a batch; from landings needs a captain', params: idParams, body: drawsBody, response: made } }, async (request, reply) =>
    reply.code(201).send(await addDraws(unitOf(request, context), request.params.id, request.body.draws)),
  );
  app.patch('/api/draws/:id', { config: { access: 'crew' }, schema: { tags, summary: 'Correct or undo a draw', params: idParams, body: drawPatch, response: ok } }, async (request) =>
    changeDraw(unitOf(request, context), request.params.id, request.body),
  );
  app.post('/api/batches/:id/stages', { config: { access: 'crew' }, schema: { tags, summary: 'Start a stage, or record it whole', params: idParams, body: stageBody, response: made } }, async (request, reply) =>
    reply.code(201).send(await addStage(unitOf(request, context), request.params.id, request.body)),
  );
  app.patch('/api/stages/:id', { config: { access: 'crew' }, schema: { tags, summary: 'Finish, correct or undo a stage', params: idParams, body: stagePatch, response: ok } }, async (request) =>
    changeStage(unitOf(request, context), request.params.id, request.body),
  );
  app.post('/api/batches/:id/recall', { config: { access: 'captain' }, schema: { tags, summary: 'Recall a lot and every lot made from it', params: idParams, body: recallBody, response: ok } }, async (request) =>
    recallLot(unitOf(request, context), request.params.id, request.body.reason),
  );
  app.post('/api/batches/:id/recall/lift', { config: { access: 'captain' }, schema: { tags, summary: 'End a recall', params: idParams, body: recallLiftBody, response: ok } }, async (request) =>
    liftRecall(unitOf(request, context), request.params.id, request.body.reason),
  );
  app.get('/api/batches/:id/yields', { config: { access: 'member' }, schema: { tags, summary: 'What to expect at each stage, by the club’s own batches and published figures', params: idParams, response: { 200: yieldsAnswer } } }, async (request, reply) =>
    sendTagged(request, reply, await batchYields(context, request.actor, request.params.id)),
  );
  app.get('/api/batches/:id/holders', { config: { access: 'crew' }, schema: { tags, summary: 'Who holds packs of a lot, or of a lot made from it', params: idParams, response: { 200: holderList } } }, async (request, reply) =>
    sendTagged(request, reply, await listHolders(context, request.actor, request.params.id)),
  );
}
