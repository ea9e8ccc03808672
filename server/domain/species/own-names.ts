import { SPECIES } from './table.ts';

/**
 * Words that give away, in a name that a club gave a species of its own, a fish that forms histamine (tables/hazards.csv, HG ch. 3
 * and 7), or one that nobody shares. Besides those of the tables: the families and genera that the hazards table means, and what the
 * same fish are called in languages of the coasts around. From memory, and generous: a word too many only makes a fish be treated as
 * forming histamine.
 */
const FORMERS = [
  // Mackerels, tunas, bonitos and wahoo.
  'mackerel', 'makrel', 'makrill', 'maquereau', 'macquereau', 'makreel', 'makrela', 'skumbri', 'skumbria', 'sgombro', 'caballa', 'cavala', 'cavalla', 'cavalinha', 'sierra', 'cero', 'scomber', 'scomberomorus', 'rastrelliger', 'grammatorcynus', 'gasterochisma', 'scombrid',
  'tuna', 'tunny', 'tunfisk', 'tonfisk', 'thunfisch', 'tonno', 'tonijn', 'tunczyk', 'tonnikala', 'atun', 'atum', 'thon', 'thunnus', 'ahi', 'aku', 'maguro', 'katsuo', 'skipjack', 'skip jack', 'listao', 'katsuwonus', 'pelamis', 'pelamid', 'euthynnus', 'allothunnus', 'auxis', 'kawakawa', 'albacore', 'germon',
  'bigeye', 'yellowfin', 'bluefin', 'blackfin', 'longtail', 'bonito', 'bonite', 'sarda', 'palamida', 'palamut', 'wahoo', 'ono', 'acanthocybium', 'gymnosarda', 'dogtooth', 'orcynopsis',
  // Dolphinfish, bluefish, jacks and billfish.
  'mahi', 'mahimahi', 'dolphinfish', 'dolphin', 'dorado', 'lampuga', 'lampuki', 'coryphaena', 'coryphene', 'bluefish', 'pomatomus', 'tailor', 'snapper blue', 'anchova', 'lufer', 'amberjack', 'yellowtail', 'kingfish', 'hamachi', 'buri', 'kampachi', 'hiramasa', 'seriola', 'jack', 'trevally', 'trevallies', 'crevalle', 'caranx',
  'carangoides', 'carangid', 'pompano', 'trachinotus', 'permit', 'scad', 'horse mackerel', 'trachurus', 'decapterus', 'selar', 'jurel', 'chicharro', 'carapau', 'chinchard', 'hestmakrell', 'rainbow runner', 'elagatis', 'queenfish', 'leerfish', 'garrick', 'lichia', 'pilotfish', 'naucrates', 'stocker', 'lookdown', 'selene',
  'marlin', 'makaira', 'kajikia', 'istiompax', 'tetrapturus', 'sailfish', 'istiophorus', 'spearfish', 'billfish', 'swordfish', 'xiphias', 'sverdfisk', 'schwertfisch', 'espadon', 'pez espada',
  // Herrings, anchovies and sauries.
  'herring', 'hering', 'hareng', 'arenque', 'aringa', 'haring', 'sild', 'sill', 'stromming', 'silakka', 'sledz', 'clupea', 'clupeid', 'sardine', 'sardin', 'sardina', 'sardinha', 'sardinops', 'sardinella', 'pilchard', 'brisling', 'sprat', 'sprattus', 'skarpsill', 'shad', 'twaite', 'allis', 'alosa', 'alewife', 'hilsa', 'tenualosa',
  'menhaden', 'pogy', 'bunker', 'brevoortia', 'gizzard', 'dorosoma', 'opisthonema', 'anchovy', 'anchovies', 'anchovi', 'anchois', 'anchoa', 'anchoveta', 'anchoita', 'ansjos', 'ansjovis', 'sardelle', 'boqueron', 'biqueirao', 'acciuga', 'engraulis', 'saury', 'sauries', 'skipper', 'cololabis', 'scomberesox', 'sanma', 'paparda',
  'garfish', 'needlefish', 'belone', 'tylosurus', 'snoek', 'barracouta', 'thyrsites', 'gemfish', 'rexea', 'milkfish', 'chanos', 'kahawai', 'arripis', 'cobia', 'rachycentron', 'opah', 'lampris',
] as const;

const REFUSED = [
  'escolar', 'oilfish', 'oil fish', 'walu', 'lepidocybium', 'flavobrunneum', 'ruvettus', 'pretiosus', 'castor oil fish', 'purgative fish', 'super white tuna', 'snake mackerel', 'gempylus', 'gempylid',
  'puffer', 'pufferfish', 'puffer fish', 'blowfish', 'blow fish', 'globefish', 'swellfish', 'balloonfish', 'fugu', 'kugelfisch', 'kuglefisk', 'kulefisk', 'blasfisk', 'pez globo', 'baiacu', 'botete', 'tetraodon', 'tetraodontid', 'takifugu', 'lagocephalus', 'sphoeroides', 'arothron', 'canthigaster', 'torafugu', 'porcupinefish', 'porcupine fish', 'diodon',
] as const;

