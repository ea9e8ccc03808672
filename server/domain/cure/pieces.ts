import { oneOf, rounded, within } from '../bounds.ts';
import { conditionFactor, START_AT_5C } from '../salt/diffusivity.ts';
import type { ClubByFat, ClubDiffusivity } from '../salt/diffusivity.ts';
import { THICKNESS_MM } from '../salt/uptake.ts';
import { findSpecies } from '../species/index.ts';
import type { FatClass } from '../species/index.ts';
import { DomainError, FORMS } from '../working.ts';
import type { Certainty, Form, Grams } from '../working.ts';

export const PIECE_PARTS = ['loin', 'belly', 'tail'] as const;
export type PiecePart = (typeof PIECE_PARTS)[number];

/** Fish of one kind that goes into a cure: one draw, or the part of it that is equally thick. */
export type CurePiece = {
  /** The caller's name for it, such as a draw's id or 'thin tails'. */
  id: string;
  grams: Grams;
  thicknessMm: number;
  /** Skin on: salt goes in through one face only. */
  skin: boolean;
  form: Form;
  /** A species code; or say how fat the fish is. */
  species?: string;
  fat?: FatClass;
  /** Bellies and tails are cured apart. */
  part?: PiecePart;
  onceFrozen?: boolean;
  /** Water in the flesh in percent, if it was measured. */
  waterPercent?: number;
};

export type KnownPiece = CurePiece & {
  fat: FatClass;
  openFaces: 1 | 2;
  waterPercent: number;
  waterGrams: number;
  waterSource: string;
  certainty: Certainty;
};

/** Water in the flesh where no table has it: about the middle of its class in USDA SR27 (from memory). */
const WATER_BY_FAT: Readonly<Record<FatClass, number>> = { lean: 78, medium: 74, fatty: 68 };
const MOST_PIECES = 500;

/**
 * Pieces with what the reckoning needs of each: fat, open faces, and water in the flesh.
 * Range: 1 to 500 pieces of 1 g to 1 t, 1 to 150 mm thick. Throws DomainError outside, on
 * whole fish (nothing gets in through the skin), and on a piece with neither species nor
 * fat. Source: USDA SR27 raw flesh.
 */
export function knownPieces(pieces: readonly CurePiece[]): KnownPiece[] {
  within(pieces.length, { field: 'pieces', label: 'number of pieces', min: 1, max: MOST_PIECES });
  return pieces.map((piece, index) => knownPiece(piece, (name) => `pieces.${index}.${name}`));
}

/** The weight of the pieces and of the water in them. */
export function totals(pieces: readonly KnownPiece[]): { fishGrams: Grams; fishWaterGrams: number } {
  return { fishGrams: pieces.reduce((sum, piece) => sum + piece.grams, 0), fishWaterGrams: rounded(pieces.reduce((sum, piece) => sum + piece.waterGrams, 0), 1) };
}

type Clubs = { club?: ClubDiffusivity; clubByFat?: ClubByFat };

/** The club's own diffusivity for a piece: of its fat class, or the one for all of them. */
export const clubOf = (piece: Pick<KnownPiece, 'fat'>, clubs: Clubs): ClubDiffusivity | undefined => clubs.clubByFat?.[piece.fat] ?? clubs.club;

/** How long salt takes to get through, against other pieces: depth squared over diffusivity at 5 C. */
export function slowness(piece: KnownPiece, clubs: Clubs = {}): number {
  const depthMm = piece.thicknessMm / piece.openFaces;
  return depthMm ** 2 / ((clubOf(piece, clubs)?.m2PerSAt5C ?? START_AT_5C[piece.fat]) * conditionFactor(5, piece.onceFrozen ?? false));
}

function knownPiece(piece: CurePiece, field: (name: string) => string): KnownPiece {
  oneOf(piece.form, FORMS, field('form'));
  if (piece.part !== undefined) oneOf(piece.part, PIECE_PARTS, field('part'));
  within(piece.grams, { field: field('grams'), label: 'weight', min: 1, max: 1e6, unit: 'g', remedy: 'enter the weight on the scale' });
  within(piece.thicknessMm, { field: field('thicknessMm'), label: 'thickness', ...THICKNESS_MM, unit: 'mm', remedy: 'measure the thickest part of the piece' });
  if (piece.form === 'whole') {
    throw new DomainError({ code: 'cure.whole', field: field('form'), label: 'form', value: piece.form, problem: 'cannot be reckoned: salt hardly passes the skin', remedy: 'gut it, or cut fillets, and enter that form' });
  }
  const fat = fatOf(piece, field);
  const water = waterOf(piece, fat, field);
  // The skin of gutted fish is on the outside: salt goes in from the cavity alone.
  return { ...piece, fat, openFaces: piece.skin || piece.form !== 'fillet' ? 1 : 2, ...water, waterGrams: (piece.grams * water.waterPercent) / 100 };
}

function fatOf(piece: CurePiece, field: (name: string) => string): FatClass {
  if (piece.fat !== undefined) return oneOf(piece.fat, ['lean', 'medium', 'fatty'], field('fat'));
  const species = piece.species === undefined ? undefined : findSpecies(piece.species);
  if (species) return species.fat;
  throw new DomainError({
    code: 'cure.fish-unknown', field: field(piece.species === undefined ? 'fat' : 'species'), label: piece.species === undefined ? 'fat' : 'species', value: piece.species,
    problem: 'does not say how fat the fish is', remedy: 'choose a species from the list, or lean, medium or fatty',
  });
}

function waterOf(piece: CurePiece, fat: FatClass, field: (name: string) => string): Pick<KnownPiece, 'waterPercent' | 'waterSource' | 'certainty'> {
  if (piece.waterPercent !== undefined) {
    return { waterPercent: within(piece.waterPercent, { field: field('waterPercent'), label: 'water', min: 30, max: 90, unit: '%' }), waterSource: 'measured, as entered', certainty: 'published' };
  }
  return fleshWater(piece.species, fat);
}

/** Water in raw flesh, in percent: of the species where the tables have it, or else what is usual for fish so fat. Source: USDA SR27. */
export function fleshWater(species: string | undefined, fat: FatClass): Pick<KnownPiece, 'waterPercent' | 'waterSource' | 'certainty'> {
  const proximate = species === undefined ? undefined : findSpecies(species)?.proximate;
  if (!proximate) return { waterPercent: WATER_BY_FAT[fat], waterSource: `usual for ${fat} fish, from memory`, certainty: 'from memory' };
  const { waterG, proteinG, fatG, ashG } = proximate;
  return { waterPercent: rounded((100 * waterG) / (waterG + proteinG + fatG + ashG), 2), waterSource: 'USDA SR27 raw flesh, made to sum to 100', certainty: 'published' };
}
