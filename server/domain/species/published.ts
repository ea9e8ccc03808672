import type { Conversion, EdibleYield, Proximate } from './types.ts';

/**
 * Published figures by species, keyed by the name each table gives. Copied from the
 * reference tables; a test compares every row with them.
 */

const SR27 = 'USDA SR27 raw flesh; rows need not sum to 100, normalise';
/** Grams in 100 g of raw flesh: water, protein, fat, ash. Source: USDA SR27. */
const proximate = (waterG: number, proteinG: number, fatG: number, ashG: number): Proximate => ({ waterG, proteinG, fatG, ashG, source: SR27 });

export const PROXIMATE: Readonly<Record<string, Proximate>> = {
  'king mackerel': /* @__PURE__ */ proximate(75.85, 20.28, 2.0, 1.28),
  'Spanish mackerel': /* @__PURE__ */ proximate(71.67, 19.29, 6.3, 1.27),
  'Atlantic mackerel': /* @__PURE__ */ proximate(63.55, 18.6, 13.89, 1.35),
  'Pacific and jack mackerel': /* @__PURE__ */ proximate(70.15, 20.07, 7.89, 1.62),
  'bluefish': /* @__PURE__ */ proximate(70.86, 20.04, 4.24, 1.04),
  'mahi-mahi': /* @__PURE__ */ proximate(77.55, 18.5, 0.7, 2.1),
  'striped bass': /* @__PURE__ */ proximate(79.22, 17.73, 2.33, 1.04),
  'striped mullet': /* @__PURE__ */ proximate(77.01, 19.35, 3.79, 1.2),
  'Atlantic cod': /* @__PURE__ */ proximate(81.22, 17.81, 0.67, 1.16),
  'haddock': /* @__PURE__ */ proximate(83.38, 16.32, 0.45, 1.28),
  'Atlantic pollock': /* @__PURE__ */ proximate(78.18, 19.44, 0.98, 1.41),
  'halibut': /* @__PURE__ */ proximate(80.34, 18.56, 1.33, 1.29),
  'Atlantic salmon farmed': /* @__PURE__ */ proximate(64.89, 20.42, 13.42, 1.13),
  'Atlantic salmon wild': /* @__PURE__ */ proximate(68.5, 19.84, 6.34, 2.54),
  'Chinook salmon': /* @__PURE__ */ proximate(71.64, 19.93, 10.43, 1.33),
  'coho salmon wild': /* @__PURE__ */ proximate(72.66, 21.62, 5.93, 1.21),
  'sockeye salmon': /* @__PURE__ */ proximate(73.15, 21.31, 5.61, 1.2),
  'pink salmon': /* @__PURE__ */ proximate(75.52, 20.5, 4.4, 1.52),
  'chum salmon': /* @__PURE__ */ proximate(75.38, 20.14, 3.77, 1.18),
  'rainbow trout wild': /* @__PURE__ */ proximate(71.87, 20.48, 3.46, 1.31),
  'rainbow trout farmed': /* @__PURE__ */ proximate(73.8, 19.94, 6.18, 1.21),
  'brook trout': /* @__PURE__ */ proximate(75.67, 21.23, 2.73, 1.32),
  'yellowfin tuna': /* @__PURE__ */ proximate(74.03, 24.4, 0.49, 1.64),
  'bluefin tuna': /* @__PURE__ */ proximate(68.09, 23.33, 4.9, 1.18),
  'skipjack tuna': /* @__PURE__ */ proximate(70.58, 22.0, 1.01, 1.3),
  'swordfish': /* @__PURE__ */ proximate(73.38, 19.66, 6.65, 1.44),
  'snapper': /* @__PURE__ */ proximate(76.87, 20.51, 1.34, 1.31),
  'grouper': /* @__PURE__ */ proximate(79.22, 19.38, 1.02, 1.17),
  'yellowtail': /* @__PURE__ */ proximate(74.52, 23.14, 5.24, 1.09),
  'seatrout': /* @__PURE__ */ proximate(78.09, 16.74, 3.61, 1.26),
  'pompano': /* @__PURE__ */ proximate(71.12, 18.48, 9.47, 1.1),
  'American shad': /* @__PURE__ */ proximate(68.19, 16.93, 13.77, 1.32),
  'Atlantic herring': /* @__PURE__ */ proximate(72.05, 17.96, 9.04, 1.46),
  'sablefish': /* @__PURE__ */ proximate(71.02, 13.41, 15.3, 1.05),
  'eel': /* @__PURE__ */ proximate(68.26, 18.44, 11.66, 1.41),
  'walleye': /* @__PURE__ */ proximate(79.31, 19.14, 1.22, 1.2),
  'northern pike': /* @__PURE__ */ proximate(78.92, 19.26, 0.69, 1.2),
  'whitefish': /* @__PURE__ */ proximate(72.77, 19.09, 5.86, 1.12),
  'channel catfish wild': /* @__PURE__ */ proximate(80.36, 16.38, 2.82, 0.96),
  'sheepshead': /* @__PURE__ */ proximate(77.97, 20.21, 2.41, 1.09),
  'shark': /* @__PURE__ */ proximate(73.58, 20.98, 4.51, 1.39),
  'carp': /* @__PURE__ */ proximate(76.31, 17.83, 5.6, 1.46),
};

