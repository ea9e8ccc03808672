import * as c from '../../contract/calculations/boat.ts';
import { chillingHours } from '../../domain/boat/chilling.ts';
import { cumulativeExposure } from '../../domain/boat/exposure.ts';
import { histamineLine } from '../../domain/boat/histamine.ts';
import { iceToLoad } from '../../domain/boat/ice.ts';
import { calculation } from './calculation.ts';

export const boatCalculations = [
  calculation({ name: 'ice-to-load', summary: 'The ice to take for a catch and a trip', body: c.iceToLoadBody, answer: c.iceToLoadAnswer, reckon: iceToLoad }),
  calculation({ name: 'chilling-time', summary: 'How long a layer of fish takes to chill in ice', body: c.chillingTimeBody, answer: c.chillingTimeAnswer, reckon: chillingHours }),
  calculation({ name: 'histamine-line', summary: 'From catch to ice to landing, held against the histamine rules', body: c.histamineLineBody, answer: c.histamineLineAnswer, reckon: histamineLine }),
  calculation({ name: 'warm-exposure', summary: 'Hours in the warm added up, from readings', body: c.warmExposureBody, answer: c.warmExposureAnswer, reckon: cumulativeExposure }),
];
