import { compositionOfSpecies, fractionsOf, mixtureAt } from '$domain/heat/composition.ts';
import { slabMaterial } from '$domain/heat/slab-material.ts';
import { readTrace, runSlab } from '$domain/heat/slab-run.ts';
import type { SlabTrace } from '$domain/heat/slab-run.ts';
import { slabCoefficient, slabRoots, slabTheta, slabThetaAt } from '$domain/heat/slab-series.ts';
import { forecastSmoke } from '$domain/heat/smoke-forecast.ts';
import { SMOKER_H } from '$domain/heat/slab.ts';
import { exp, frac, group, maths, sum } from './maths.ts';
import { own } from './own/smoking-heat.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const TABLE = 'Incropera table 5.1';
const HALF_M = 0.0125;
const AIR_C = 80;
const START_C = 5;

/** A dry slab of constant properties in the solver, and the exact series beside it. */
function beside(): { trace: SlabTrace; exactC: (minutes: number, depth: number) => number } {
  const fractions = fractionsOf(compositionOfSpecies('king-mackerel'));
  const { conductivityWPerMK: k, specificHeatKjPerKgK, densityKgPerM3 } = mixtureAt(fractions, 20);
  const heat = specificHeatKjPerKgK * 1000 * densityKgPerM3;
  const material = { ...slabMaterial(fractions, 0), solidsHeat: [heat, 0, 0], waterHeat: [0, 0, 0], solidsConduction: [k, 0, 0], solidsVolume: [1, 0, 0], waterConduction: [0, 0, 0], waterVolume: [0, 0, 0] } as const;
  const air = { airC: AIR_C, vapourKPa: 0 };
  const trace = runSlab({ material, lengthM: HALF_M, hWPerM2K: 25, wet: false, startC: START_C, intervals: 32 }, [{ fromS: 0, toS: 7200, from: air, to: air, jump: true }]);
  const roots = slabRoots((25 * HALF_M) / k, 60);
  return { trace, exactC: (minutes, depth) => AIR_C - (AIR_C - START_C) * slabThetaAt(roots, ((k / heat) * minutes * 60) / HALF_M ** 2, depth) };
}

function checks(): ModelCheck[] {
  const { trace, exactC } = beside();
  const solver = (minutes: number, depth: 0 | 1): ModelCheck => ({
    what: `25 mm, dry, ${minutes} min: ${depth === 0 ? 'core' : 'face'} of the solver beside the exact sum`, source: 'exact series, Incropera section 5.5',
    published: exactC(minutes, depth), found: readTrace(trace.minutes, depth === 0 ? trace.coreC : trace.surfaceC, minutes), unit: '°C', within: 0.1,
  });
  const root = (biot: number, published: number): ModelCheck => ({ what: `First root at Bi ${biot}`, source: TABLE, published, found: slabRoots(biot, 1)[0]!, unit: '', within: 0.00005 });
  const usual = forecastSmoke({ speciesCode: 'king-mackerel', thicknessMm: 20, facesOpen: 'both', startC: 5, heat: SMOKER_H.natural, waterPhaseSaltPct: 3, stages: [{ airC: 35, relativeHumidityPct: 50, minutes: 60 }, { airC: 60, relativeHumidityPct: 35, minutes: 90 }, { airC: 95, relativeHumidityPct: 25, minutes: 150 }] }).likely;
  return [
    root(0.1, 0.3111), root(1, 0.8603), root(10, 1.4289),
    { what: 'First coefficient at Bi 1', source: TABLE, published: 1.1191, found: slabCoefficient(slabRoots(1, 1)[0]!), unit: '', within: 0.0001 },
    { what: 'Fourth root at Bi 1', source: 'Carslaw and Jaeger 1959', published: 9.5293, found: slabRoots(1, 4)[3]!, unit: '', within: 0.00005 },
    { what: 'Left at the centre, Bi 1, Fo 0.5', source: 'exact series, computed', published: 0.7725, found: slabTheta({ biot: 1, fourier: 0.5, depth: 0 }).theta, unit: '', within: 0.00005 },
    { what: 'Left at the face, Bi 10, Fo 0.2', source: 'exact series, computed', published: 0.1225, found: slabTheta({ biot: 10, fourier: 0.2, depth: 1 }).theta, unit: '', within: 0.00005 },
    solver(10, 0), solver(40, 0), solver(40, 1),
    { what: 'Heat gone in less heat found, of the heat moved', source: 'energy balance', published: 0, found: 100 * trace.energyError, unit: '%', within: 0.1 },
    { what: 'Weight lost in a usual smoke of five hours, 7 to 20 %', source: 'from memory', published: 13.5, found: usual.lossGPerKg / 10, unit: '%', within: 6.5 },
  ];
}

