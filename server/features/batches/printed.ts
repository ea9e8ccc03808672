import type { BatchDetail } from '../../contract/batches.ts';
import type { AllergenFound } from '../../contract/advice.ts';
import { allergensIn, untickedAllergens } from '../../domain/advice/allergen-words.ts';
import { containedAllergens } from '../../domain/allergens.ts';
import { curedWith, fishNamed, mergeIngredients } from '../../domain/ingredients.ts';
import { sourcesOf } from './inherited.ts';
import { batchOf, drawsInto, sourceBatchOf, stagesOf } from './lineage.ts';
import type { Lineage, LineageCure, LineageDraw, LineageStage } from './lineage.ts';

export type Printed = BatchDetail['printed'];
export type Contents = Printed & { /** All that is known to be in it, printed or not: what allergens are looked for in. */ searched: string; /** Allergens that somebody named, or that a cure gives away. */ named: string[] };

/**
 * What labels and the public page name as the contents of a batch, reckoned from the record whenever it is read. What somebody typed
 * on it stands as it is. Otherwise it is the fish, what was typed on the lots that it was made from, and what the cures put on it;
 * where any of that is not known nothing is printed, since a list that leaves things out misleads. Allergens that a cure or
 * the words of a list give away are named whatever was ticked: a word too many is safer than one too few.
 */
export function contentsOf(lineage: Lineage): Contents {
  const own = batchOf(lineage);
  const typed = [own, ...sourcesOf(lineage)].filter((b) => b.ingredients !== '');
  const texts = typed.map((b) => b.ingredients);
  const went = followed(lineage);
  const fromCure = allergensOf(went.cures);
  const inWords = (found: readonly AllergenFound[]) => found.map(({ name }) => name.toLowerCase());
  const named = containedAllergens([own, ...sourcesOf(lineage)].flatMap((b) => b.allergens).concat(inWords(fromCure)));
  const line = own.ingredients !== '' ? typedLine(texts) : untypedLine(texts, went);
  const searched = mergeIngredients([line.ingredients, ...texts]);
  return { ...line, allergens: containedAllergens([...named, ...inWords(untickedAllergens(searched, named))]), fromCure, searched, named };
}

export const printedOf = ({ searched: _searched, named: _named, ...printed }: Contents): Printed => printed;

type Line = Pick<Printed, 'ingredients' | 'source' | 'missing'>;
const typedLine = (texts: readonly string[]): Line => ({ ingredients: mergeIngredients(texts), source: 'typed', missing: null });

function untypedLine(texts: readonly string[], { fish, listed, missing }: Went): Line {
  const none = missing ?? (fish.size + texts.length === 0 ? { what: 'no-fish' as const, lot: null } : null);
  if (none) return { ingredients: '', source: null, missing: none };
  if (fish.size + listed.size === 0) return typedLine(texts);
  const ingredients = mergeIngredients([...fishNamed([...fish.values()]), ...texts, ...curedWith([...listed])]);
  return { ingredients, source: texts.length > 0 ? 'mixed' : listed.size > 0 ? 'cure' : 'fish', missing: null };
}

/** By what the cures' other ingredients are called; each once, with the first word that gives it away. Fish is always named. */
function allergensOf(cures: ReadonlySet<LineageCure>): AllergenFound[] {
  const found = [...cures].flatMap(({ others }) => allergensIn(others.map(({ name }) => name).join(', ')));
  return found.filter(({ code }, i) => code !== 'fish' && found.findIndex((one) => one.code === code) === i);
}

type Went = {
  /** Landed fish that no typed list speaks for, by its draw. */
  fish: Map<string, { name: string; grams: number }>;
  /** Cures that no typed list speaks for; and all of them. */
  listed: Set<LineageCure>;
  cures: Set<LineageCure>;
  missing: Printed['missing'];
};
type Way = { /** Somebody typed what is in it, further down. */ typed: boolean; cured: boolean; smoked: boolean };
const GRAVEST = ['mix-untold', 'cure-untold', 'no-cure'] as const;

/** Goes from a batch up to its landings, and tells what was put on the fish on the way. */
function followed(lineage: Lineage): Went {
  const went: Went = { fish: new Map(), listed: new Set(), cures: new Set(), missing: null };
  const miss = (what: (typeof GRAVEST)[number], id: string) => {
    if (went.missing === null || GRAVEST.indexOf(what) < GRAVEST.indexOf(went.missing.what as 'no-cure')) went.missing = { what, lot: id === lineage.id ? null : batchOf(lineage, id).lot };
  };
  const seen = new Set<string>();
  const visit = (id: string, by: LineageDraw | null, way: Way) => {
    const { ingredients, productKind } = batchOf(lineage, id);
    const stages = stagesOf(lineage, id).filter((stage) => by === null || wasThrough(stage, by));
    const cureStages = stages.filter((stage) => stage.kind === 'cure');
    const next: Way = {
      typed: way.typed || ingredients !== '', cured: way.cured || cureStages.length > 0,
      smoked: way.smoked || (by === null ? productKind === 'hot-smoked' : stages.some((stage) => stage.kind === 'smoke')),
    };
    const key = `${by?.id} ${next.typed} ${next.cured} ${next.smoked}`;
    if (seen.has(key)) return;
    seen.add(key);
    for (const stage of cureStages) {
      const cure = lineage.cures.find((c) => c.stageId === stage.id);
      if (cure) went.cures.add(cure);
      if (!next.typed && cure) went.listed.add(cure);
      if (!next.typed && !cure) miss('cure-untold', id);
    }
    if (!next.typed && productKind === 'dip') miss('mix-untold', id);
    for (const draw of drawsInto(lineage, id)) {
      const source = sourceBatchOf(lineage, draw);
      if (source !== null) visit(source, draw, next);
      else if (!next.typed) {
        went.fish.set(draw.id, { name: lineage.landings.find((l) => l.id === draw.landingId)!.species, grams: draw.grams });
        // Smoked fish goes through a cure as good as always: none recorded is nobody's word that there was none.
        if (next.smoked && !next.cured) miss('no-cure', lineage.id);
      }
    }
  };
  visit(lineage.id, null, { typed: false, cured: false, smoked: false });
  return went;
}

/** Whether what a draw took may have been through a stage of the batch above: by the order of the records or by its time. A name too many is safer than one too few. */
function wasThrough(stage: LineageStage, draw: LineageDraw): boolean {
  return draw.sourcePackId !== null || stage.eventNo < draw.eventNo || Date.parse(stage.startedAt) <= Date.parse(draw.createdAt);
}
