import type { Socket } from 'node:net';
import { STATUS_CODES } from 'node:http';
import { randomUUID } from 'node:crypto';
import fastifyHelmet from '@fastify/helmet';
import type { FastifyHelmetOptions } from '@fastify/helmet';
import Fastify from 'fastify';
import { ProblemError } from '../errors/problem-error.ts';

const notOfSecurity = new Set(['content-type', 'content-length', 'date', 'connection']);

/** The headers that every answer carries, for the answers that are given before a request reaches the hooks that set them. */
export async function headersOnEveryAnswer(options: FastifyHelmetOptions): Promise<Record<string, string>> {
  const probe = Fastify();
  await probe.register(fastifyHelmet, options);
  probe.get('/', async () => '');
  const { headers } = await probe.inject('/');
  await probe.close();
  return Object.fromEntries(Object.entries(headers).filter(([name]) => !notOfSecurity.has(name)).map(([name, value]) => [name, String(value)]));
}

/** Answers what is no HTTP that can be read, or never came whole: there is no request, so the answer is written by hand. */
export function refuseUnreadable(error: NodeJS.ErrnoException, socket: Socket, headers: Readonly<Record<string, string>>): void {
  if (error.code === 'ECONNRESET' || socket.destroyed) return;
  if (!socket.writable) {
    socket.destroy(error);
    return;
  }
  const body = Buffer.from(JSON.stringify(problemOf(error.code).body(randomUUID())));
  const { status } = problemOf(error.code);
  const lines = [
    `HTTP/1.1 ${status} ${STATUS_CODES[status] ?? ''}`, ...Object.entries(headers).map(([name, value]) => `${name}: ${value}`),
    'content-type: application/problem+json; charset=utf-8', 'cache-control: no-store', `content-length: ${body.length}`, 'connection: close', '', '',
  ];
  socket.end(Buffer.concat([Buffer.from(lines.join('\r\n')), body]));
}

function problemOf(code: string | undefined): ProblemError {
  if (code === 'ERR_HTTP_REQUEST_TIMEOUT') return new ProblemError('too-slow', 'The request did not arrive in time. Check the connection and send it again.');
  if (code === 'HPE_HEADER_OVERFLOW') return new ProblemError('too-large', 'The headers of the request are larger than 16 kB. Send fewer, or shorter cookies.');
  return new ProblemError('invalid-input', 'The request cannot be read. Check its address and headers.');
}