const FTP309 = 'FAO FTP 309';
/** All the flesh there is, as a percentage of the whole fish: an upper bound. Source: FAO FTP 309. */
const edible = (percentOfWhole: number): EdibleYield => ({ percentOfWhole, source: FTP309 });

export const EDIBLE_YIELD: Readonly<Record<string, EdibleYield>> = {
  'Atlantic mackerel': /* @__PURE__ */ edible(61),
  'chub mackerel': /* @__PURE__ */ edible(57),
  'Scomberomorus (king and Spanish mackerels)': /* @__PURE__ */ edible(67),
  'tunas': /* @__PURE__ */ edible(58),
  'skipjack tuna': /* @__PURE__ */ edible(62),
  'Pacific salmon': /* @__PURE__ */ edible(62),
  'Atlantic cod': /* @__PURE__ */ edible(47),
  'Pacific cod': /* @__PURE__ */ edible(41),
  'haddock': /* @__PURE__ */ edible(48),
  'saithe': /* @__PURE__ */ edible(47),
  'hake': /* @__PURE__ */ edible(53),
  'Alaska pollock': /* @__PURE__ */ edible(41),
  'Atlantic herring': /* @__PURE__ */ edible(61),
  'mullet': /* @__PURE__ */ edible(50),
  'amberjack and yellowtail': /* @__PURE__ */ edible(53),
  'jacks (Caranx)': /* @__PURE__ */ edible(56),
  'horse mackerel': /* @__PURE__ */ edible(52),
  'redfish': /* @__PURE__ */ edible(45),
  'plaice': /* @__PURE__ */ edible(49),
  'Greenland halibut': /* @__PURE__ */ edible(49),
  'pilchard': /* @__PURE__ */ edible(62),
  'anchovy': /* @__PURE__ */ edible(62),
  'sprat': /* @__PURE__ */ edible(56),
  'carp': /* @__PURE__ */ edible(54),
};

/** Live weight over product weight. */
export const CONVERSION: Readonly<Record<string, Conversion>> = {
  'Atlantic cod': { gutted: 1.17, guttedHeaded: 1.7, filletSkinOn: 2.45, filletSkinless: 2.6, source: 'EU Reg 404/2011 annex XIII (gutted; gutted and headed; skinless 2.60); FAO CWP (skin-on)' },
  'haddock': { gutted: 1.17, guttedHeaded: 1.46, filletSkinOn: 2.77, filletSkinless: 2.91, source: 'EU 404/2011; FAO CWP fillets' },
  'hake': { gutted: 1.11, guttedHeaded: 1.4, filletSkinOn: 2.53, filletSkinless: 2.9, source: 'EU 404/2011; FAO CWP fillets' },
  'herring': { gutted: 1.12, guttedHeaded: 1.19, filletSkinOn: 1.62, filletSkinless: 2.17, source: 'EU 404/2011; FAO CWP fillets' },
  'mackerel': { gutted: 1.11, guttedHeaded: 1.46, filletSkinOn: 1.95, filletSkinless: 2.6, source: 'FAO CWP' },
  'salmon': { gutted: 1.13, guttedHeaded: 1.3, filletSkinOn: 2.0, filletSkinless: 2.0, source: 'FAO CWP' },
  'trout': { gutted: 1.4, guttedHeaded: null, filletSkinOn: null, filletSkinless: null, source: 'FAO CWP (one value)' },
  'saithe': { gutted: 1.15, guttedHeaded: 1.45, filletSkinOn: 2.12, filletSkinless: 2.55, source: 'FAO CWP' },
  'sea bream': { gutted: 1.1, guttedHeaded: 1.47, filletSkinOn: null, filletSkinless: null, source: 'FAO CWP' },
  'sea bass': { gutted: 1.12, guttedHeaded: 1.79, filletSkinOn: null, filletSkinless: null, source: 'FAO CWP' },
  'albacore': { gutted: 1.11, guttedHeaded: null, filletSkinOn: null, filletSkinless: null, source: 'EU 404/2011' },
  'bigeye tuna': { gutted: 1.1, guttedHeaded: 1.29, filletSkinOn: null, filletSkinless: null, source: 'EU 404/2011' },
  'tuna (other)': { gutted: 1.16, guttedHeaded: 1.36, filletSkinOn: null, filletSkinless: null, source: 'FAO CWP' },
  'jack': { gutted: 1.09, guttedHeaded: 1.65, filletSkinOn: null, filletSkinless: null, source: 'FAO CWP' },
};
