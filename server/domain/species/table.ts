import { HAZARDS, LENGTH_WEIGHT, MERCURY } from './hazards.ts';
import { CONVERSION, EDIBLE_YIELD, PROXIMATE } from './published.ts';
import type { FatClass, Species } from './types.ts';

/**
 * The species the service knows. Scientific names and the heaviest fish (kg) are from
 * memory; everything else points at a row of a published table by the name it has there.
 */

type Row = {
  /** The row of the hazards table, or, from memory, [scombrotoxin, ciguatera]. */
  hazard: string | readonly [boolean, boolean];
  proximate?: string;
  edible?: string;
  conversion?: string;
  lengthWeight?: string;
  mercury?: string;
  /** From memory, where the table of flesh has no row. Fatty unless said: the stricter. */
  fat?: FatClass;
  also?: readonly string[];
};

const HAZARD_SOURCE = 'FDA hazards guidance chapters 3 and 7; ciguatera: FDA Managing Food Safety annex 2 table 1 (2006)';

/** Lean below 2 g of fat in 100 g, fatty above 8: classes from memory. */
function fatClass(fatG: number): FatClass {
  if (fatG < 2) return 'lean';
  return fatG > 8 ? 'fatty' : 'medium';
}

const GEMPYLOTOXIN = 'Gempylotoxin: not for sharing.';
const TETRODOTOXIN = 'Tetrodotoxin: not for sharing.';
const REFUSED: Readonly<Record<string, string>> = { escolar: GEMPYLOTOXIN, oilfish: GEMPYLOTOXIN, pufferfish: TETRODOTOXIN };

function species(code: string, name: string, scientificName: string, group: string, maxFishKg: number, row: Row): Species {
  // A name that the hazards table lacks must fail loudly, not read as harmless.
  const read = typeof row.hazard === 'string' ? HAZARDS[row.hazard]! : undefined;
  const [scombrotoxin, ciguatera] = typeof row.hazard === 'string' ? [read!.scombrotoxin, read!.ciguatera] : row.hazard;
  const proximate = row.proximate ? PROXIMATE[row.proximate] : undefined;
  const reason = REFUSED[code];
  return {
    code, name, scientificName, group, scombrotoxin, ciguatera,
    alsoCalled: row.also ?? [],
    hazardNote: read?.note ?? '',
    hazardSource: read ? HAZARD_SOURCE : 'from memory',
    sharing: reason ? 'refuse' : 'ok',
    ...(reason && { sharingReason: reason }),
    fat: proximate ? fatClass(proximate.fatG) : (row.fat ?? 'fatty'),
    fatSource: proximate ? proximate.source : row.fat ? 'from memory' : 'not known: taken as fatty, the stricter',
    ...(proximate && { proximate }),
    ...(row.lengthWeight && { lengthWeight: LENGTH_WEIGHT[row.lengthWeight] }),
    ...(row.edible && { edibleYield: EDIBLE_YIELD[row.edible] }),
    ...(row.conversion && { conversion: CONVERSION[row.conversion] }),
    ...(row.mercury && { mercury: MERCURY[row.mercury] }),
    maxFishGrams: Math.round(maxFishKg * 1000),
    allergen: 'fish',
  };
}

const SCOMBEROMORUS = 'Scomberomorus (king and Spanish mackerels)';
const PACIFIC_SALMON = { edible: 'Pacific salmon', conversion: 'salmon', mercury: 'salmon' } as const;
const GADOID = 'cod; haddock; pollock; whiting';
const CLUPEID = 'herring; sardine; shad; menhaden';
const SALMONID = 'salmon; trout; char';
const BASS = 'striped bass; sea bass';
const JACKS = 'jacks and trevallies';
const NEITHER = [false, false] as const;
/** Nothing read about it: treated as if both could be there. */
const UNSURE = [true, true] as const;

