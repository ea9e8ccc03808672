import { createHash } from 'node:crypto';
import type { FastifyReply } from 'fastify';
import type { Config } from '../../config.ts';
import type { Random } from '../context.ts';

export const ACCESS_COOKIE = 'tl_access';
export const REFRESH_COOKIE = 'tl_refresh';
/** Marks a device that signed in before, so that a stranger's guesses do not lock its owner out. */
export const DEVICE_COOKIE = 'tl_device';
export const ACCESS_MINUTES = 10;
export const REFRESH_DAYS = 30;
export const DEVICE_DAYS = 400;

/** What an access token carries: member, their epoch, the refresh family it came from. */
export type AccessClaims = { sub: string; epoch: number; family: string };

export const newToken = (random: Random) => Buffer.from(random(32)).toString('base64url');
/** Long random tokens need no salt or stretching. */
export const hashToken = (token: string) => createHash('sha256').update(token).digest('base64url');

function cookie(config: Config, path: string, maxAgeSeconds: number) {
  return { path, httpOnly: true, sameSite: 'strict' as const, secure: config.publicUrl.startsWith('https:'), maxAge: maxAgeSeconds };
}
export function setAccessCookie(reply: FastifyReply, config: Config, token: string): void {
  void reply.setCookie(ACCESS_COOKIE, token, cookie(config, '/api', ACCESS_MINUTES * 60));
}
export function setRefreshCookie(reply: FastifyReply, config: Config, token: string): void {
  void reply.setCookie(REFRESH_COOKIE, token, cookie(config, '/api/session', REFRESH_DAYS * 86_400));
}
export function setDeviceCookie(reply: FastifyReply, config: Config, token: string): void {
  void reply.setCookie(DEVICE_COOKIE, token, cookie(config, '/api/session', DEVICE_DAYS * 86_400));
}
export function clearSessionCookies(reply: FastifyReply, config: Config): void {
  void reply.clearCookie(ACCESS_COOKIE, cookie(config, '/api', 0));
  void reply.clearCookie(REFRESH_COOKIE, cookie(config, '/api/session', 0));
}
