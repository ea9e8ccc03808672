import { idParams } from '../../contract/common.ts';
import { leaveBody, member, memberList, memberPatch } from '../../contract/people.ts';
import { clearSessionCookies } from '../../platform/auth/tokens.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import * as members from './members.service.ts';

const tags = ['people'];

export async function memberRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/members', { config: { access: 'member' }, schema: { tags, summary: 'The members, those who left last', response: { 200: memberList } } }, async (request, reply) =>
    sendTagged(request, reply, await members.listMembers(context, request.actor)),
  );
  app.get('/api/members/:id', { config: { access: 'member' }, schema: { tags, summary: 'A member', params: idParams, response: { 200: member } } }, async (request, reply) =>
    sendTagged(request, reply, await members.showMember(context, request.actor, request.params.id)),
  );
  app.patch('/api/members/:id', { config: { access: 'member' }, schema: { tags, summary: 'Change a name or a role', params: idParams, body: memberPatch, response: { 200: member } } }, async (request) =>
    members.changeMember(unitOf(request, context), request.params.id, request.body),
  );
  app.post('/api/members/:id/leave', { config: { access: 'member' }, schema: { tags, summary: 'Leave the club, or let somebody go', params: idParams, body: leaveBody, response: { 200: member } } }, async (request, reply) => {
    const left = await members.leave(unitOf(request, context), request.params.id, request.body);
    if (request.actor?.id === left.id) clearSessionCookies(reply, context.config);
    return left;
  });
}