export const page: ModelPage = {
  slug: 'smoking-heat',
  purpose: 'Forecasts how the core of a piece warms in the smoker, where it stands still, when it reaches 62.8 °C and has held it for 30 minutes, and what weight it loses.',
  own,
  equations: [
    { maths: maths('ρ c', frac('∂ T', '∂ t'), '=', frac('∂', '∂ x'), group('k', frac('∂ T', '∂ x'))), words: 'Inside, heat flows from warm to cold, slower in fish that conducts less and holds more.' },
    { maths: [maths('k', frac('∂ T', '∂ x'), '= h ( T_air − T_face )'), maths('−', frac('h', '0.000662 P'), '( a e_face − e_air )')], words: 'At the face the air brings heat, and the water that evaporates takes some of it away.' },
    { maths: maths(frac('∂ X', '∂ t'), '=', frac('∂', '∂ x'), group('D_w', frac('∂ X', '∂ x'))), words: 'Water follows to the face from within; as the face dries, its water activity a falls and less evaporates.' },
    { maths: [maths('θ =', sum('n'), 'C_n', exp('− ζ_n^2 Fo'), 'cos ( ζ_n x )'), maths('ζ_n tan ζ_n = Bi')], words: 'For a dry slab there is an exact answer, which the solver is held against.' },
  ],
  symbols: [
    { sign: maths('T'), meaning: 'temperature; at the face and of the air with an index', unit: '°C' },
    { sign: maths('t'), meaning: 'time', unit: 's' },
    { sign: maths('x'), meaning: 'depth, from the middle or the skin to the face', unit: 'm' },
    { sign: maths('ρ , c , k'), meaning: 'density, specific heat, conductivity of the flesh', unit: 'kg/m³, J/kg K, W/m K' },
    { sign: maths('h'), meaning: 'heat transfer from air to fish: 8 to 15 in natural draft, 20 to 45 with a fan', unit: 'W/m² K' },
    { sign: maths('e'), meaning: 'vapour pressure, saturated at the face and in the air', unit: 'kPa' },
    { sign: maths('a'), meaning: 'water activity of the face' },
    { sign: maths('X'), meaning: 'water in the flesh', unit: 'kg/m³' },
    { sign: maths('D_w'), meaning: 'how fast water spreads in the flesh', unit: 'm²/s' },
    { sign: maths('P'), meaning: 'air pressure', unit: 'kPa' },
    { sign: maths('θ'), meaning: 'part of the first temperature difference that is left' },
    { sign: maths('Bi , Fo'), meaning: 'h L/k, and a t/L² with L the half-thickness and a how fast heat spreads' },
    { sign: maths('ζ_n , C_n'), meaning: 'roots of the second line, and 4 sin ζ/(2 ζ + sin 2 ζ)' },
  ],
  figures: [
    { what: 'How flesh holds and conducts heat', source: 'Choi and Okos 1986; USDA SR27', certainty: 'published' },
    { what: 'Saturation of vapour', source: 'Buck', certainty: 'published' },
    { what: 'The exact sums for a slab', source: 'Carslaw and Jaeger 1959; Incropera', certainty: 'published' },
    { what: 'h of a smokehouse; how fast water spreads; how flesh holds its last water; psychrometer constant', source: 'Usual values', certainty: 'from memory' },
    { what: 'A thickness is off by a tenth unless said', source: 'Measuring with a ruler', certainty: 'common practice' },
  ],
  range: { holds: 'Pieces of 3 to 150 mm, unfrozen, fish to 100 °C, air of −1 to 121 °C, up to 48 hours.', outside: 'Anything else is refused. A core that never gets there is answered with nothing, not with a guess.' },
  checks,
  limits: [
    'Three runs are shown: as likely, and the slowest and fastest that heat transfer and thickness leave open.',
    'Shrinking, dripping and melting fat are left out; drying beyond the first hour may be half or twice as much.',
    'One humidity for each stage. A door that is opened, rain and wind are not in it.',
    'A piece is taken as a wide slab: the edges warm faster than it says.',
  ],
  never: 'A forecast is never evidence. Only a logged core in the thickest part of the largest piece, in the coldest place, counts.',
};
