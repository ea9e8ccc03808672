import fastifyCookie from '@fastify/cookie';
import fastifyJwt from '@fastify/jwt';
import fp from 'fastify-plugin';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { Actor, Context } from '../context.ts';
import { ProblemError } from '../errors/problem-error.ts';
import { gathered } from '../gathered.ts';
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
    /** The answer is the one kept from when this was first sent. */
    replayed: boolean;
  }
  interface FastifyContextConfig {
    access?: Access;
    /** A POST that makes no record and may be sent without an Idempotency-Key. */
    keyless?: boolean;
    /** One value that a busy route reads in the same statement as the member, to save a round trip. */
    alongside?: Alongside;
  }
}

export type Alongside = { name: string; /** A scalar subselect; q.id is the uuid that the route's address names as id, or null. */ sql: string };
type MemberRow = { id: string | null; name: string; role: Actor['role']; epoch: number; alongside?: unknown };
type Asked = { memberId: string; id: string | null };

const memberSql = (alongside: Alongside | undefined) => `select m.id, m.name, m.role, m.token_epoch as epoch${alongside ? `, (${alongside.sql}) as alongside` : ''}
  from unnest($1::uuid[], $2::uuid[]) with ordinality q(member_id, id, n)
    left join lateral (select * from member where member.id = q.member_id and left_at is null) m on true order by q.n`;
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
      // A token that was read before is not taken apart again; its end is looked at each time.
      verify: { algorithms: ['HS256'], onlyCookie: true, cache: 1000 },
    });
    const identify = identifier(app, context);
    app.decorateRequest('actor', null);
    app.decorateRequest('claims', null);
    app.decorateRequest('alongside', null);
    app.decorateRequest('replayed', false);

    app.addHook('onRoute', (route) => {
      if (route.url.startsWith('/api/') && !route.config?.access) throw new Error(`The route ${route.method} ${route.url} states no access`);
    });
    app.addHook('onRequest', async (request) => {
      const access = request.routeOptions.config.access;
      if (!access) return;
      refuseCrossSite(request, context.config.publicUrl);
      await identify(request);
      if (access !== 'public') need(request.actor, access);
    });
  },
  { name: 'auth' },
);

function identifier(app: FastifyInstance, context: Context): (request: FastifyRequest) => Promise<void> {
  const readers = new Map<string, (asked: Asked) => Promise<MemberRow>>();
  function readerFor(alongside: Alongside | undefined): (asked: Asked) => Promise<MemberRow> {
    const name = alongside ? `auth-member-${alongside.name}` : 'auth-member';
    const known = readers.get(name);
    if (known) return known;
    const sql = memberSql(alongside);
    const reader = gathered<Asked, MemberRow>((all) => context.database.query<MemberRow>(name, sql, [all.map((a) => a.memberId), all.map((a) => a.id)]));
    readers.set(name, reader);
    return reader;
  }
  return async (request) => {
    const token = request.cookies[ACCESS_COOKIE];
    if (!token) return;
    let claims: AccessClaims & { exp: number };
    try {
      claims = app.jwt.verify<AccessClaims & { exp: number }>(token);
    } catch {
      return; // Expired or forged: nobody is signed in, and the app renews.
    }
    const { id } = request.params as { id?: unknown };
    const member = await readerFor(request.routeOptions.config.alongside)({ memberId: claims.sub, id: typeof id === 'string' && uuid.test(id) ? id : null });
    if (member.id === null || member.epoch !== claims.epoch) return;
    request.claims = claims;
    request.actor = { id: member.id, name: member.name, role: member.role };
    request.alongside = member.alongside ?? null;
  };
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
