import { limitBody, limitChanged, limitParams, ruleList } from '../../contract/rules.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import { changeLimit, listRules } from './rules.service.ts';

const tags = ['rules'];

export async function ruleRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/rules', { config: { access: 'member' }, schema: { tags, summary: 'The rules that batches are held against, with the club’s own limits', response: { 200: ruleList } } }, async (request, reply) =>
    sendTagged(request, reply, await listRules(context)),
  );
  app.put('/api/rules/limits/:id', { config: { access: 'captain' }, schema: { tags, summary: 'Tighten a limit for the club, or give the rule’s own back', params: limitParams, body: limitBody, response: { 200: limitChanged } } }, async (request) =>
    changeLimit(unitOf(request, context), request.params.id, request.body),
  );
}
