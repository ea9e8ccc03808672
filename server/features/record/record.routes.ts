import { recordPage, recordQuery } from '../../contract/today.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { readRecord } from './record.service.ts';

export async function recordRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get(
    '/api/record',
    { config: { access: 'crew' }, schema: { tags: ['record'], summary: 'Who changed what, newest first', querystring: recordQuery, response: { 200: recordPage } } },
    async (request, reply) => sendTagged(request, reply, await readRecord(context, request.actor, request.query)),
  );
}
