import { coolingChecks } from '$domain/heat/cooling-checks.ts';
import { forecastCooling } from '$domain/heat/cooling-forecast.ts';
import { frac, group, maths } from './maths.ts';
import { own } from './own/cooling.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const START = Date.UTC(2026, 5, 1, 15);
const words = { 'met': 'met', 'not-met': 'not met', 'not-recorded': 'not recorded' } as const;

/** Straight lines between points, read every five minutes. */
function log(...points: (readonly [minute: number, celsius: number])[]) {
  const at = (minute: number) => new Date(START + minute * 60_000);
  return points.slice(1).flatMap(([end, to], i) => {
    const [from, first] = points[i]!;
    const steps = (end - from) / 5;
    return Array.from({ length: steps + (i === points.length - 2 ? 1 : 0) }, (_, k) => ({ at: at(from + k * 5), celsius: first + ((to - first) * k) / steps }));
  });
}

function checks(): ModelCheck[] {
  const state = (readings: ReturnType<typeof log>, part: number) => words[coolingChecks({ readings, kind: 'smoked' }).checks[part]!.state];
  const tray = { speciesCode: 'king-mackerel', facesOpen: 'both' as const, startC: 65, stages: [{ medium: 'cabinet' as const, mediumC: 2, minutes: 720 }] };
  const deepest = forecastCooling({ ...tray, thicknessMm: 40 }).deepestMm!;
  const passes = (thicknessMm: number) => (forecastCooling({ ...tray, thicknessMm }).passes ? 'passes' : 'does not');
  return [
    { what: '57 to 21 °C in exactly 2 hours, to 5 °C in exactly 6', source: 'FC 3-501.14', published: 'met', found: state(log([0, 57], [120, 21], [360, 5], [370, 4]), 1), unit: '', within: 0 },
    { what: '57 to 21 °C in 2 hours and 5 minutes', source: 'FC 3-501.14', published: 'not met', found: state(log([0, 57], [125, 21], [360, 5]), 0), unit: '', within: 0 },
    { what: '60 to 21 °C in 2 hours, to 4.4 °C in 4 more', source: 'FDA hazards guidance, from memory', published: 'met', found: state(log([0, 60], [120, 21], [360, 4.4], [370, 4]), 3), unit: '', within: 0 },
    { what: `Tray of ${deepest} mm in a cabinet, the depth it advises`, source: 'the advice against the forecast', published: 'passes', found: passes(deepest), unit: '', within: 0 },
    { what: `One of ${deepest + 1} mm`, source: 'the advice against the forecast', published: 'does not', found: passes(deepest + 1), unit: '', within: 0 },
  ];
}

export const page: ModelPage = {
  slug: 'cooling',
  purpose: 'Judges from the log whether hot fish was cold again in time, and tells beforehand how deep a tray may be for that.',
  own,
  equations: [
    { maths: [maths("t ( 57 → 21 ) ≤ '2 h'"), maths("t ( 57 → 5 ) ≤ '6 h'")], words: 'From 57 to 21 °C within two hours, to 5 °C within six in all.' },
    { maths: [maths("t ( 60 → 21 ) ≤ '2 h'"), maths("t ( 21 → 4.4 ) ≤ '4 h'")], words: 'Or, stricter at the start: from 60 °C, and from 21 to 4.4 °C within four more.' },
    { maths: [maths('ρ c', frac('∂ T', '∂ t'), '=', frac('∂', '∂ x'), group('k', frac('∂ T', '∂ x'))), maths('k', frac('∂ T', '∂ x'), '= h ( T_medium − T_face )')], words: 'The forecast takes the heat out of a slab through its faces, as the smoking model puts it in.' },
  ],
  symbols: [
    { sign: maths('t'), meaning: 'time the core takes from one temperature to the other', unit: 'h' },
    { sign: maths('T'), meaning: 'temperature of the fish, of its face and of air or ice water', unit: '°C' },
    { sign: maths('x'), meaning: 'depth in the piece or tray', unit: 'm' },
    { sign: maths('h'), meaning: 'heat transfer: 5 to 10 in still air, 12 to 30 with a fan, 100 to 500 in stirred ice water', unit: 'W/m² K' },
    { sign: maths('ρ , c , k'), meaning: 'density, specific heat, conductivity of the flesh', unit: 'kg/m³, J/kg K, W/m K' },
  ],
  figures: [
    { what: 'Two and six hours from 57 °C', source: 'FC 3-501.14 (rule cool.fc)', certainty: 'published' },
    { what: 'From 60 °C, and 4.4 °C', source: 'FDA hazards guidance (rule cool.hg)', certainty: 'from memory' },
    { what: 'Heat transfer in air and ice water', source: 'Usual values', certainty: 'from memory' },
    { what: 'How flesh holds and conducts heat', source: 'Choi and Okos 1986; USDA SR27', certainty: 'published' },
  ],
  range: { holds: 'Pieces and trays of 3 to 150 mm from at most 100 °C, in −1 to 40 °C; logs whose readings join within 10 minutes.', outside: 'Freezing is not reckoned. In a gap the start counts as early and the end as late as the readings allow.' },
  checks,
  limits: ['The depth it advises passes even in the slowest case that heat transfer leaves open.', 'A lid, or a cabinet full of warm trays, cools slower still.', 'A log that begins too cool does not show the start: then the end of smoking counts.'],
  never: 'Cooling again does not mend what stayed warm too long, and a forecast is no log.',
};
