import { fitSmoker } from '$domain/heat/fit.ts';
import { runSlab, readTrace } from '$domain/heat/slab-run.ts';
import { slabCases, SMOKER_H } from '$domain/heat/slab.ts';
import { segmentsOfLog } from '$domain/heat/drive.ts';
import { frac, group, maths, power, sum } from './maths.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const START = Date.UTC(2026, 5, 1, 8);
const at = (minute: number) => new Date(START + minute * 60_000);
const SLAB = { speciesCode: 'king-mackerel', thicknessMm: 25, facesOpen: 'both' as const };
const MADE_H = 18;
const MADE_HUMIDITY = 25;

/** The log that a smoker of known h and humidity would write, for the fit to find again. */
function madeLog() {
  const chamber = Array.from({ length: 37 }, (_, i) => ({ at: at(i * 5), celsius: 50 + i }));
  const { segments } = segmentsOfLog({ readings: chamber, relativeHumidityPct: MADE_HUMIDITY });
  const heat = { lowWPerM2K: MADE_H, likelyWPerM2K: MADE_H, highWPerM2K: MADE_H };
  const trace = runSlab(slabCases({ ...SLAB, startC: 5 }, heat, true).likely, segments);
  return { ...SLAB, chamber, core: Array.from({ length: 37 }, (_, i) => ({ at: at(i * 5), celsius: readTrace(trace.minutes, trace.coreC, i * 5) })) };
}

function checks(): ModelCheck[] {
  const log = madeLog();
  const fit = fitSmoker({ logs: [log, log, log], priorHeat: SMOKER_H.fan });
  return [
    { what: 'Three logs made with an h of 18, started from 30: h found', source: 'computed', published: MADE_H, found: fit.hWPerM2K.value, unit: 'W/m² K', within: 1.5 },
    { what: 'Made with 25 % humidity, started from 30: found', source: 'computed', published: MADE_HUMIDITY, found: fit.relativeHumidityPct.value, unit: '%', within: 4 },
    { what: 'Core of the fit beside the log, typical difference; at least 0.5 is believed', source: 'computed', published: 0.5, found: fit.residualC, unit: '°C', within: 0.1 },
  ];
}

export const page: ModelPage = {
  slug: 'smoker-fit',
  purpose: 'Learns from logged smokes how your own smoker heats and how moist it is, so that the next forecast is for it and not for any smoker.',
  elsewhere: { text: 'A smoker is learned from its own logs, on its own page under Stations.', label: 'Stations', href: '/stations' },
  equations: [
    { maths: [maths(sum('i'), power(group(frac('T_i ( h , u ) − c_i', 'σ')), '2')), maths('+', power(group(frac('ln h − ln h_0', 'σ_h')), '2'), '+', power(group(frac('u − u_0', 'σ_u')), '2'), '→', "'least'")], words: 'The heat transfer and humidity whose forecast lies nearest to the logged core, without straying from what was believed before more than the logs are worth.' },
    { maths: maths('w = 1 −', frac('v_after', 'v_before')), words: 'How much of what is known comes from the logs.' },
  ],
  symbols: [
    { sign: maths('h'), meaning: 'heat transfer from air to fish; before with the index 0', unit: 'W/m² K' },
    { sign: maths('u'), meaning: 'log-odds of the humidity' },
    { sign: maths('T_i'), meaning: 'core that the smoking model gives', unit: '°C' },
    { sign: maths('c_i'), meaning: 'core that was logged', unit: '°C' },
    { sign: maths('σ'), meaning: 'how far a core reading is believed, at least 0.5', unit: '°C' },
    { sign: maths('v'), meaning: 'variance before and after the logs' },
    { sign: maths('w'), meaning: 'weight of the logs, 0 to 1' },
  ],
  figures: [
    { what: 'h of natural draft and of a fan, 30 % humidity', source: 'Usual values', certainty: 'from memory' },
    { what: 'Least squares by Gauss and Newton\'s steps, with what was believed before as two more observations', source: 'Standard method', certainty: 'arithmetic' },
  ],
  range: { holds: '1 to 20 logs of one smoker, each with 5 core readings or more, 5 minutes apart, within the chamber\'s log, which has no hour without a reading.', outside: 'Fewer readings, a longer gap in the chamber\'s log, or a log whose unit is in doubt, are refused.' },
  checks,
  limits: ['A wrong thickness, or a probe off the thickest place, goes into h.', 'One h and one humidity stand for the whole smoke and every shelf.', 'Few logs move it little: the weight is shown.'],
  never: 'A smoker that is well known still needs its core logged each time.',
};
