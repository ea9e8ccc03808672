import { idParams } from '../../contract/common.ts';
import { formula, formulaBody, formulaList, formulaPatch } from '../../contract/formulas.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import * as formulas from './formulas.service.ts';

const tags = ['formulas'];

export async function formulaRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/formulas', { config: { access: 'member' }, schema: { tags, summary: 'The cures that the club keeps', response: { 200: formulaList } } }, async (request, reply) =>
    sendTagged(request, reply, await formulas.listFormulas(context)),
  );
  app.post('/api/formulas', { config: { access: 'crew' }, schema: { tags, summary: 'Keep a formula', body: formulaBody, response: { 201: formula } } }, async (request, reply) =>
    reply.code(201).send(await formulas.addFormula(unitOf(request, context), request.body)),
  );
  app.patch('/api/formulas/:id', { config: { access: 'crew' }, schema: { tags, summary: 'Change or retire a formula', params: idParams, body: formulaPatch, response: { 200: formula } } }, async (request) =>
    formulas.changeFormula(unitOf(request, context), request.params.id, request.body),
  );
}
