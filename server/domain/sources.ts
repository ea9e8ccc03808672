import type { Certainty } from './working.ts';

/**
 * The sources in words: who published it, what it is called, when. Beside the figures they stand under these short names, which mean
 * nothing to most people. Title and year are left out where they are not known for certain.
 */
export const SOURCES: Readonly<Record<string, string>> = {
  'HG': 'US Food and Drug Administration, Fish and Fishery Products Hazards and Controls Guidance, 4th edition, 2011, reissued to June 2022',
  'FDA hazards guidance': 'US Food and Drug Administration, Fish and Fishery Products Hazards and Controls Guidance, 4th edition, 2011, reissued to June 2022',
  'FC': 'US Food and Drug Administration, Food Code, 2017 and 2022',
  'FDA Managing Food Safety': 'US Food and Drug Administration, Managing Food Safety, 2006',
  'FDA monitoring data': 'US Food and Drug Administration, mercury levels in fish, monitoring',
  'FDA letter 2002': 'US Food and Drug Administration, letter of 2002',
  'FDA, November 2024': 'US Food and Drug Administration, Compliance Policy Guide 540.525, November 2024',
  'FDA/USDA storage chart': 'US Food and Drug Administration and Department of Agriculture, cold storage chart',
  'FDA chart': 'US Food and Drug Administration, cold storage chart',
  'FDA monitoring': 'US Food and Drug Administration, mercury levels in fish',
  'FDA/EPA 2021': 'US Food and Drug Administration and Environmental Protection Agency, Advice about Eating Fish, 2021',
  'US EPA': 'US Environmental Protection Agency',
  'CDC 2014': 'US Centers for Disease Control and Prevention, 2014',
  'USDA SR27': 'US Department of Agriculture, National Nutrient Database for Standard Reference, release 27, 2014',
  'US risk assessment of Listeria': 'US Food and Drug Administration and Department of Agriculture, risk assessment of Listeria monocytogenes',
  'US risk assessment': 'US Food and Drug Administration and Department of Agriculture, risk assessment of Listeria monocytogenes',
  'NOAA NEFSC': 'US National Oceanic and Atmospheric Administration, Northeast Fisheries Science Center',
  'NMFS-NE-171': 'Technical Memorandum NE-171, length-weight relationships, 2003',
  '21 CFR': 'US Code of Federal Regulations, title 21, part',
  '21 USC': 'US Code, title 21, section',
  'NY262': 'State of New York, 1 NYCRR Part 262',
  'NY': 'State of New York, 1 NYCRR Part 262',
  'MI569': 'State of Michigan, rule R 285.569',
  'Michigan R 285.569': 'State of Michigan, rule R 285.569',
  'AK34': 'State of Alaska, 18 AAC 34',
  'Alaska leaflet': 'State of Alaska, leaflet on vacuum packing fish at home',
  'WI ATCP': 'State of Wisconsin, Administrative Code ATCP',
  'Maine 01-001': 'State of Maine, rule 01-001',
  'AFDO': 'US Association of Food and Drug Officials',
  'NC worked case': 'a worked case of the State of North Carolina',
  'MSU 1997': 'bulletin of a state university, 1997',
  'Missouri': 'advice of the State of Missouri',
  'OSU and WSU extension': 'Oregon State University and Washington State University, extension services',
  'OSU': 'Oregon State University, extension service',
  'WSU extension': 'Washington State University, extension service',
  'WSU': 'Washington State University, extension service',
  'UF/IFAS': 'University of Florida, Institute of Food and Agricultural Sciences',
  'University of Florida IFAS': 'University of Florida, Institute of Food and Agricultural Sciences',
  'FAO TP 331': 'Food and Agriculture Organization of the United Nations, Ice in Fisheries, Fisheries Technical Paper 331, 1992',
  'FAO FTP 348': 'Food and Agriculture Organization of the United Nations, Quality and Quality Changes in Fresh Fish, Fisheries Technical Paper 348, 1995',
  'FAO FTP 309': 'Food and Agriculture Organization of the United Nations, Yield and Nutritional Value of the Commercially More Important Fish Species, Fisheries Technical Paper 309, 1989',
  'FAO 444': 'Food and Agriculture Organization of the United Nations, Assessment and Management of Seafood Safety and Quality, Fisheries Technical Paper 444',
  'FAO CWP': 'Food and Agriculture Organization of the United Nations, Coordinating Working Party on Fishery Statistics, conversion factors',
  'EU 404/2011': 'European Union, Implementing Regulation 404/2011',
  'EU Reg 404/2011': 'European Union, Implementing Regulation 404/2011',
  'EU regulation 404/2011': 'European Union, Implementing Regulation 404/2011',
  'EU 853/2004': 'European Union, Regulation 853/2004 on the hygiene of food of animal origin',
  'EU 1169/2011': 'European Union, Regulation 1169/2011 on food information',
  'UK FSA': 'UK Food Standards Agency',
  'Seafish': 'Sea Fish Industry Authority (UK)',
  'Crank 1975': 'J. Crank, The Mathematics of Diffusion, 1975',
  'Newman 1931': 'A. B. Newman, The Drying of Porous Solids, 1931',
  'Carslaw and Jaeger 1959': 'H. S. Carslaw and J. C. Jaeger, Conduction of Heat in Solids, 1959',
  'Incropera': 'F. P. Incropera and others, Fundamentals of Heat and Mass Transfer',
  'Choi and Okos 1986': 'Y. Choi and M. R. Okos, Effects of Temperature and Composition on the Thermal Properties of Foods, 1986',
  'Resnik and Chirife 1988': 'S. L. Resnik and J. Chirife, Journal of Food Protection, 1988',
  'Chirife and Resnik 1984': 'J. Chirife and S. L. Resnik, Journal of Food Science, 1984',
  'Buck': 'A. L. Buck, equations for vapour pressure',
};

