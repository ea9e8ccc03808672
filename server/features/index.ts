import type { Context } from '../platform/context.ts';
import type { App } from '../platform/http/app-type.ts';
import { boatRoutes } from './boats/boats.routes.ts';
import { clubRoutes } from './club/club.routes.ts';
import { invitationRoutes } from './people/invitations.routes.ts';
import { memberRoutes } from './people/members.routes.ts';
import { resetRoutes } from './people/resets.routes.ts';
import { sessionRoutes } from './session/session.routes.ts';
import { setupRoutes } from './setup/setup.routes.ts';
import { recordRoutes } from './record/record.routes.ts';
import { speciesRoutes } from './species/species.routes.ts';
import { todayRoutes } from './today/today.routes.ts';

/** Every feature's routes, in the order in which the API description lists them. */
export const features: ((app: App, options: { context: Context }) => Promise<void>)[] = [
  setupRoutes,
  sessionRoutes,
  memberRoutes,
  invitationRoutes,
  resetRoutes,
  clubRoutes,
  boatRoutes,
  speciesRoutes,
  todayRoutes,
  recordRoutes,
];
