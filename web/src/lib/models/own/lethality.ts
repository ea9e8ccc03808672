import { lethality, lethalRate } from '$domain/heat/lethality.ts';
import { showNumber } from '../../show.ts';
import { choice, part } from './part.ts';
import { degreesFor, logFields, percent, readLog, temperature } from './words.ts';
import { logPlot } from './log-plot.ts';

const START = ['10:00 50 C', '10:05 55 C', '10:10 60 C', '10:15 65 C', '10:20 70 C'].join('\n');
const organisms = { 'listeria': 'Listeria, at 70 °C', 'botulinum-fda': 'Botulinum, at 90 °C (FDA)', 'botulinum-uk': 'Botulinum, at 90 °C (UK)' } as const;
/** Rounded down, so that a value just short never reads as the limit. */
const down = (value: number, digits: number): string => showNumber(Math.floor(value * 10 ** digits) / 10 ** digits, digits);

export const own = [
  part({
    title: 'What did this heating do?',
    calculations: ['lethality'],
    fields: { ...logFields(START), organism: choice('Reckoned for', organisms, 'listeria') },
    fieldFor: (field) => (field.startsWith('readings') ? 'log' : field),
    reckon: (v, context) => {
      const log = readLog(v, 'core', context);
      const l = lethality({ readings: log.readings, organism: v.organism });
      const { at } = degreesFor(context);
      const per = (celsius: number) => `${down(lethalRate(celsius, v.organism), 2)} min`;
      const hottest = log.readings.reduce((most, { celsius }) => Math.max(most, celsius), -Infinity);
      return {
        rows: [
          { label: `Worth so long at ${temperature(l.referenceC)}`, value: l.state === 'not-recorded' ? 'not shown' : `${down(l.equivalentMinutes, 2)} min`, exact: l.equivalentMinutes, band: `needs ${l.neededMinutes} min`, ...(l.state === 'not-recorded' ? { state: l.state } : {}), working: l.working },
          { label: 'Decimal reductions', value: down(l.decimalReductions, 1), exact: l.decimalReductions, working: l.working },
          { label: 'By trapezoid, for comparison', value: `${showNumber(l.trapezoidMinutes, 2)} min`, exact: l.trapezoidMinutes, working: l.working },
          { label: 'A minute at the hottest is worth', value: per(hottest) },
          { label: 'A probe half a degree high would add', value: percent(100 * (10 ** (0.5 / 7.5) - 1), 0) },
        ],
        plot: logPlot({ name: 'Core', tone: 'ember', readings: log.readings, place: 'core', says: l.state === 'not-recorded' ? 'The log does not show it.' : `It was worth ${down(l.equivalentMinutes, 2)} minutes at ${temperature(l.referenceC)}; six decimal reductions take ${l.neededMinutes}.`, context, levels: [{ at: at(l.referenceC), name: 'reference' }] }),
        cautions: [...log.cautions, ...l.flags.filter((f) => f.kind !== 'gap').slice(0, 3).map((f) => ({ level: 'mind' as const, text: f.text })), { level: 'mind', text: 'For information: the core still has to be held at 62.8 °C for 30 unbroken minutes.' }],
      };
    },
  }),
];
