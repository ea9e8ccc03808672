import { club, clubPatch } from '../../contract/people.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import * as service from './club.service.ts';

const tags = ['club'];

export async function clubRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/club', { config: { access: 'member' }, schema: { tags, summary: 'The club', response: { 200: club } } }, async (request, reply) =>
    sendTagged(request, reply, await service.showClub(context, request.actor)),
  );
  app.patch('/api/club', { config: { access: 'captain' }, schema: { tags, summary: 'Change the club', body: clubPatch, response: { 200: club } } }, async (request) =>
    service.changeClub(unitOf(request, context), request.body),
  );
}
