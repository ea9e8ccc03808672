import { longestHold } from '$domain/heat/hold.ts';
import { sayHold } from '../../heat/say.ts';
import { showTime } from '../../show.ts';
import { number, part } from './part.ts';
import { degreesFor, logFields, minutes, readLog, temperature } from './words.ts';
import { logPlot } from './log-plot.ts';

const START = ['14:00 58 C', '14:10 61.8 C', '14:20 63.8 C', '14:30 64 C', '14:40 64 C', '14:50 63.8 C', '15:00 61.8 C'].join('\n');

export const own = [
  part({
    title: 'Did this core hold?',
    calculations: ['hold'],
    fields: { ...logFields(START), limitC: number('Core to hold', 62.8, { kind: 'temperature', slide: [62.8, 80, 0.1] }), neededMinutes: number('For at least', 30, { unit: 'min', slide: [30, 120, 1] }) },
    fieldFor: (field) => (field.startsWith('readings') ? 'log' : field),
    reckon: (v, context) => {
      const log = readLog(v, 'core', context);
      const h = longestHold({ readings: log.readings, limitC: v.limitC, neededMinutes: v.neededMinutes });
      const { at } = degreesFor(context);
      return {
        rows: [
          { label: 'Longest without a break', value: minutes(Math.floor(h.longestMinutes + 1e-6)), exact: h.longestMinutes, state: h.state, working: h.working },
          { label: 'Highest core', value: h.maxCoreC === null ? 'none' : temperature(h.maxCoreC), exact: h.maxCoreC, working: h.working },
        ],
        plot: logPlot({ name: 'Core', tone: 'ember', readings: log.readings, place: 'core', says: sayHold({ log: { probe: '', readings: log.readings, unitConfirmed: false }, hold: h, probes: 1 }, { temperature, time: showTime }), context, levels: [{ at: at(v.limitC), name: `${temperature(v.limitC)} for ${v.neededMinutes} min` }] }),
        cautions: [...log.cautions, ...h.flags.slice(0, 3).map((f) => ({ level: 'mind' as const, text: f.text })), { level: 'mind', text: 'A try: no batch is released by it. Paste the log on the batch’s temperatures for that.' }],
      };
    },
  }),
];
