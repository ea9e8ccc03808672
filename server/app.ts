import { randomUUID } from 'node:crypto';
import type { Socket } from 'node:net';
import fastifyHelmet from '@fastify/helmet';
import Fastify, { LogController } from 'fastify';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod';
import { features } from './features/index.ts';
import { authPlugin } from './platform/auth/auth-plugin.ts';
import type { Context } from './platform/context.ts';
import { errorHandler } from './platform/errors/error-handler.ts';
import { healthRoutes } from './platform/http/health.routes.ts';
import type { App } from './platform/http/app-type.ts';
import { openapiPlugin } from './platform/http/openapi.ts';
import { headersOnEveryAnswer, refuseUnreadable } from './platform/http/unreadable.ts';
import { inlineScriptHashes, staticPlugin } from './platform/http/static.ts';

export type AppOptions = Context & {
  /** Folder of the built web app; null serves the API alone. */
  webDir: string | null;
};

/** Builds the whole service. It never listens and reads no environment. */
export async function buildApp(options: AppOptions): Promise<App> {
  const { webDir, ...context } = options;
  const security = securityHeaders(context.config.publicUrl, webDir);
  const onEveryAnswer = await headersOnEveryAnswer(security);
  const app: App = Fastify({
    loggerInstance: context.logger,
    logController: new LogController({ disableRequestLogging: true }),
    genReqId: () => randomUUID(),
    trustProxy: context.config.trustedProxies.length > 0 ? context.config.trustedProxies : false,
    bodyLimit: 1_048_576,
    requestTimeout: 30_000,
    connectionTimeout: 60_000,
    routerOptions: { maxParamLength: 200 },
    // An address that cannot even be read is refused before there is a route, and before the hooks that set headers.
    frameworkErrors: (error, request, reply) => errorHandler(error, request as FastifyRequest, reply.headers(onEveryAnswer) as FastifyReply),
    clientErrorHandler: (error, socket) => refuseUnreadable(error, socket as Socket, onEveryAnswer),
  });
  // Bodies are JSON alone; another site's form could send plain text without the browser asking first.
  app.removeContentTypeParser('text/plain');
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  app.setErrorHandler(errorHandler);
  app.addHook('onResponse', (request, reply, done) => {
    // The route's pattern, not the address: an address can hold a link's token or a pack's code.
    const route = request.routeOptions.url ?? 'page';
    request.log.info({ method: request.method, route, status: reply.statusCode, ms: Math.round(reply.elapsedTime) }, 'request');
    done();
  });
  await app.register(fastifyHelmet, security);
  await app.register(openapiPlugin);
  await app.register(authPlugin, { context });
  await app.register(healthRoutes, { context });
  for (const routes of features) await app.register(routes, { context });
  await app.register(staticPlugin, { webDir });
  return app;
}

function securityHeaders(publicUrl: string, webDir: string | null) {
  const https = publicUrl.startsWith('https:');
  return {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'self'"],
        scriptSrc: ["'self'", ...(webDir ? inlineScriptHashes(webDir) : [])],
        styleSrc: ["'self'"],
        // Components place floating parts with style attributes; style elements stay forbidden.
        styleSrcAttr: ["'unsafe-inline'"],
        imgSrc: ["'self'", 'data:', 'blob:'],
        fontSrc: ["'self'"],
        connectSrc: ["'self'"],
        objectSrc: ["'none'"],
        frameAncestors: ["'none'"],
        frameSrc: ["'self'", 'blob:'],
        baseUri: ["'self'"],
        formAction: ["'self'"],
        ...(https ? { upgradeInsecureRequests: [] } : {}),
      },
    },
    strictTransportSecurity: https ? { maxAge: 15_552_000 } : false,
    // Over plain http on a home network these two only raise warnings.
    originAgentCluster: https,
    crossOriginOpenerPolicy: https,
    referrerPolicy: { policy: 'same-origin' as const },
  } as const;
}
