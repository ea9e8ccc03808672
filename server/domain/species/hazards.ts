import type { Advice, Hazard, LengthWeight, Mercury } from './types.ts';

/**
 * Published hazards, mercury and length-weight figures by species, keyed by the name
 * each table gives. Copied from the reference tables; a test compares every row.
 */

/** FDA hazards guidance chapters 3 and 7; ciguatera list FDA Managing Food Safety annex 2 table 1 (2006). */
const hazard = (scombrotoxin: boolean, ciguatera: boolean, note = ''): Hazard => ({ scombrotoxin, ciguatera, note });

export const HAZARDS: Readonly<Record<string, Hazard>> = {
  'king mackerel': /* @__PURE__ */ hazard(true, true, 'FDA hazards guidance chapters 3 and 7; ciguatera list FDA Managing Food Safety annex 2 table 1 (2006)'),
  'Spanish mackerel': /* @__PURE__ */ hazard(true, false, 'narrow-barred Spanish mackerel (Indo-Pacific) is a ciguatera risk'),
  'Atlantic mackerel': /* @__PURE__ */ hazard(true, false),
  'chub mackerel': /* @__PURE__ */ hazard(true, false),
  'tunas (all)': /* @__PURE__ */ hazard(true, false),
  'bonito': /* @__PURE__ */ hazard(true, false),
  'wahoo': /* @__PURE__ */ hazard(true, false),
  'mahi-mahi (dolphinfish)': /* @__PURE__ */ hazard(true, false),
  'bluefish': /* @__PURE__ */ hazard(true, false),
  'amberjack and yellowtail': /* @__PURE__ */ hazard(true, true),
  'jacks and trevallies': /* @__PURE__ */ hazard(true, true, 'large jacks carry the ciguatera risk'),
  'marlin; sailfish; spearfish': /* @__PURE__ */ hazard(true, false),
  'herring; sardine; shad; menhaden': /* @__PURE__ */ hazard(true, false),
  'anchovy': /* @__PURE__ */ hazard(true, false),
  'saury': /* @__PURE__ */ hazard(true, false),
  'escolar and oilfish': /* @__PURE__ */ hazard(true, false, 'also gempylotoxin: do not share'),
  'barracuda': /* @__PURE__ */ hazard(false, true),
  'large groupers': /* @__PURE__ */ hazard(false, true),
  'large snappers': /* @__PURE__ */ hazard(false, true),
  'hogfish': /* @__PURE__ */ hazard(false, true),
  'moray eel': /* @__PURE__ */ hazard(false, true),
  'salmon; trout; char': /* @__PURE__ */ hazard(false, false, 'parasite freezing applies where not fully cooked'),
  'cod; haddock; pollock; whiting': /* @__PURE__ */ hazard(false, false),
  'mullet': /* @__PURE__ */ hazard(false, false),
  'walleye; perch': /* @__PURE__ */ hazard(false, false),
  'whitefish; cisco': /* @__PURE__ */ hazard(false, false),
  'striped bass; sea bass': /* @__PURE__ */ hazard(false, false, 'check the state advisory'),
  'pufferfish': /* @__PURE__ */ hazard(false, false, 'tetrodotoxin: refuse the landing for sharing'),
};

const FDA_1990_2012 = 'FDA monitoring data 1990-2012';
const mercury = (meanPpm: number, advice: Advice, source = FDA_1990_2012): Mercury => ({ meanPpm, advice, source });

/** Mean mercury in parts per million of raw flesh, with the FDA and EPA advice. */
export const MERCURY: Readonly<Record<string, Mercury>> = {
  'tilefish (Gulf)': /* @__PURE__ */ mercury(1.123, 'avoid', 'FDA monitoring data 1990-2012, revised (older list 1.450)'),
  'swordfish': /* @__PURE__ */ mercury(0.995, 'avoid'),
  'shark': /* @__PURE__ */ mercury(0.979, 'avoid'),
  'king mackerel': /* @__PURE__ */ mercury(0.73, 'avoid'),
  'bigeye tuna': /* @__PURE__ */ mercury(0.689, 'avoid'),
  'orange roughy': /* @__PURE__ */ mercury(0.571, 'avoid'),
  'marlin': /* @__PURE__ */ mercury(0.485, 'avoid'),
  'Spanish mackerel (Gulf)': /* @__PURE__ */ mercury(0.454, 'good'),
  'grouper': /* @__PURE__ */ mercury(0.448, 'good'),
  'bluefish': /* @__PURE__ */ mercury(0.368, 'good'),
  'sablefish': /* @__PURE__ */ mercury(0.361, 'good'),
  'albacore (fresh)': /* @__PURE__ */ mercury(0.358, 'good'),
  'yellowfin tuna': /* @__PURE__ */ mercury(0.354, 'good'),
  'halibut': /* @__PURE__ */ mercury(0.241, 'good'),
  'weakfish': /* @__PURE__ */ mercury(0.235, 'good'),
  'Spanish mackerel (S Atlantic)': /* @__PURE__ */ mercury(0.182, 'good'),
  'monkfish': /* @__PURE__ */ mercury(0.181, 'good'),
  'mahi-mahi': /* @__PURE__ */ mercury(0.178, 'good'),
  'snapper': /* @__PURE__ */ mercury(0.166, 'good'),
  'black sea bass and striped bass': /* @__PURE__ */ mercury(0.152, 'good', 'FDA monitoring data 1990-2012 (bass)'),
  'tilefish (Atlantic)': /* @__PURE__ */ mercury(0.144, 'good'),
  'skipjack tuna': /* @__PURE__ */ mercury(0.144, 'best'),
  'cod': /* @__PURE__ */ mercury(0.111, 'best'),
  'carp': /* @__PURE__ */ mercury(0.11, 'good'),
  'striped mullet': /* @__PURE__ */ mercury(0.05, 'best'),
  'Atlantic mackerel': /* @__PURE__ */ mercury(0.05, 'best'),
  'salmon': /* @__PURE__ */ mercury(0.022, 'best'),
};