/** What the tables and rules mark as memory: somebody recalled it and did not read it. */
const MEMORY = 'remembered, not checked against its source';
const PRACTICE = 'common practice, no source';
// The longest first: a short name may begin another. A name may be followed at once by the number of a section.
const names = Object.keys(SOURCES).sort((a, b) => b.length - a.length).map((name) => name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
const SHORT = new RegExp(`(?<![\\w-])(${names.join('|')})(?![A-Za-z])`, 'g');
/** What says where in a source it stands. */
const PLACE = /^ (?:ch\. |chapters? |appendix |annex |table |equation)/;

/**
 * A source as it stands beside a figure ('HG ch. 7, memory'), in words for a person; text that is no short name stays as it is.
 */
export function sourceInWords(source: string): string {
  const whole = source.replace(SHORT, (short, name: string, at: number) => {
    const rest = source.slice(at + short.length);
    const place = name === 'FC' && /^ \d/.test(rest) ? ', section' : PLACE.test(rest) ? ',' : '';
    return `${SOURCES[name]!}${place}`;
  });
  return whole
    .replace(/\bch\. (?=\d)/g, 'chapter ')
    .replace(/\bfrom memory, cross-checked\b/g, 'figures remembered, cross-checked')
    // "signs from memory" names what is remembered; a source alone does not.
    .replace(/([a-z] )?\b(?:from )?memory\b/g, (_, named?: string) => (named ? `${named}${MEMORY}` : `figure ${MEMORY}`))
    .replace(/\bcommon practice\b(?!, no )/g, PRACTICE);
}

/** A source with how sure it is, in one line, where it does not say so itself. */
export function sourceWithCertainty(source: string, certainty: Certainty): string {
  const words = sourceInWords(source);
  if (certainty === 'from memory' && !/\bremembered\b/.test(words)) return `${words}; figure ${MEMORY}`;
  return certainty === 'common practice' && !/\bcommon practice\b/.test(words) ? `${words}; common practice` : words;
}
