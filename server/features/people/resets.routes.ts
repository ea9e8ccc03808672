import { nothing } from '../../contract/common.ts';
import { linkToken, madeReset, resetBody, resetLook, resetPasswordBody } from '../../contract/people.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import { linkOwner } from './links.ts';
import * as resets from './resets.service.ts';

const tags = ['people'];

export async function resetRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.post('/api/password-resets', { config: { access: 'captain' }, schema: { tags, summary: 'Make a link to set a new password', body: resetBody, response: { 201: madeReset } } }, async (request, reply) => {
    const made = await resets.makeReset(context, unitOf(request, context), request.body.memberId);
    return reply.code(201).header('cache-control', 'no-store').send(made);
  });
  app.get('/api/password-resets/by-token/:token', { config: { access: 'public' }, schema: { tags, summary: 'Whose password a link sets', params: linkToken, response: { 200: resetLook } } }, async (request, reply) =>
    sendTagged(request, reply, await resets.lookAtReset(context, request.params.token)),
  );
  app.post('/api/password-resets/by-token/:token', { config: { access: 'public' }, schema: { tags, summary: 'Set a new password with a link', params: linkToken, body: resetPasswordBody, response: { 200: nothing } } }, async (request) => {
    const { token } = request.params;
    await resets.resetPassword(context, unitOf(request, context, linkOwner(token)), token, request.body.password);
    return {};
  });
}
