import { keepingTime, warmSpellCost } from '$domain/spoilage-rate.ts';
import { spoilageUsed } from '$domain/spoilage.ts';
import { showNumber } from '../../show.ts';
import { maybe, number, part, type OwnCaution } from './part.ts';
import { axis, degreesFor, logFields, minutes, readLog } from './words.ts';
import { logPlot } from './log-plot.ts';

const QUALITY: OwnCaution = { level: 'mind', text: 'This tells of quality. It moves no use-by day.' };
const days = (value: number, digits = 1): string => `${showNumber(value, digits)} ${value === 1 ? 'day' : 'days'}`;
/** A store logged every two hours: a warm afternoon in a cold day. */
const START = ['06', '08', '10', '12', '14', '16', '18', '20'].map((hour) => `${hour}:00 ${['12', '14', '16'].includes(hour) ? 12 : 1} C`).join('\n');
const slideC = { kind: 'temperature', slide: [0, 15, 0.5] } as const;

export const own = [
  part({
    title: 'What did a warm afternoon cost?',
    calculations: ['warm-spell'],
    fields: { warmC: number('It was warm, at', 12, slideC), hours: number('For', 5, { unit: 'h', slide: [0.5, 72, 0.5] }), usualC: number('It usually is at', 1, slideC) },
    reckon: (v) => {
      const s = warmSpellCost(v);
      return {
        says: s.extraDays < 0 ? 'It was colder than usual: nothing was lost.' : '',
        rows: [{ label: 'Lost beyond the usual', value: `${days(Math.max(0, s.extraDays), 2)} on ice`, exact: s.extraDays, working: s.working }, { label: 'Used up in that time', value: `${days(s.usedDays, 2)} on ice`, exact: s.usedDays, working: s.working }],
        cautions: [QUALITY],
      };
    },
  }),
  part({
    title: 'How long does it keep at a temperature?',
    calculations: ['keeping-time'],
    fields: { icedLifeDays: number('It keeps in ice for', 10, { unit: 'days', slide: [1, 40, 1] }), temperatureC: number('Kept at', 5, slideC) },
    reckon: (v, context) => {
      const k = keepingTime(v);
      const { at, y } = degreesFor(context);
      const points = Array.from({ length: 31 }, (_, i) => ({ x: at(i / 2), y: keepingTime({ ...v, temperatureC: i / 2 }).days }));
      return {
        rows: [{ label: 'Keeps for', value: days(k.days), exact: k.days, working: k.working }, { label: 'Spoils so many times as fast as in ice', value: showNumber(k.timesAsFast, 2), exact: k.timesAsFast, working: k.working }],
        plot: { says: `What keeps ${days(v.icedLifeDays)} in ice keeps ${days(k.days)} there.`, x: axis('Kept at', y.unit ?? '', 0), y: { ...axis('Keeps for', 'days'), fromZero: true }, series: [{ name: 'Keeps', tone: 'tide', points }], moments: [{ at: at(v.temperatureC), name: 'kept so' }] },
        cautions: [QUALITY],
      };
    },
  }),
  part({
    title: 'Days used up, from a log',
    calculations: ['days-used'],
    fields: { ...logFields(START), icedLifeDays: maybe('It keeps in ice for', { unit: 'days', start: 10 }) },
    fieldFor: (field) => (field.startsWith('readings') ? 'log' : field),
    reckon: ({ icedLifeDays, ...v }, context) => {
      const log = readLog(v, 'storage', context);
      const s = spoilageUsed({ readings: log.readings, ...(icedLifeDays !== null && { icedLifeDays }) });
      return {
        rows: [
          { label: 'Days on ice used up', value: `${s.isAtLeast ? 'at least ' : ''}${days(s.usedDays, 2)}`, exact: s.usedDays, ...(s.gaps.length > 0 && { band: `up to ${days(s.usedWithGapsDays, 2)} with the gaps` }), working: s.working },
          ...(s.leftDays === null ? [] : [{ label: 'Left', value: days(s.leftDays), exact: s.leftDays, working: s.working }]),
          ...s.warmest.slice(0, 3).map((w, i) => ({ label: i === 0 ? 'The warm stretch cost' : `Warm stretch ${i + 1} cost`, value: days(w.extraDays, 2), exact: w.extraDays, working: s.working })),
          { label: 'Logged', value: minutes(s.loggedHours * 60), exact: s.loggedHours },
        ],
        plot: logPlot({ name: 'Store', tone: 'tide', readings: log.readings, place: 'fish', says: `${days(s.usedDays, 2)} on ice were used up in ${minutes(s.loggedHours * 60)}.`, context, gapMinutes: 120 }),
        cautions: [...log.cautions, ...s.notes.map((text) => ({ level: 'mind' as const, text }))],
      };
    },
  }),
];
