import type { Context } from '../platform/context.ts';
import type { App } from '../platform/http/app-type.ts';
import { boatRoutes } from './boats/boats.routes.ts';

/** Every feature's routes, in the order in which the API description lists them. */
export const features: ((app: App, options: { context: Context }) => Promise<void>)[] = [
  boatRoutes,
];
