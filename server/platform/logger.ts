import pino from 'pino';
import type { FastifyBaseLogger } from 'fastify';

/**
 * One line of JSON for each event, on standard output. No bodies, cookies or addresses of people: what a request was
 * is told by its route's pattern and its number.
 */
export function makeLogger(level: string): FastifyBaseLogger {
  return pino({
    level,
    base: null,
    timestamp: pino.stdTimeFunctions.isoTime,
    formatters: { level: (label) => ({ level: label }) },
    redact: { paths: ['req.headers', 'headers', 'password', '*.password', 'token', '*.token', 'secret', '*.secret', 'cookie', '*.cookie'], remove: true },
    serializers: { req: (req: { id?: string; method?: string }) => ({ id: req.id, method: req.method }), err: pino.stdSerializers.err },
  });
}