function makeTable(): Species[] {
  return [
    species('king-mackerel', 'King mackerel', 'Scomberomorus cavalla', 'mackerels', 50, { hazard: 'king mackerel', proximate: 'king mackerel', edible: SCOMBEROMORUS, mercury: 'king mackerel' }),
    // Two mercury rows: the Gulf one is the higher, so it stands for both waters.
    species('spanish-mackerel', 'Spanish mackerel', 'Scomberomorus maculatus', 'mackerels', 8, { hazard: 'Spanish mackerel', proximate: 'Spanish mackerel', edible: SCOMBEROMORUS, mercury: 'Spanish mackerel (Gulf)', lengthWeight: 'Spanish mackerel' }),
    species('atlantic-mackerel', 'Atlantic mackerel', 'Scomber scombrus', 'mackerels', 5, { hazard: 'Atlantic mackerel', proximate: 'Atlantic mackerel', edible: 'Atlantic mackerel', conversion: 'mackerel', mercury: 'Atlantic mackerel', lengthWeight: 'Atlantic mackerel', also: ['makrell'] }),
    species('chub-mackerel', 'Chub mackerel', 'Scomber japonicus', 'mackerels', 4, { hazard: 'chub mackerel', proximate: 'Pacific and jack mackerel', edible: 'chub mackerel', conversion: 'mackerel', also: ['Pacific mackerel'] }),
    species('jack-mackerel', 'Jack mackerel', 'Trachurus symmetricus', 'jacks', 3, { hazard: JACKS, proximate: 'Pacific and jack mackerel', conversion: 'jack' }),
    species('horse-mackerel', 'Horse mackerel', 'Trachurus trachurus', 'jacks', 3, { hazard: JACKS, edible: 'horse mackerel', conversion: 'jack', also: ['scad'] }),
    species('albacore', 'Albacore', 'Thunnus alalunga', 'tunas', 60, { hazard: 'tunas (all)', edible: 'tunas', conversion: 'albacore', mercury: 'albacore (fresh)' }),
    species('bigeye-tuna', 'Bigeye tuna', 'Thunnus obesus', 'tunas', 220, { hazard: 'tunas (all)', edible: 'tunas', conversion: 'bigeye tuna', mercury: 'bigeye tuna' }),
    species('yellowfin-tuna', 'Yellowfin tuna', 'Thunnus albacares', 'tunas', 220, { hazard: 'tunas (all)', proximate: 'yellowfin tuna', edible: 'tunas', conversion: 'tuna (other)', mercury: 'yellowfin tuna' }),
    species('bluefin-tuna', 'Bluefin tuna', 'Thunnus thynnus', 'tunas', 800, { hazard: 'tunas (all)', proximate: 'bluefin tuna', edible: 'tunas', conversion: 'tuna (other)' }),
    species('skipjack-tuna', 'Skipjack tuna', 'Katsuwonus pelamis', 'tunas', 40, { hazard: 'tunas (all)', proximate: 'skipjack tuna', edible: 'skipjack tuna', conversion: 'tuna (other)', mercury: 'skipjack tuna' }),
    species('tuna', 'Tuna (other)', '', 'tunas', 800, { hazard: 'tunas (all)', edible: 'tunas', conversion: 'tuna (other)' }),
    species('bonito', 'Bonito', 'Sarda sarda', 'tunas', 15, { hazard: 'bonito' }),
    species('wahoo', 'Wahoo', 'Acanthocybium solandri', 'mackerels', 100, { hazard: 'wahoo' }),
    species('mahi-mahi', 'Mahi-mahi', 'Coryphaena hippurus', 'dolphinfish', 50, { hazard: 'mahi-mahi (dolphinfish)', proximate: 'mahi-mahi', mercury: 'mahi-mahi', lengthWeight: 'mahi-mahi', also: ['dolphinfish', 'dorado'] }),
    species('bluefish', 'Bluefish', 'Pomatomus saltatrix', 'bluefish', 20, { hazard: 'bluefish', proximate: 'bluefish', mercury: 'bluefish', lengthWeight: 'bluefish' }),
    species('greater-amberjack', 'Greater amberjack', 'Seriola dumerili', 'jacks', 95, { hazard: 'amberjack and yellowtail', edible: 'amberjack and yellowtail', lengthWeight: 'greater amberjack' }),
    species('yellowtail', 'Yellowtail', '', 'jacks', 75, { hazard: 'amberjack and yellowtail', proximate: 'yellowtail', edible: 'amberjack and yellowtail' }),
    species('jack', 'Jack or trevally', '', 'jacks', 90, { hazard: JACKS, edible: 'jacks (Caranx)', conversion: 'jack' }),
    species('pompano', 'Pompano', 'Trachinotus carolinus', 'jacks', 6, { hazard: JACKS, proximate: 'pompano' }),
    species('marlin', 'Marlin', '', 'billfish', 900, { hazard: 'marlin; sailfish; spearfish', mercury: 'marlin' }),
    species('sailfish', 'Sailfish', 'Istiophorus platypterus', 'billfish', 130, { hazard: 'marlin; sailfish; spearfish' }),
    species('spearfish', 'Spearfish', '', 'billfish', 70, { hazard: 'marlin; sailfish; spearfish' }),
    species('swordfish', 'Swordfish', 'Xiphias gladius', 'billfish', 700, { hazard: UNSURE, proximate: 'swordfish', mercury: 'swordfish' }),
    species('atlantic-herring', 'Atlantic herring', 'Clupea harengus', 'herrings', 1.5, { hazard: CLUPEID, proximate: 'Atlantic herring', edible: 'Atlantic herring', conversion: 'herring' }),
    species('pilchard', 'Pilchard', 'Sardina pilchardus', 'herrings', 0.5, { hazard: CLUPEID, edible: 'pilchard', also: ['sardine'] }),
    species('american-shad', 'American shad', 'Alosa sapidissima', 'herrings', 8, { hazard: CLUPEID, proximate: 'American shad' }),
    species('menhaden', 'Menhaden', '', 'herrings', 2, { hazard: CLUPEID }),
    species('sprat', 'Sprat', 'Sprattus sprattus', 'herrings', 0.1, { hazard: CLUPEID, edible: 'sprat', also: ['brisling'] }),
    species('anchovy', 'Anchovy', '', 'herrings', 0.2, { hazard: 'anchovy', edible: 'anchovy' }),
    species('saury', 'Saury', '', 'sauries', 1, { hazard: 'saury' }),
    species('escolar', 'Escolar', 'Lepidocybium flavobrunneum', 'snake mackerels', 80, { hazard: 'escolar and oilfish' }),
    species('oilfish', 'Oilfish', 'Ruvettus pretiosus', 'snake mackerels', 110, { hazard: 'escolar and oilfish' }),
    species('barracuda', 'Barracuda', '', 'reef fish', 60, { hazard: 'barracuda' }),
    species('grouper', 'Grouper', '', 'reef fish', 450, { hazard: 'large groupers', proximate: 'grouper', mercury: 'grouper' }),
    species('snapper', 'Snapper', '', 'reef fish', 70, { hazard: 'large snappers', proximate: 'snapper', mercury: 'snapper' }),
    species('hogfish', 'Hogfish', 'Lachnolaimus maximus', 'reef fish', 15, { hazard: 'hogfish' }),
    species('moray-eel', 'Moray eel', '', 'eels', 50, { hazard: 'moray eel' }),
    species('eel', 'Eel', '', 'eels', 15, { hazard: NEITHER, proximate: 'eel' }),
    ...salmonidsAndCods(),
    ...bassesFlatfishAndFreshwater(),
  ];
}

