import { cumulativeExposure } from '$domain/boat/exposure.ts';
import { showNumber } from '../../show.ts';
import { choice, part } from './part.ts';
import { degreesFor, logFields, minutes, readLog, temperature, yesNo } from './words.ts';
import { logPlot } from './log-plot.ts';

const START = ['06:00 3 C', '06:30 10 C', '07:00 10 C', '07:30 10 C', '08:00 10 C', '08:30 10 C', '09:00 3 C', '09:30 2 C'].join('\n');
const GAP_MINUTES = 30;

export const own = [
  part({
    title: 'How long was it warm?',
    calculations: ['warm-exposure'],
    fields: { ...logFields(START), frozen: choice('Frozen before', yesNo, 'no') },
    fieldFor: (field) => (field.startsWith('readings') ? 'log' : field),
    reckon: (v, context) => {
      const log = readLog(v, 'core', context);
      const e = cumulativeExposure({ readings: log.readings, previouslyFrozen: v.frozen === 'yes' });
      const { at } = degreesFor(context);
      const worst = e.organisms.toSorted((a, b) => b.shareUsed - a.shareUsed).slice(0, 4);
      return {
        rows: [
          { label: `Above ${temperature(4.4)} in all`, value: minutes(e.hoursAbove4C4 * 60), exact: e.hoursAbove4C4, band: `at most ${e.limitHours} h`, state: e.state, working: e.working },
          { label: `Of that above ${temperature(21.1)}`, value: minutes(e.hoursAbove21C1 * 60), exact: e.hoursAbove21C1, working: e.working },
          { label: 'Without a reading', value: minutes(e.gapHours * 60), exact: e.gapHours, working: e.working },
          ...worst.map((o) => ({ label: `Used up for ${o.organism}`, value: `${showNumber(100 * o.shareUsed, 0)} %`, exact: o.shareUsed, state: o.state, working: e.working })),
        ],
        plot: logPlot({ name: 'Fish', tone: 'ember', readings: log.readings, place: 'core', says: e.state === 'not-recorded' && e.gapHours === 0 ? 'The log does not show it.' : `It was above ${temperature(4.4)} for ${minutes(e.hoursAbove4C4 * 60)}${e.gapHours > 0 ? `, and ${minutes(e.gapHours * 60)} were not logged` : ''}.`, context, gapMinutes: GAP_MINUTES, levels: [{ at: at(4.4), name: temperature(4.4) }, { at: at(21.1), name: temperature(21.1) }] }),
        cautions: [...log.cautions, { level: 'mind', text: e.whatToDo || 'From landing on: what comes before is the histamine check.' }],
      };
    },
  }),
];
