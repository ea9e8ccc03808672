// What a pack's label says. Words only: sizes and places are plan.ts's work.
// Content follows rule label.content (21 CFR 101; EU 1169/2011): product, species, smoke date, use-by,
// storage words, net weight in g and oz, lot, pack number, who made it, "not for resale".

export interface LabelPack {
  product: string;
  species: string;
  lot: string;
  packNo: number;
  /** Day of smoking, 'YYYY-MM-DD' in the club's zone; null when it was not recorded. */
  smokeDay: string | null;
  dateKind: 'use-by' | 'best-before';
  /** Last day of use, 'YYYY-MM-DD' in the club's zone; null when none could be worked out. */
  lastDay: string | null;
  storageWords: string;
  /** Most important first: allergens, thaw words, advice. Words that do not fit are cut from the end. */
  extraWords: string[];
  /** Last of the small print: the longest, so that a cut takes none of the others. Empty: none are named. */
  ingredients: string;
  netGrams: number;
  /** The club. */
  madeBy: string;
  /** The club's wording, such as "Sport caught, not for resale". */
  saleWords: string;
  /** Address of the pack's public page; goes into the code. */
  url: string;
  hold: { reason: string; } | null;
  recalled: boolean;
  /** 0 on the first print, n on the n-th print after it. */
  reprint: number;
}

/** 'metric' prints "250 g (8.8 oz)", 'us' prints "8.8 oz (250 g)". */
export type WeightOrder = 'metric' | 'us';

export interface LabelWarning {
  heading: 'HOLD' | 'RECALLED';
  order: string;
  reasons: string[];
}

export interface LabelWords {
  product: string;
  species: string;
  warning: LabelWarning | null;
  /** Null on a label with a warning: a date there would read as an approval. */
  date: { caption: string; value: string; } | null;
  net: string;
  /** Lot, pack number and reprint; each part is kept on one line where it can be. */
  identity: string[];
  smoked: string;
  storage: string;
  /** Most important first. */
  small: string[];
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const OUNCE_GRAMS = 28.349523125;

/**
 * A local day in words that nobody reads as another day: '2026-11-27' is "27 Nov 2026".
 * Null when the text is not a calendar day.
 */
export function dayInWords(day: string): string | null {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day);
  if (!match) return null;
  const [year, month, date] = [Number(match[1]), Number(match[2]), Number(match[3])];
  const real = new Date(Date.UTC(year, month - 1, date));
  if (real.getUTCMonth() !== month - 1 || real.getUTCDate() !== date) return null;
  return `${date} ${MONTHS[month - 1]} ${year}`;
}

/**
 * Net weight in whole grams and in ounces to one decimal (avoirdupois ounce, 28.349523125 g exactly,
 * NIST SP 811).
 */
export function weightInWords(netGrams: number, order: WeightOrder = 'metric'): string {
  const ounces = `${(netGrams / OUNCE_GRAMS).toFixed(1)} oz`;
  return order === 'us' ? `${ounces} (${netGrams} g)` : `${netGrams} g (${ounces})`;
}

/**
 * The words of one label. A pack on hold, recalled, or without a last day carries a warning in place of
 * the date: missing evidence is never a pass.
 */
export function labelWords(pack: LabelPack, order: WeightOrder = 'metric'): LabelWords {
  const warning = warningOf(pack);
  const last = pack.lastDay === null ? null : dayInWords(pack.lastDay);
  const smoked = pack.smokeDay === null ? null : dayInWords(pack.smokeDay);
  return {
    product: pack.product.trim() || 'Product not recorded',
    species: sameWords(pack.species, pack.product) ? '' : pack.species.trim(),
    warning,
    date: warning || !last ? null : { caption: pack.dateKind === 'use-by' ? 'USE BY' : 'BEST BEFORE', value: last },
    net: weightInWords(pack.netGrams, order),
    identity: [
      `Lot ${pack.lot.trim()}`,
      `Pack ${pack.packNo}`,
      ...(pack.reprint > 0 ? [`Reprint ${pack.reprint}`] : []),
    ],
    smoked: smoked ? `Smoked ${smoked}` : 'Smoke date not recorded',
    storage: pack.storageWords.trim(),
    small: [...pack.extraWords, pack.saleWords, pack.madeBy ? `Made by ${pack.madeBy.trim()}` : '', pack.ingredients ? `Ingredients: ${pack.ingredients}` : '']
      .map((words) => words.trim())
      .filter((words) => words !== ''),
  };
}

function warningOf(pack: LabelPack): LabelWarning | null {
  const reasons: string[] = [];
  if (pack.hold) reasons.push(pack.hold.reason.trim() || 'No reason was recorded');
  if (pack.lastDay === null || dayInWords(pack.lastDay) === null) {
    reasons.push(`No ${pack.dateKind === 'use-by' ? 'use-by' : 'best-before'} date is recorded`);
  }
  if (pack.recalled) {
    if (!pack.hold) return { heading: 'RECALLED', order: 'Do not eat or share', reasons: [] };
    return { heading: 'RECALLED', order: 'HOLD: do not eat or share', reasons };
  }
  return reasons.length > 0 ? { heading: 'HOLD', order: 'Do not share', reasons } : null;
}

function sameWords(a: string, b: string): boolean {
  return a.trim().toLocaleLowerCase('en') === b.trim().toLocaleLowerCase('en');
}
