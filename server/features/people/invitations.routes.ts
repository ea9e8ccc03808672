import { idParams } from '../../contract/common.ts';
import { acceptInvitationBody, invitation, invitationBody, invitationList, invitationLook, linkToken, madeInvitation, returnBody, session } from '../../contract/people.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import { welcome } from '../session/session.routes.ts';
import * as invitations from './invitations.service.ts';
import { linkOwner } from './links.ts';

const tags = ['people'];

export async function invitationRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/invitations', { config: { access: 'captain' }, schema: { tags, summary: 'The invitations, newest first', response: { 200: invitationList } } }, async (request, reply) =>
    sendTagged(request, reply, await invitations.listInvitations(context, request.actor)),
  );
  app.post('/api/invitations', { config: { access: 'captain' }, schema: { tags, summary: 'Invite somebody with a link', body: invitationBody, response: { 201: madeInvitation } } }, async (request, reply) => {
    const made = await invitations.invite(context, unitOf(request, context), request.body);
    return reply.code(201).header('cache-control', 'no-store').send(made);
  });
  app.delete('/api/invitations/:id', { config: { access: 'captain' }, schema: { tags, summary: 'Withdraw an invitation', params: idParams, response: { 200: invitation } } }, async (request) =>
    invitations.withdrawInvitation(unitOf(request, context), request.params.id),
  );
  app.get('/api/invitations/by-token/:token', { config: { access: 'public' }, schema: { tags, summary: 'What an invitation link offers', params: linkToken, response: { 200: invitationLook } } }, async (request, reply) =>
    sendTagged(request, reply, await invitations.lookAtInvitation(context, request.params.token)),
  );
  app.post('/api/invitations/by-token/:token/accept', { config: { access: 'public' }, schema: { tags, summary: 'Join with an invitation link', params: linkToken, body: acceptInvitationBody, response: { 201: session } } }, async (request, reply) => {
    const { token } = request.params;
    const started = await invitations.acceptInvitation(context, unitOf(request, context, linkOwner(token)), token, request.body);
    return reply.code(201).send(await welcome(request, reply, context, started));
  });
  app.post('/api/invitations/by-token/:token/return', { config: { access: 'public' }, schema: { tags, summary: 'Come back to the club with an invitation link', params: linkToken, body: returnBody, response: { 201: session } } }, async (request, reply) => {
    const { token } = request.params;
    const started = await invitations.returnWithInvitation(context, unitOf(request, context, linkOwner(token)), token, request.body.password);
    return reply.code(201).send(await welcome(request, reply, context, started));
  });
}
