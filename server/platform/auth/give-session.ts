import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Context } from '../context.ts';
import { deviceToken, readDevice } from './device.ts';
import type { StartedSession } from './sessions.ts';
import { DEVICE_COOKIE, setAccessCookie, setDeviceCookie, setRefreshCookie } from './tokens.ts';

/** Hands a session to the browser in cookies that its scripts cannot read. Answers when the access token runs out. */
export function giveSession(request: FastifyRequest, reply: FastifyReply, context: Context, session: StartedSession): Date {
  const { jwt } = request.server;
  const access = jwt.sign({ sub: session.memberId, epoch: session.epoch, family: session.familyId });
  setAccessCookie(reply, context.config, access);
  setRefreshCookie(reply, context.config, session.refreshToken);
  return new Date((jwt.decode<{ exp: number }>(access)?.exp ?? 0) * 1000);
}

/** Remembers that this member signed in on this device. */
export function rememberDevice(request: FastifyRequest, reply: FastifyReply, context: Context, memberId: string): void {
  const now = context.clock();
  if (readDevice(context.config, request.cookies[DEVICE_COOKIE], now)?.memberId === memberId) return;
  setDeviceCookie(reply, context.config, deviceToken(context.config, context.random, memberId, now));
}
