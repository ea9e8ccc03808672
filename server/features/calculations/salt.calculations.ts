import * as c from '../../contract/calculations/salt.ts';
import { saltCourse } from '../../domain/salt/course.ts';
import { diffusivity } from '../../domain/salt/diffusivity.ts';
import { saltAfterDrying, saltBeforeDrying } from '../../domain/salt/drying.ts';
import { equaliseSalt, freshenSalt } from '../../domain/salt/equalise.ts';
import { refitDiffusivity } from '../../domain/salt/refit.ts';
import { timeToSalt } from '../../domain/salt/time-to-salt.ts';
import { saltUptake } from '../../domain/salt/uptake.ts';
import { waterActivity } from '../../domain/salt/water-activity.ts';
import { equilibriumSalt, saltForTarget, waterPhaseSalt } from '../../domain/salt/water-phase.ts';
import { weightAfterCure } from '../../domain/salt/weight-change.ts';
import { calculation } from './calculation.ts';

export const saltCalculations = [
  calculation({ name: 'salt-diffusivity', summary: 'How fast salt spreads in fish', body: c.diffusivityBody, answer: c.diffusivityAnswer, reckon: diffusivity }),
  calculation({ name: 'salt-uptake', summary: 'Salt in a piece after so many minutes in cure', body: c.saltUptakeBody, answer: c.saltUptakeAnswer, reckon: saltUptake }),
  calculation({ name: 'salt-time', summary: 'The time in cure to a water-phase salt', body: c.timeToSaltBody, answer: c.timeToSaltAnswer, reckon: timeToSalt }),
  calculation({ name: 'salt-course', summary: 'Salt against time in the cure, for a plot', body: c.saltCourseBody, answer: c.saltCourseAnswer, reckon: saltCourse }),
  calculation({ name: 'salt-equalise', summary: 'How salt evens out in a piece after rinsing', body: c.equaliseSaltBody, answer: c.equaliseSaltAnswer, reckon: equaliseSalt }),
  calculation({ name: 'salt-freshen', summary: 'What fresh water takes out of a piece that is too salty', body: c.freshenSaltBody, answer: c.freshenSaltAnswer, reckon: freshenSalt }),
  calculation({ name: 'salt-after-drying', summary: 'Salt of the finished fish, from that after the cure', body: c.saltAfterDryingBody, answer: c.saltAfterDryingAnswer, reckon: saltAfterDrying }),
  calculation({ name: 'salt-before-drying', summary: 'Salt after the cure that makes a given one in the finished fish', body: c.saltBeforeDryingBody, answer: c.saltBeforeDryingAnswer, reckon: saltBeforeDrying }),
  calculation({ name: 'salt-refit', summary: "A club's own diffusivity from laboratory figures", body: c.saltRefitBody, answer: c.saltRefitAnswer, reckon: refitDiffusivity }),
  calculation({ name: 'water-phase-salt', summary: 'Water-phase salt from salt and moisture', body: c.waterPhaseSaltBody, answer: c.waterPhaseSaltAnswer, reckon: waterPhaseSalt }),
  calculation({ name: 'salt-for-target', summary: 'The salt in all for a water-phase salt', body: c.saltForTargetBody, answer: c.saltForTargetAnswer, reckon: saltForTarget }),
  calculation({ name: 'salt-equilibrium', summary: 'Water-phase salt once brine and fish are even', body: c.equilibriumSaltBody, answer: c.equilibriumSaltAnswer, reckon: equilibriumSalt }),
  calculation({ name: 'water-activity', summary: 'Water activity from water-phase salt', body: c.waterActivityBody, answer: c.waterActivityAnswer, reckon: waterActivity }),
  calculation({ name: 'weight-after-cure', summary: 'What fish weighs after curing', body: c.weightAfterCureBody, answer: c.weightAfterCureAnswer, reckon: weightAfterCure }),
];
