import type { Context } from '../platform/context.ts';
import type { App } from '../platform/http/app-type.ts';
import { batchRoutes } from './batches/batches.routes.ts';
import { cureRoutes } from './cures/cures.routes.ts';
import { evidenceRoutes } from './evidence/evidence.routes.ts';
import { ruleRoutes } from './rules/rules.routes.ts';
import { boatRoutes } from './boats/boats.routes.ts';
import { calculationRoutes } from './calculations/calculations.routes.ts';
import { clubRoutes } from './club/club.routes.ts';
import { formulaRoutes } from './formulas/formulas.routes.ts';
import { invitationRoutes } from './people/invitations.routes.ts';
import { memberRoutes } from './people/members.routes.ts';
import { resetRoutes } from './people/resets.routes.ts';
import { sessionRoutes } from './session/session.routes.ts';
import { setupRoutes } from './setup/setup.routes.ts';
import { recordRoutes } from './record/record.routes.ts';
import { speciesRoutes } from './species/species.routes.ts';
import { todayRoutes } from './today/today.routes.ts';
import { claimRoutes } from './claims/claims.routes.ts';
import { handOverRoutes } from './hand-overs/hand-overs.routes.ts';
import { labelRoutes } from './labels/labels.routes.ts';
import { packRoutes } from './packs/packs.routes.ts';
import { publicPageRoutes } from './public-page/public-page.routes.ts';
import { slotRoutes } from './slots/slots.routes.ts';
import { smokerRoutes } from './smokers/smokers.routes.ts';
import { stationRoutes } from './stations/stations.routes.ts';
import { landingRoutes } from './landings/landings.routes.ts';
import { tripRoutes } from './trips/trips.routes.ts';

/** Every feature's routes, in the order in which the API description lists them. */
export const features: ((app: App, options: { context: Context }) => Promise<void>)[] = [
  setupRoutes,
  sessionRoutes,
  memberRoutes,
  invitationRoutes,
  resetRoutes,
  clubRoutes,
  boatRoutes,
  stationRoutes,
  smokerRoutes,
  formulaRoutes,
  batchRoutes,
  evidenceRoutes,
  cureRoutes,
  ruleRoutes,
  slotRoutes,
  packRoutes,
  claimRoutes,
  handOverRoutes,
  labelRoutes,
  publicPageRoutes,
  speciesRoutes,
  tripRoutes,
  landingRoutes,
  todayRoutes,
  recordRoutes,
  calculationRoutes,
];