/** What a word may have behind it: the plural of a language around, and the fish itself. */
const ENDINGS = ['', 's', 'es', 'e', 'en', 'er', 'ar', 'or', 'i', 'l', 'll', 'le', 'len', 'ling', 'lings', 'fish', 'fishes', 'fisk', 'fisch', 'like'];
/** A word of so many letters counts inside a longer one too, since nobody means another fish with it. */
const LONG = 6;
const ALSO_INSIDE: readonly string[] = ['tuna', 'tunny', 'fugu'];
/** Letters that look like Latin ones: a name typed on another keyboard is read as it looks. */
const LOOKALIKE: Readonly<Record<string, string>> = { а: 'a', в: 'b', с: 'c', е: 'e', н: 'h', і: 'i', ј: 'j', к: 'k', м: 'm', о: 'o', р: 'p', ѕ: 's', т: 't', у: 'y', х: 'x', α: 'a', ε: 'e', ι: 'i', κ: 'k', ν: 'v', ο: 'o', ρ: 'p', τ: 't', υ: 'u', χ: 'x', ø: 'o', æ: 'ae', œ: 'oe', ß: 'ss', ł: 'l', đ: 'd', ð: 'd', þ: 'th', ı: 'i', '0': 'o', '1': 'l', '3': 'e', '4': 'a', '5': 's', '7': 't' };

/** A name in plain small letters: accents off, letters that only look Latin taken for Latin, everything else a space. */
export function plainName(text: string): string {
  const bare = text.normalize('NFKD').replace(/\p{M}|\p{Cf}/gu, '').toLowerCase();
  return [...bare].map((letter) => LOOKALIKE[letter] ?? letter).join('').replace(/[^a-z]+/g, ' ').trim();
}

const ownWords = (pick: (species: (typeof SPECIES)[number]) => boolean): string[] =>
  SPECIES.filter(pick).flatMap((species) => [species.scientificName, ...species.alsoCalled, species.name.includes('(') ? '' : species.name]).map(plainName).filter((word) => word !== '');

const lists = /* @__PURE__ */ (() => {
  // "Sea bream" and "shark" are not settled in the tables: they count as forming histamine there, and give nothing away.
  const formers = ownWords((species) => species.scombrotoxin && species.hazardSource !== 'from memory');
  return { formers: [...new Set([...FORMERS, ...formers])], refused: [...new Set([...REFUSED, ...ownWords((species) => species.sharing === 'refuse')])] };
})();

function wordIn(text: string, words: readonly string[]): string | null {
  const name = ` ${plainName(text)} `;
  const together = name.replaceAll(' ', '');
  // Twice the same letter, and ck for k, are the commonest slips.
  const loose = (of: string) => of.replace(/ck/g, 'k').replace(/([a-z])\1+/g, '$1');
  const single = name.trim().split(' ').filter((word) => word.length >= LONG);
  const gives = (word: string) => {
    if (ENDINGS.some((ending) => name.includes(` ${word}${ending} `))) return true;
    const whole = word.replaceAll(' ', '');
    if (whole.length < LONG) return ALSO_INSIDE.includes(whole) && together.includes(whole);
    return together.includes(whole) || loose(together).includes(loose(whole)) || single.some((typed) => oneSlip(typed, whole));
  };
  return words.find(gives) ?? null;
}

/** Whether one letter more, less or other makes one word of the other. */
function oneSlip(a: string, b: string): boolean {
  if (Math.abs(a.length - b.length) > 1) return false;
  let from = 0;
  while (from < a.length && a[from] === b[from]) from += 1;
  const rest = (of: string, skip: number) => of.slice(from + skip);
  return rest(a, 1) === rest(b, 1) || rest(a, 1) === rest(b, 0) || rest(a, 0) === rest(b, 1);
}

/** The word in a species' names that gives away a fish that forms histamine; null where none does. */
export const formerWord = (...names: readonly string[]): string | null => names.map((name) => wordIn(name, lists.formers)).find((word) => word !== null) ?? null;

/** The word in a species' names that gives away a fish that is never for sharing; null where none does. */
export const refusedWord = (...names: readonly string[]): string | null => names.map((name) => wordIn(name, lists.refused)).find((word) => word !== null) ?? null;

/**
 * Whether fish of a species forms histamine, or may: of the tables, as they say; of a club's own, unless the club says no, names its
 * source, and no word of its names gives away one that does.
 */
export function formsHistamine(species: { own: boolean; scombrotoxin: boolean | null; scombrotoxinSource: string; name: string; scientificName: string }): boolean {
  if (species.scombrotoxin !== false) return true;
  return species.own && (species.scombrotoxinSource.trim() === '' || formerWord(species.name, species.scientificName) !== null);
}
