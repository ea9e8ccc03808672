import fastifyCookie from '@fastify/cookie';
import fastifyJwt from '@fastify/jwt';
import fp from 'fastify-plugin';
import type { FastifyRequest } from 'fastify';
import type { Actor, Context } from '../context.ts';
import { ProblemError } from '../errors/problem-error.ts';
import { need } from './access.ts';
import type { Access } from './access.ts';
import { ACCESS_COOKIE, ACCESS_MINUTES } from './tokens.ts';
import type { AccessClaims } from './tokens.ts';

declare module '@fastify/jwt' {
  interface FastifyJWT {
    payload: AccessClaims;
    user: AccessClaims;
  }
}
declare module 'fastify' {
  interface FastifyRequest {
    actor: Actor | null;
    claims: (AccessClaims & { exp: number }) | null;
    /** What the route asked to be read along with the member; null when nothing was found. */
    alongside: unknown;
  }
  interface FastifyContextConfig {
    access?: Access;
    /** A POST that makes no record and may be sent without an Idempotency-Key. */
    keyless?: boolean;
    /** One value that a busy route reads in the same statement as the member, to save a round trip. */
    alongside?: Alongside;
  }
}

export type Alongside = { name: string; /** A scalar subselect; $2 stands for the uuid that the route's address names as id. */ sql: string };

const memberSql = `select id, name, role, token_epoch as epoch from member where id = $1 and left_at is null`;
const memberAndSql = (value: string) => `select id, name, role, token_epoch as epoch, (${value}) as alongside from member where id = $1 and left_at is null`;
const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

/**
 * Knows who asks, and holds every route of the API to the access that it states. A route that states none stops the
 * service from starting. The member is read anew for each request, so that whoever left or signed out everywhere is
 * out at once, on every server process.
 */
export const authPlugin = fp<{ context: Context }>(
  async (app, { context }) => {
    await app.register(fastifyCookie);
    await app.register(fastifyJwt, {
      secret: `${context.config.secret}:access`,
      cookie: { cookieName: ACCESS_COOKIE, signed: false },
      sign: { algorithm: 'HS256', expiresIn: `${ACCESS_MINUTES}m` },
      verify: { algorithms: ['HS256'], onlyCookie: true },
    });
    app.decorateRequest('actor', null);
    app.decorateRequest('claims', null);
    app.decorateRequest('alongside', null);

    app.addHook('onRoute', (route) => {
      if (route.url.startsWith('/api/') && !route.config?.access) throw new Error(`The route ${route.method} ${route.url} states no access`);
    });
    app.addHook('onRequest', async (request) => {
      const access = request.routeOptions.config.access;
      if (!access) return;
      refuseCrossSite(request, context.config.publicUrl);
      await identify(request, context);
      if (access !== 'public') need(request.actor, access);
    });
  },
  { name: 'auth' },
);

async function identify(request: FastifyRequest, context: Context): Promise<void> {
  if (!request.cookies[ACCESS_COOKIE]) return;
  let claims: AccessClaims & { exp: number };
  try {
    // Without options of its own: with them a new verifier would be built for each request.
    claims = await request.jwtVerify<AccessClaims & { exp: number }>();
  } catch {
    return; // Expired or forged: nobody is signed in, and the app renews.
  }
  const member = await readMember(request, context, claims.sub);
  if (!member || member.epoch !== claims.epoch) return;
  request.claims = claims;
  request.actor = { id: member.id, name: member.name, role: member.role };
}

async function readMember(request: FastifyRequest, context: Context, memberId: string): Promise<(Actor & { epoch: number }) | undefined> {
  const { alongside } = request.routeOptions.config;
  const { id } = request.params as { id?: unknown };
  if (!alongside || typeof id !== 'string' || !uuid.test(id)) return (await context.database.query<Actor & { epoch: number }>('auth-member', memberSql, [memberId]))[0];
  const [row] = await context.database.query<Actor & { epoch: number; alongside: unknown }>(`auth-member-${alongside.name}`, memberAndSql(alongside.sql), [memberId, id]);
  if (row) request.alongside = row.alongside;
  return row;
}

/**
 * A browser says where a request comes from; only this site's own pages may change anything. A program that is no
 * browser sends neither header, and has no cookies of anybody else to misuse.
 */
function refuseCrossSite(request: FastifyRequest, publicUrl: string): void {
  if (request.method === 'GET' || request.method === 'HEAD') return;
  const site = request.headers['sec-fetch-site'];
  if (site === 'same-origin' || site === 'none') return;
  const origin = request.headers.origin;
  if (site === undefined && origin === undefined) return;
  if (origin !== undefined && (origin === publicUrl || hostOf(origin) === request.headers.host)) {
    if (site === undefined) return;
  }
  throw new ProblemError('cross-site', 'Open the club’s own page and try there.');
}
function hostOf(origin: string): string | null {
  return URL.canParse(origin) ? new URL(origin).host : null;
}
