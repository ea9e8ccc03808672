import * as c from '../../contract/calculations/heat.ts';
import { thermalProperties } from '../../domain/heat/composition.ts';
import { longestHold } from '../../domain/heat/hold.ts';
import { humidAir } from '../../domain/heat/humid-air.ts';
import { lethality } from '../../domain/heat/lethality.ts';
import { slabTheta } from '../../domain/heat/slab-series.ts';
import { forecastSmoke } from '../../domain/heat/smoke-forecast.ts';
import { calculation } from './calculation.ts';

export const heatCalculations = [
  calculation({ name: 'thermal-properties', summary: 'How flesh conducts and holds heat, from its composition', body: c.thermalPropertiesBody, answer: c.thermalPropertiesAnswer, reckon: thermalProperties }),
  calculation({ name: 'humid-air', summary: 'Wet-bulb, dew point and vapour of air', body: c.humidAirBody, answer: c.humidAirAnswer, reckon: humidAir }),
  calculation({ name: 'slab-series', summary: 'The exact solution for a slab in moving air', body: c.slabThetaBody, answer: c.slabThetaAnswer, reckon: slabTheta }),
  calculation({ name: 'smoke-forecast', summary: 'Core, surface and drying over a smoke, with a band', body: c.smokeForecastBody, answer: c.smokeForecastAnswer, reckon: forecastSmoke }),
  calculation({ name: 'lethality', summary: 'Equivalent minutes of heat from readings', body: c.lethalityBody, answer: c.lethalityAnswer, reckon: lethality }),
  calculation({ name: 'hold', summary: 'The longest unbroken time at or above a limit', body: c.holdBody, answer: c.holdAnswer, reckon: longestHold }),
];
