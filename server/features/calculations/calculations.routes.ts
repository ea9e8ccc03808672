import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { adviceCalculations } from './advice.calculations.ts';
import { boatCalculations } from './boat.calculations.ts';
import { coolingCalculations } from './cooling.calculations.ts';
import { cureCalculations } from './cure.calculations.ts';
import { heatCalculations } from './heat.calculations.ts';
import { keepingCalculations } from './keeping.calculations.ts';
import { planCalculations } from './plan.calculations.ts';
import { recordCalculations } from './records.calculations.ts';
import { saltCalculations } from './salt.calculations.ts';
import { yieldCalculations } from './yield.calculations.ts';

/** Open to every signed-in member. Nothing is read from the database or written to it. */
export async function calculationRoutes(app: App, _options: { context: Context }): Promise<void> {
  for (const calculation of [...cureCalculations, ...planCalculations, ...saltCalculations, ...heatCalculations, ...coolingCalculations, ...boatCalculations, ...keepingCalculations, ...yieldCalculations, ...adviceCalculations, ...recordCalculations]) calculation(app);
}