function salmonidsAndCods(): Species[] {
  return [
    species('atlantic-salmon', 'Atlantic salmon', 'Salmo salar', 'salmon and trout', 50, { hazard: SALMONID, proximate: 'Atlantic salmon wild', conversion: 'salmon', mercury: 'salmon' }),
    species('chinook-salmon', 'Chinook salmon', 'Oncorhynchus tshawytscha', 'salmon and trout', 65, { hazard: SALMONID, proximate: 'Chinook salmon', ...PACIFIC_SALMON, lengthWeight: 'Chinook salmon', also: ['king salmon'] }),
    species('coho-salmon', 'Coho salmon', 'Oncorhynchus kisutch', 'salmon and trout', 20, { hazard: SALMONID, proximate: 'coho salmon wild', ...PACIFIC_SALMON, also: ['silver salmon'] }),
    species('sockeye-salmon', 'Sockeye salmon', 'Oncorhynchus nerka', 'salmon and trout', 10, { hazard: SALMONID, proximate: 'sockeye salmon', ...PACIFIC_SALMON, also: ['red salmon'] }),
    species('pink-salmon', 'Pink salmon', 'Oncorhynchus gorbuscha', 'salmon and trout', 8, { hazard: SALMONID, proximate: 'pink salmon', ...PACIFIC_SALMON, also: ['humpback salmon'] }),
    species('chum-salmon', 'Chum salmon', 'Oncorhynchus keta', 'salmon and trout', 22, { hazard: SALMONID, proximate: 'chum salmon', ...PACIFIC_SALMON, also: ['dog salmon'] }),
    species('rainbow-trout', 'Rainbow trout', 'Oncorhynchus mykiss', 'salmon and trout', 25, { hazard: SALMONID, proximate: 'rainbow trout wild', conversion: 'trout', lengthWeight: 'rainbow trout (river)', also: ['steelhead'] }),
    species('brown-trout', 'Brown trout', 'Salmo trutta', 'salmon and trout', 25, { hazard: SALMONID, conversion: 'trout', lengthWeight: 'brown trout (river)', fat: 'medium' }),
    // The river curve of the same species is not lent to fish that fed at sea.
    species('sea-trout', 'Sea trout', 'Salmo trutta', 'salmon and trout', 25, { hazard: SALMONID, conversion: 'trout', also: ['sewin', 'peal'] }),
    species('brook-trout', 'Brook trout', 'Salvelinus fontinalis', 'salmon and trout', 8, { hazard: SALMONID, proximate: 'brook trout', conversion: 'trout', lengthWeight: 'brook trout' }),
    species('arctic-char', 'Arctic char', 'Salvelinus alpinus', 'salmon and trout', 18, { hazard: SALMONID }),
    species('atlantic-cod', 'Atlantic cod', 'Gadus morhua', 'cod family', 100, { hazard: GADOID, proximate: 'Atlantic cod', edible: 'Atlantic cod', conversion: 'Atlantic cod', mercury: 'cod', lengthWeight: 'Atlantic cod' }),
    species('pacific-cod', 'Pacific cod', 'Gadus macrocephalus', 'cod family', 30, { hazard: GADOID, edible: 'Pacific cod', mercury: 'cod', fat: 'lean' }),
    species('haddock', 'Haddock', 'Melanogrammus aeglefinus', 'cod family', 18, { hazard: GADOID, proximate: 'haddock', edible: 'haddock', conversion: 'haddock', lengthWeight: 'haddock' }),
    species('saithe', 'Saithe', 'Pollachius virens', 'cod family', 35, { hazard: GADOID, proximate: 'Atlantic pollock', edible: 'saithe', conversion: 'saithe', also: ['coalfish', 'coley', 'Atlantic pollock'] }),
    species('pollack', 'Pollack', 'Pollachius pollachius', 'cod family', 20, { hazard: GADOID, fat: 'lean', also: ['pollock', 'lythe'] }),
    species('alaska-pollock', 'Alaska pollock', 'Gadus chalcogrammus', 'cod family', 8, { hazard: GADOID, edible: 'Alaska pollock', fat: 'lean', also: ['walleye pollock'] }),
    species('whiting', 'Whiting', 'Merlangius merlangus', 'cod family', 5, { hazard: GADOID, fat: 'lean' }),
    species('hake', 'Hake', 'Merluccius merluccius', 'cod family', 20, { hazard: NEITHER, edible: 'hake', conversion: 'hake', fat: 'medium' }),
  ];
}