/** Coefficients and what they take: exp is exp(a) L^b, power is a L^b, log10 is 10^(a + b log10 L). */
export const LENGTH_WEIGHT: Readonly<Record<string, LengthWeight>> = {
  'bluefish': { form: 'exp', a: -11.5089, b: 3.0682, lengthKind: 'fork', lengthUnit: 'cm', weightUnit: 'kg', source: 'NOAA NEFSC update of NMFS-NE-171' },
  'Spanish mackerel': { form: 'exp', a: -11.3408, b: 2.9358, lengthKind: 'fork', lengthUnit: 'cm', weightUnit: 'kg', source: 'NOAA NEFSC' },
  'striped bass': { form: 'exp', a: -11.4292, b: 3.03, lengthKind: 'fork', lengthUnit: 'cm', weightUnit: 'kg', source: 'NOAA NEFSC' },
  'Atlantic mackerel': { form: 'exp', a: -12.6726, b: 3.3186, lengthKind: 'fork', lengthUnit: 'cm', weightUnit: 'kg', source: 'NOAA NEFSC' },
  'Atlantic cod': { form: 'exp', a: -11.8896, b: 3.0914, lengthKind: 'fork', lengthUnit: 'cm', weightUnit: 'kg', source: 'NOAA NEFSC' },
  'haddock': { form: 'exp', a: -11.7915, b: 3.0695, lengthKind: 'fork', lengthUnit: 'cm', weightUnit: 'kg', source: 'NOAA NEFSC' },
  'weakfish': { form: 'exp', a: -11.351, b: 2.9255, lengthKind: 'total', lengthUnit: 'cm', weightUnit: 'kg', source: 'NOAA NEFSC' },
  'summer flounder': { form: 'exp', a: -12.3694, b: 3.2291, lengthKind: 'total', lengthUnit: 'cm', weightUnit: 'kg', source: 'NOAA NEFSC' },
  'black sea bass': { form: 'exp', a: -11.2012, b: 2.9929, lengthKind: 'total', lengthUnit: 'cm', weightUnit: 'kg', source: 'NOAA NEFSC' },
  'greater amberjack': { form: 'exp', a: -9.8663, b: 2.7, lengthKind: 'fork', lengthUnit: 'cm', weightUnit: 'kg', source: 'NOAA NEFSC' },
  'mahi-mahi': { form: 'power', a: 0.0217, b: 2.786, lengthKind: 'fork', lengthUnit: 'cm', weightUnit: 'g', source: 'Arabian Sea study' },
  'rainbow trout (river)': { form: 'log10', a: -5.023, b: 3.024, lengthKind: 'total', lengthUnit: 'mm', weightUnit: 'g', source: 'standard-weight equation (75th percentile)' },
  'brown trout (river)': { form: 'log10', a: -4.867, b: 2.96, lengthKind: 'total', lengthUnit: 'mm', weightUnit: 'g', source: 'standard-weight equation' },
  'brook trout': { form: 'log10', a: -5.186, b: 3.103, lengthKind: 'total', lengthUnit: 'mm', weightUnit: 'g', source: 'standard-weight equation' },
  'Chinook salmon': { form: 'log10', a: -4.661, b: 2.901, lengthKind: 'total', lengthUnit: 'mm', weightUnit: 'g', source: 'standard-weight equation' },
  'walleye': { form: 'log10', a: -5.453, b: 3.18, lengthKind: 'total', lengthUnit: 'mm', weightUnit: 'g', source: 'standard-weight equation' },
  'largemouth bass': { form: 'log10', a: -5.528, b: 3.273, lengthKind: 'total', lengthUnit: 'mm', weightUnit: 'g', source: 'standard-weight equation' },
  'northern pike': { form: 'log10', a: -5.437, b: 3.096, lengthKind: 'total', lengthUnit: 'mm', weightUnit: 'g', source: 'standard-weight equation' },
  'channel catfish': { form: 'log10', a: -5.8, b: 3.294, lengthKind: 'total', lengthUnit: 'mm', weightUnit: 'g', source: 'standard-weight equation' },
};
