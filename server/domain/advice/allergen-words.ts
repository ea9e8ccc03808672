import { ALLERGENS, ALLERGEN_SOURCE } from '../allergens.ts';

/** What gives an allergen away in a list of ingredients, by its code. From memory; a word too many is safer than one too few. */
const WORDS: Readonly<Record<string, RegExp>> = {
  fish: /\b(?:fish|anchov(?:y|ies)|worcester(?:shire)?|surimi|roe|caviar)\b/i,
  milk: /\b(?:milk|butter|buttermilk|cream|cr[eè]me|cheese|yog(?:h)?urt|whey|casein(?:ate)?|curd|quark|skyr|ghee|lactose|ricotta|mascarpone|labneh|kefir|milkpowder)\b/i,
  egg: /\b(?:eggs?|mayo(?:nnaise)?|aioli|albumen|meringue|hollandaise|tartare? sauce|remoulade)\b/i,
  wheat: /\b(?:wheat|flour|bread(?:crumbs?)?|crackers?|semolina|spelt|durum|couscous|bulgur|seitan|panko|beer|soy(?:a)? sauce|gluten|teriyaki)\b/i,
  soy: /\b(?:soy(?:a|beans?)?|tofu|tamari|miso|edamame|lecithin|teriyaki)\b/i,
  sesame: /\b(?:sesame|tahini|halva)\b/i,
  nuts: /\b(?:nuts?|almonds?|walnuts?|pecans?|hazelnuts?|cashews?|pistachios?|macadamias?|brazil nuts?|pralin[eé]|marzipan|pesto|nougat)\b/i,
  peanuts: /\b(?:peanuts?|groundnuts?|arachis|satay)\b/i,
  crustaceans: /\b(?:crustaceans?|shellfish|shrimps?|prawns?|crabs?|lobsters?|crayfish|crawfish|krill|langoustines?|scampi)\b/i,
  celery: /\b(?:celery|celeriac)\b/i,
  mustard: /\b(?:mustard|dijon)\b/i,
  sulphites: /\b(?:sul(?:ph|f)ites?|metabisul(?:ph|f)ite|sul(?:ph|f)ur dioxide|wine|e ?22[0-8])\b/i,
  lupin: /\blupins?\b|\blupine\b/i,
  molluscs: /\b(?:mollus[ck]s?|shellfish|oysters?|mussels?|clams?|scallops?|squid|calamari|octopus|cuttlefish|snails?|abalone|whelks?)\b/i,
};

/** Words that hold the name of an allergen and are none; taken out of the text first. */
const NONE_OF_IT = /\b(?:coconut (?:milk|cream|butter)|cocoa butter|shea butter|rice milk|cream of tartar|eggplants?|coconuts?|rice flour|corn ?flour|potato flour|rice crackers?|gluten[- ]free|butter ?nut(?:s| squash)?|butter beans?|water chestnuts?)\b/gi;
/** These hold one allergen and the name of another. */
const PLANT_MILKS = /\b(almond|hazelnut|cashew|peanut|soya?|nut|oat) (?:milk|butter|cream|flour)\b/gi;

export type AllergenFound = { code: string; name: string; /** The word that gave it away. */ word: string };

/**
 * Allergens that a list of ingredients gives away, each once, with the word. Finding
 * nothing proves nothing: it never says that a food is free of any. Source: the United
 * States list of nine and the European list of fourteen; the words are from memory.
 */
export function allergensIn(ingredients: string): AllergenFound[] {
  const text = ingredients.slice(0, 10_000).normalize('NFC').replace(NONE_OF_IT, ' ').replace(PLANT_MILKS, '$1');
  return ALLERGENS.flatMap(({ code, name }) => {
    const word = WORDS[code]?.exec(text)?.[0];
    return word ? [{ code, name, word }] : [];
  });
}

/** Those that nobody named, by code or in words: ask the person. Fish is always named. Never throws. */
export function untickedAllergens(ingredients: string, named: readonly string[]): AllergenFound[] {
  const ticked = named.map((allergen) => allergen.trim().toLowerCase());
  return allergensIn(ingredients).filter(({ code, name }) => code !== 'fish' && !ticked.includes(code) && !ticked.includes(name.toLowerCase()));
}

export const ALLERGEN_WORDS_SOURCE = `${ALLERGEN_SOURCE}; words from memory`;