function bassesFlatfishAndFreshwater(): Species[] {
  return [
    species('striped-bass', 'Striped bass', 'Morone saxatilis', 'basses', 60, { hazard: BASS, proximate: 'striped bass', mercury: 'black sea bass and striped bass', lengthWeight: 'striped bass' }),
    species('black-sea-bass', 'Black sea bass', 'Centropristis striata', 'basses', 6, { hazard: NEITHER, mercury: 'black sea bass and striped bass', lengthWeight: 'black sea bass', fat: 'medium' }),
    species('sea-bass', 'Sea bass', 'Dicentrarchus labrax', 'basses', 15, { hazard: BASS, conversion: 'sea bass', fat: 'medium' }),
    species('sea-bream', 'Sea bream', '', 'breams', 20, { hazard: UNSURE, conversion: 'sea bream', fat: 'medium' }),
    species('sheepshead', 'Sheepshead', 'Archosargus probatocephalus', 'breams', 12, { hazard: NEITHER, proximate: 'sheepshead' }),
    species('weakfish', 'Weakfish', 'Cynoscion regalis', 'drums', 10, { hazard: NEITHER, proximate: 'seatrout', mercury: 'weakfish', lengthWeight: 'weakfish' }),
    species('spotted-seatrout', 'Spotted seatrout', 'Cynoscion nebulosus', 'drums', 9, { hazard: NEITHER, proximate: 'seatrout' }),
    species('striped-mullet', 'Striped mullet', 'Mugil cephalus', 'mullets', 12, { hazard: 'mullet', proximate: 'striped mullet', edible: 'mullet', mercury: 'striped mullet', also: ['grey mullet'] }),
    species('summer-flounder', 'Summer flounder', 'Paralichthys dentatus', 'flatfish', 14, { hazard: NEITHER, lengthWeight: 'summer flounder', fat: 'lean', also: ['fluke'] }),
    species('plaice', 'Plaice', 'Pleuronectes platessa', 'flatfish', 8, { hazard: NEITHER, edible: 'plaice', fat: 'lean' }),
    species('halibut', 'Halibut', '', 'flatfish', 330, { hazard: NEITHER, proximate: 'halibut', mercury: 'halibut' }),
    species('greenland-halibut', 'Greenland halibut', 'Reinhardtius hippoglossoides', 'flatfish', 50, { hazard: NEITHER, edible: 'Greenland halibut' }),
    species('redfish', 'Redfish', '', 'rockfish', 16, { hazard: NEITHER, edible: 'redfish', fat: 'medium' }),
    species('sablefish', 'Sablefish', 'Anoplopoma fimbria', 'rockfish', 60, { hazard: NEITHER, proximate: 'sablefish', mercury: 'sablefish', also: ['black cod'] }),
    // Two mercury rows: the Gulf one is the higher, so it stands for both waters.
    species('tilefish', 'Tilefish', '', 'tilefish', 35, { hazard: NEITHER, mercury: 'tilefish (Gulf)', fat: 'medium' }),
    species('orange-roughy', 'Orange roughy', 'Hoplostethus atlanticus', 'deep-sea fish', 8, { hazard: NEITHER, mercury: 'orange roughy' }),
    species('monkfish', 'Monkfish', '', 'deep-sea fish', 65, { hazard: NEITHER, mercury: 'monkfish', fat: 'lean', also: ['anglerfish'] }),
    species('shark', 'Shark', '', 'sharks', 1200, { hazard: UNSURE, proximate: 'shark', mercury: 'shark' }),
    species('pufferfish', 'Pufferfish', '', 'pufferfish', 15, { hazard: 'pufferfish', also: ['fugu', 'blowfish'] }),
    species('walleye', 'Walleye', 'Sander vitreus', 'perches', 14, { hazard: 'walleye; perch', proximate: 'walleye', lengthWeight: 'walleye' }),
    species('perch', 'Perch', '', 'perches', 5, { hazard: 'walleye; perch', fat: 'lean' }),
    species('whitefish', 'Whitefish', '', 'whitefish', 20, { hazard: 'whitefish; cisco', proximate: 'whitefish' }),
    species('cisco', 'Cisco', '', 'whitefish', 5, { hazard: 'whitefish; cisco' }),
    species('largemouth-bass', 'Largemouth bass', '', 'freshwater fish', 12, { hazard: NEITHER, lengthWeight: 'largemouth bass', fat: 'medium' }),
    species('northern-pike', 'Northern pike', 'Esox lucius', 'freshwater fish', 35, { hazard: NEITHER, proximate: 'northern pike', lengthWeight: 'northern pike' }),
    species('channel-catfish', 'Channel catfish', 'Ictalurus punctatus', 'freshwater fish', 30, { hazard: NEITHER, proximate: 'channel catfish wild', lengthWeight: 'channel catfish' }),
    species('carp', 'Carp', 'Cyprinus carpio', 'freshwater fish', 55, { hazard: NEITHER, proximate: 'carp', edible: 'carp', mercury: 'carp' }),
  ];
}

export const SPECIES: readonly Species[] = /* @__PURE__ */ makeTable();
