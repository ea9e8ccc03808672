import * as c from '../../contract/calculations/cooling.ts';
import { coolingChecks } from '../../domain/heat/cooling-checks.ts';
import { forecastCooling } from '../../domain/heat/cooling-forecast.ts';
import { fitSmoker } from '../../domain/heat/fit.ts';
import { calculation } from './calculation.ts';

export const coolingCalculations = [
  calculation({ name: 'cooling-checks', summary: 'Cooling held against its rules, from readings', body: c.coolingChecksBody, answer: c.coolingChecksAnswer, reckon: coolingChecks }),
  calculation({ name: 'cooling-forecast', summary: 'How fast fish cools in trays, air or ice water', body: c.coolingForecastBody, answer: c.coolingForecastAnswer, reckon: forecastCooling }),
  calculation({ name: 'smoker-fit', summary: "A smoker's heat transfer and humidity from its own logs", body: c.smokerFitBody, answer: c.smokerFitAnswer, reckon: fitSmoker }),
];
