import { createHash } from 'node:crypto';
import type { FastifyReply, FastifyRequest } from 'fastify';

/** Whether the browser's copy is the present one. */
export function matches(request: FastifyRequest, tag: string): boolean {
  const header = request.headers['if-none-match'];
  return header !== undefined && header.split(',').some((t) => t.trim().replace(/^W\//, '') === tag);
}

/**
 * Answers a read with its ETag, or with 304 when the browser's copy is the present one. `private, no-cache` lets the
 * browser keep it but makes it ask each time.
 */
export function sendTagged<T>(request: FastifyRequest, reply: FastifyReply, body: T): T {
  const tag = `"${createHash('sha1').update(JSON.stringify(body)).digest('base64url')}"`;
  void reply.header('etag', tag).header('cache-control', 'private, no-cache');
  if (matches(request, tag)) {
    void reply.code(304).send();
    return undefined as T;
  }
  return body;
}
