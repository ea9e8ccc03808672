import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import fastifyStatic from '@fastify/static';
import fp from 'fastify-plugin';
import { ProblemError } from '../errors/problem-error.ts';
import { sendProblem } from '../errors/error-handler.ts';

/** The inline scripts of the app's one page, as sources for the content policy. */
export function inlineScriptHashes(webDir: string): string[] {
  const page = path.join(webDir, 'index.html');
  if (!existsSync(page)) return [];
  const html = readFileSync(page, 'utf8');
  return [...html.matchAll(/<script(?![^>]*\bsrc=)[^>]*>([\s\S]*?)<\/script>/g)].map(
    (m) => `'sha256-${createHash('sha256').update(m[1] ?? '').digest('base64')}'`,
  );
}

/**
 * Serves the built web app. What is under /api is never answered with a page, a missing script is a plain 404 (a page
 * in its place would strand an old tab after an upgrade), and every other address is the app's one page.
 */
export const staticPlugin = fp<{ webDir: string | null }>(
  async (app, { webDir }) => {
    if (webDir) {
      await app.register(fastifyStatic, {
        root: webDir,
        wildcard: false,
        index: false,
        setHeaders: (reply, file) => {
          const immutable = file.includes(`${path.sep}_app${path.sep}immutable${path.sep}`);
          reply.header('cache-control', immutable ? 'public, max-age=31536000, immutable' : 'no-cache');
        },
      });
    }
    app.setNotFoundHandler((request, reply) => {
      const address = request.url.split('?')[0] ?? '/';
      const isPage = (request.method === 'GET' || request.method === 'HEAD') && !address.startsWith('/api/') && address !== '/api' && !address.startsWith('/_app/');
      if (isPage && webDir) {
        void reply.header('cache-control', 'no-cache');
        if (address.startsWith('/p/')) void reply.header('x-robots-tag', 'noindex, nofollow').header('referrer-policy', 'no-referrer');
        return reply.sendFile('index.html', webDir);
      }
      sendProblem(reply, new ProblemError('not-found', `There is nothing at ${request.method} ${address.slice(0, 200)}.`), request.id);
      return reply;
    });
  },
  { name: 'static' },
);
