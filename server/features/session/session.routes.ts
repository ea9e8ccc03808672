import type { FastifyReply, FastifyRequest } from 'fastify';
import { nothing } from '../../contract/common.ts';
import { changePasswordBody, session, signInBody } from '../../contract/people.ts';
import type { Session } from '../../contract/people.ts';
import { readDevice } from '../../platform/auth/device.ts';
import { giveSession, rememberDevice } from '../../platform/auth/give-session.ts';
import type { StartedSession } from '../../platform/auth/sessions.ts';
import { clearSessionCookies, DEVICE_COOKIE, REFRESH_COOKIE } from '../../platform/auth/tokens.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import * as service from './session.service.ts';

const tags = ['session'];

/** Hands over the session and says whose it is. */
export async function welcome(request: FastifyRequest, reply: FastifyReply, context: Context, started: StartedSession): Promise<Session> {
  const expiresAt = giveSession(request, reply, context, started);
  rememberDevice(request, reply, context, started.memberId);
  return service.describeSession(context, started.memberId, expiresAt);
}

export async function sessionRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/session', { config: { access: 'public' }, schema: { tags, summary: 'Who is signed in', response: { 200: session } } }, async (request, reply) => {
    const { claims } = request;
    return sendTagged(request, reply, await service.describeSession(context, request.actor?.id ?? null, claims && new Date(claims.exp * 1000)));
  });
  app.post('/api/session', { config: { access: 'public', keyless: true }, schema: { tags, summary: 'Sign in', body: signInBody, response: { 200: session } } }, async (request, reply) => {
    const device = readDevice(context.config, request.cookies[DEVICE_COOKIE], context.clock());
    const started = await service.signIn(context, unitOf(request, context), request.body, { address: request.ip, device });
    return welcome(request, reply, context, started);
  });
  app.delete('/api/session', { config: { access: 'public' }, schema: { tags, summary: 'Sign out', response: { 200: nothing } } }, async (request, reply) => {
    await service.signOut(unitOf(request, context), { refreshToken: request.cookies[REFRESH_COOKIE], familyId: request.claims?.family });
    clearSessionCookies(reply, context.config);
    return {};
  });
  app.post('/api/session/renew', { config: { access: 'public', keyless: true }, schema: { tags, summary: 'Renew the session', response: { 200: session } } }, async (request, reply) => {
    const started = await service.renew(context, unitOf(request, context), request.cookies[REFRESH_COOKIE]);
    return service.describeSession(context, started.memberId, giveSession(request, reply, context, started));
  });
  app.delete('/api/session/everywhere', { config: { access: 'member' }, schema: { tags, summary: 'Sign out on every device', response: { 200: nothing } } }, async (request, reply) => {
    await service.signOutEverywhere(unitOf(request, context));
    clearSessionCookies(reply, context.config);
    return {};
  });
  app.put('/api/password', { config: { access: 'member' }, schema: { tags, summary: 'Change the password', body: changePasswordBody, response: { 200: session } } }, async (request, reply) => {
    const started = await service.changePassword(context, unitOf(request, context), request.body);
    return welcome(request, reply, context, started);
  });
}
