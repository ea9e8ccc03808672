import { compositionOfSpecies, thermalProperties } from '$domain/heat/composition.ts';
import { slabTheta } from '$domain/heat/slab-series.ts';
import { AIR_TEMPERATURE, THICKNESS, within } from '$domain/heat/within.ts';
import { showNumber } from '../../show.ts';
import { choice, number, part } from './part.ts';
import { axis, degreesFor, temperature, withFlesh } from './words.ts';

const STEPS = 40;
/** The series is published from here on. */
const LEAST_FOURIER = 0.001;

export const own = [
  part({
    title: 'Exact heating or cooling of a dry slab',
    calculations: ['slab-series'],
    fields: {
      speciesCode: choice('Fish', withFlesh(), 'atlantic-mackerel'), thicknessMm: number('Thickness', 25, { kind: 'thickness', slide: [5, 100, 1] }), facesOpen: choice('It lies', { both: 'On a rack, both faces open', one: 'On its skin or in a tray' }, 'both'),
      startC: number('It starts at', 5, { kind: 'temperature', slide: [0, 95, 1] }), airC: number('In air or water of', 80, { kind: 'temperature', slide: [-1, 120, 1] }),
      hWPerM2K: number('Heat transfer', 20, { unit: 'W/m² K', slide: [2, 500, 1], hint: 'Natural draft 8 to 15, fan 20 to 45, stirred ice water 100 to 500' }), minutes: number('For', 60, { unit: 'min', slide: [1, 600, 1] }),
    },
    fieldFor: (field) => (field === 'biot' ? 'hWPerM2K' : field === 'fourier' ? 'minutes' : field),
    reckon: (v, context) => {
      within(v.thicknessMm, 'thicknessMm', THICKNESS);
      within(v.startC, 'startC', { ...AIR_TEMPERATURE, label: 'temperature at the start' });
      within(v.airC, 'airC', AIR_TEMPERATURE);
      const flesh = thermalProperties({ ...compositionOfSpecies(v.speciesCode), temperatureC: (v.startC + v.airC) / 2 });
      const lengthM = v.thicknessMm / 1000 / (v.facesOpen === 'both' ? 2 : 1);
      const biot = (v.hWPerM2K * lengthM) / flesh.conductivityWPerMK;
      const m2PerS = flesh.conductivityWPerMK / (flesh.densityKgPerM3 * flesh.specificHeatKjPerKgK * 1000);
      const fourier = (minutes: number) => (m2PerS * minutes * 60) / lengthM ** 2;
      const celsius = (minutes: number, depth: number) => v.airC + (v.startC - v.airC) * slabTheta({ biot, fourier: fourier(minutes), depth }).theta;
      const middle = slabTheta({ biot, fourier: fourier(v.minutes), depth: 0 });
      const { y, at } = degreesFor(context);
      const line = (depth: number) => Array.from({ length: STEPS + 1 }, (_, i) => (v.minutes * i) / STEPS).map((minute) => ({ x: minute, y: minute > 0 && fourier(minute) >= LEAST_FOURIER ? at(celsius(minute, depth)) : depth === 0 && minute === 0 ? at(v.startC) : null }));
      return {
        rows: [
          { label: `In the middle after ${showNumber(v.minutes)} min`, value: temperature(celsius(v.minutes, 0)), exact: celsius(v.minutes, 0), working: middle.working },
          { label: 'At the face', value: temperature(celsius(v.minutes, 1)), exact: celsius(v.minutes, 1), working: slabTheta({ biot, fourier: fourier(v.minutes), depth: 1 }).working },
          { label: 'Left of the difference', value: `${showNumber(100 * middle.theta, 1)} %`, exact: middle.theta, working: middle.working },
          { label: 'The flesh conducts', value: `${showNumber(flesh.conductivityWPerMK, 3)} W/m K`, exact: flesh.conductivityWPerMK, working: flesh.working },
        ],
        plot: {
          says: `After ${showNumber(v.minutes)} min the middle is at ${temperature(celsius(v.minutes, 0))}, the face at ${temperature(celsius(v.minutes, 1))}.`, x: { ...axis('Time', 'min', 0), fromZero: true }, y,
          series: [{ name: 'Middle', tone: 'ember', predicted: true, points: line(0) }, { name: 'Face', tone: 'ink', predicted: true, points: line(1) }], levels: [{ at: at(v.airC), name: 'around it' }],
        },
        cautions: [{ level: 'mind', text: 'A dry face: wet fish in a smoker stays much cooler while it dries. A batch’s “How long will it take” counts that too.' }, { level: 'mind', text: 'A forecast is never evidence: only the logged core counts.' }],
      };
    },
  }),
];
