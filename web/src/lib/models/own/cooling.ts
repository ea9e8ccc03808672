import { coolingChecks, type CoolingCheck } from '$domain/heat/cooling-checks.ts';
import { forecastCooling, type Medium } from '$domain/heat/cooling-forecast.ts';
import { hours, nameOf, sayCooling } from '../../heat/say.ts';
import { showRuleText, showThickness, showTime } from '../../show.ts';
import { axis, degreesFor, logFields, minutes, readLog, temperature, withFlesh } from './words.ts';
import { logPlot } from './log-plot.ts';
import { choice, number, part } from './part.ts';

const START = ['15:00 60 C', '15:10 57 C', '15:20 52 C', '15:30 47 C', '15:40 43 C', '15:50 39 C', '16:00 35 C', '16:10 31 C', '16:20 28 C', '16:30 25 C', '16:40 22.5 C', '16:50 20 C', '17:00 17.5 C', '17:10 15 C', '17:20 12.5 C', '17:30 10.5 C', '17:40 8.5 C', '17:50 6.5 C', '18:00 5 C', '18:10 4 C'].join('\n');
const words = { 'met': 'Fast enough', 'not-met': 'Too slow', 'not-recorded': 'Not shown' } as const;
const named = (check: CoolingCheck): string => (check.ruleId === 'cool.ambient' ? `Mixed, to ${temperature(5)}` : nameOf(check, temperature));
const media: Readonly<Record<Medium, string>> = { 'cabinet': 'In a cold cabinet', 'fan-cabinet': 'In a cabinet with a fan', 'ice-bath': 'In stirred ice water', 'room': 'In a room' };

export const own = [
  part({
    title: 'Did this cool fast enough?',
    calculations: ['cooling-checks'],
    fields: { ...logFields(START), kind: choice('What it is', { smoked: 'Smoked, or cooked', ambient: 'A dip, mixed at room temperature' }, 'smoked') },
    fieldFor: (field) => (field.startsWith('readings') ? 'log' : field),
    reckon: (v, context) => {
      const log = readLog(v, 'core', context);
      const c = coolingChecks({ readings: log.readings, kind: v.kind });
      const { at } = degreesFor(context);
      const says = `${words[c.state]}.`;
      const told = v.kind === 'smoked' ? sayCooling(c, { temperature, time: showTime }) : says;
      return {
        rows: [{ label: 'In all', value: words[c.state], exact: c.state, state: c.state, working: c.working }, ...c.checks.map((check) => ({ label: `${named(check)}, at most ${hours(check.limitMinutes)}`, value: check.found, exact: check.minutes, state: check.state, working: c.working }))],
        plot: logPlot({ name: 'Core', tone: 'tide', readings: log.readings, place: 'core', says: told, context, levels: [{ at: at(21), name: temperature(21) }, { at: at(5), name: temperature(5) }] }),
        cautions: [...log.cautions, { level: 'mind', text: 'A try: no batch is released by it.' }],
      };
    },
  }),
  part({
    title: 'How deep may a tray be?',
    calculations: ['cooling-forecast'],
    slow: true,
    fields: {
      speciesCode: choice('Fish', withFlesh(), 'king-mackerel'), thicknessMm: number('Depth in the tray', 40, { kind: 'thickness', slide: [5, 100, 1] }), startC: number('It starts at', 65, { kind: 'temperature', slide: [30, 90, 1] }),
      medium: choice('How it cools', media, 'cabinet'), mediumC: number('There it is', 2, { kind: 'temperature', slide: [-1, 25, 1] }),
    },
    fieldFor: (field) => (field.endsWith('mediumC') ? 'mediumC' : field),
    reckon: (v, context) => {
      const f = forecastCooling({ speciesCode: v.speciesCode, thicknessMm: v.thicknessMm, facesOpen: 'both', startC: v.startC, stages: [{ medium: v.medium, mediumC: v.mediumC, minutes: 720 }] });
      const { y, at } = degreesFor(context);
      const when = (value: number | null) => (value === null ? 'not in 12 h' : minutes(value));
      const slow = new Map(f.slow.points.map((p) => [p.minutes, p.coreC]));
      const fast = new Map(f.fast.points.map((p) => [p.minutes, p.coreC]));
      return {
        says: showRuleText(f.advice),
        rows: [
          { label: 'Deepest that is fast enough', value: f.deepestMm === null ? 'none' : showThickness(f.deepestMm, 'down'), exact: f.deepestMm, working: f.working },
          { label: `Down to ${temperature(21)}`, value: when(f.likely.minutesTo21C), exact: f.likely.minutesTo21C, band: `${when(f.fast.minutesTo21C)} to ${when(f.slow.minutesTo21C)}`, working: f.working },
          { label: `Down to ${temperature(5)}`, value: when(f.likely.minutesTo5C), exact: f.likely.minutesTo5C, band: `${when(f.fast.minutesTo5C)} to ${when(f.slow.minutesTo5C)}`, working: f.working },
        ],
        plot: {
          says: `Likely down to ${temperature(21)} after ${when(f.likely.minutesTo21C)}.`, x: { ...axis('Time', 'h'), fromZero: true }, y,
          series: [{ name: 'Core', tone: 'tide', predicted: true, points: f.likely.points.map((p) => ({ x: p.minutes / 60, y: at(p.coreC), ...(slow.has(p.minutes) && fast.has(p.minutes) && { low: at(fast.get(p.minutes)!), high: at(slow.get(p.minutes)!) }) })) }],
          levels: [{ at: at(21), name: `${temperature(21)} within 2 h` }, { at: at(5), name: `${temperature(5)} within 6 h` }],
        },
        cautions: [{ level: 'mind', text: f.caution }],
      };
    },
  }),
];
