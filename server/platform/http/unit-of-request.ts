import type { FastifyRequest } from 'fastify';
import type { Context } from '../context.ts';
import { ProblemError } from '../errors/problem-error.ts';
import { beginUnit, fingerprint } from '../unit.ts';
import type { Unit } from '../unit.ts';

/**
 * The unit of work of a request. A POST that makes a record needs an Idempotency-Key, which is the sender's alone:
 * two members may use the same key without meeting. Somebody who is not signed in owns it by their address, unless
 * `owner` names something that stays the same when they change networks.
 */
export function unitOf(request: FastifyRequest, context: Context, owner = request.actor?.id ?? `address:${request.ip}`): Unit {
  if (request.method !== 'POST' || request.routeOptions.config.keyless) return beginUnit(context, request.actor, request.id, null);
  const key = request.headers['idempotency-key'];
  if (typeof key !== 'string' || !/^[\x21-\x7E]{8,100}$/.test(key)) {
    throw new ProblemError('key-missing', 'Send the header Idempotency-Key with 8 to 100 characters, new for each new record, the same when you send it again.');
  }
  return beginUnit(context, request.actor, request.id, { owner, key, fingerprint: fingerprint(request.method, request.url, request.body), onReplay: () => (request.replayed = true) });
}
