import { rounded, within } from '../bounds.ts';
import { bandInWords, diffusivity, START_BAND } from '../salt/diffusivity.ts';
import type { ClubByFat, ClubDiffusivity } from '../salt/diffusivity.ts';
import { timeToSalt } from '../salt/time-to-salt.ts';
import type { TimeToSalt } from '../salt/time-to-salt.ts';
import { saltUptake } from '../salt/uptake.ts';
import type { CureConditions } from '../salt/uptake.ts';
import type { Predicted } from '../salt/water-phase.ts';
import type { Grams, Working } from '../working.ts';
import { clubOf, knownPieces, slowness } from './pieces.ts';
import type { CurePiece, KnownPiece } from './pieces.ts';

export type PieceClock = { id: string; thicknessMm: number; time: TimeToSalt };

export type CureGroup = {
  name: string;
  ids: string[];
  grams: Grams;
  thinnestMm: number;
  thickestMm: number;
  /** The piece that is done first, and the one done last. */
  first: PieceClock;
  last: PieceClock;
  /** When to take the group out: when its last piece has reached the target; null when it never does. */
  takeOutMinutes: number | null;
  /** Water-phase salt of the first piece by then, with its band. */
  firstThenPercent: number | null;
  firstThenLowPercent: number | null;
  firstThenHighPercent: number | null;
};

export type GroupedCure = Predicted & {
  groups: CureGroup[];
  /** What the clocks run to: the target; or 95 % of it where the cure is made to end there, which it does only after days. */
  clockPercent: number;
  working: Working;
};

export type GroupInput = {
  pieces: readonly CurePiece[];
  targetPercent: number;
  /** What the fish lies in: a brine's strength, or 26.395 for a dry cure. */
  surfacePercent: number;
  brinePerFishWater: number | null;
  temperatureC: number;
  club?: ClubDiffusivity;
  /** The club's own by fat class; goes before `club`. */
  clubByFat?: ClubByFat;
  /** In one group the slowest piece takes at most so many times as long as the quickest. */
  mostTimes?: number;
};

/** A cure that ends at its target never quite gets there: its clocks run to so much of it. Common practice. */
const NEAR_ENOUGH = 0.95;
/** Pieces within a fifth of each other in thickness. Common practice. */
const MOST_TIMES = 1.5;

/**
 * Pieces sorted into groups that are done at about the same time, bellies and tails apart,
 * the thickest group first, each with its clock. Range: as knownPieces and saltUptake.
 * Throws DomainError outside. Source: slab diffusion (Crank 1975); groups are common practice.
 */
export function groupPieces(input: GroupInput): GroupedCure {
  const mostTimes = within(input.mostTimes ?? MOST_TIMES, { field: 'mostTimes', label: 'spread of a group', min: 1, max: 10 });
  diffusivity({ fat: 'lean', temperatureC: input.temperatureC, onceFrozen: false, ...(input.club && { club: input.club }) });
  const slow = (piece: KnownPiece) => slowness(piece, input);
  const sorted = knownPieces(input.pieces).sort((a, b) => slow(b) - slow(a));
  const groups: KnownPiece[][] = [];
  for (const part of ['loin', 'belly', 'tail'] as const) {
    let current: KnownPiece[] | null = null;
    for (const piece of sorted.filter((one) => (one.part ?? 'loin') === part)) {
      if (current && slow(current[0]!) <= slow(piece) * mostTimes) current.push(piece);
      else groups.push((current = [piece]));
    }
  }
  const clockPercent = clockTarget(input);
  return {
    measured: false, clockPercent: rounded(clockPercent, 3), groups: groups.map((pieces) => groupOf(pieces, { ...input, targetPercent: clockPercent })),
    working: {
      inputs: [{ name: 'pieces', value: sorted.length }, { name: 'longest over shortest time in a group', value: mostTimes }],
      model: 'salt-uptake', formula: 'sorted by depth squared over diffusivity; a group ends where the quickest would take less than the slowest divided by the spread', source: 'slab diffusion (Crank 1975); bellies and tails apart is common practice',
      range: '1 to 150 mm', uncertainty: `every clock has a band: diffusivity ${bandInWords(START_BAND)}, or the club's own`, certainty: 'from memory',
    },
  };
}

/** The conditions of one piece, for the salt functions. */
export function conditionsOf(piece: KnownPiece, input: Omit<GroupInput, 'pieces' | 'targetPercent'>): CureConditions {
  const club = clubOf(piece, input);
  return {
    thicknessMm: piece.thicknessMm, openFaces: piece.openFaces, brinePercent: input.surfacePercent, brinePerFishWater: input.brinePerFishWater,
    fat: piece.fat, temperatureC: input.temperatureC, onceFrozen: piece.onceFrozen ?? false, ...(club && { club }),
  };
}

function clockTarget({ surfacePercent, brinePerFishWater, targetPercent }: GroupInput): number {
  const end = brinePerFishWater === null ? surfacePercent : (brinePerFishWater * surfacePercent) / (1 + brinePerFishWater);
  return Math.abs(end / targetPercent - 1) < 1 - NEAR_ENOUGH ? NEAR_ENOUGH * Math.min(end, targetPercent) : targetPercent;
}

function groupOf(pieces: readonly KnownPiece[], input: GroupInput): CureGroup {
  // Sorted slowest first.
  const [lastPiece, firstPiece] = [pieces[0]!, pieces.at(-1)!];
  const clock = (piece: KnownPiece): PieceClock => ({ id: piece.id, thicknessMm: piece.thicknessMm, time: timeToSalt({ ...conditionsOf(piece, input), targetPercent: input.targetPercent }) });
  const last = clock(lastPiece);
  const then = last.time.minutes === null ? null : saltUptake({ ...conditionsOf(firstPiece, input), minutes: last.time.minutes });
  const sizes = pieces.map((piece) => piece.thicknessMm);
  const [thinnestMm, thickestMm] = [Math.min(...sizes), Math.max(...sizes)];
  return {
    name: nameOf(pieces[0]!, thinnestMm, thickestMm), ids: pieces.map((piece) => piece.id), grams: pieces.reduce((sum, piece) => sum + piece.grams, 0), thinnestMm, thickestMm,
    first: clock(firstPiece), last, takeOutMinutes: last.time.minutes,
    firstThenPercent: then?.meanPercent ?? null, firstThenLowPercent: then?.meanLowPercent ?? null, firstThenHighPercent: then?.meanHighPercent ?? null,
  };
}

function nameOf(piece: KnownPiece, thinnestMm: number, thickestMm: number): string {
  const size = thinnestMm === thickestMm ? `${rounded(thickestMm, 1)} mm` : `${rounded(thinnestMm, 1)} to ${rounded(thickestMm, 1)} mm`;
  // Of gutted fish nobody asks about the skin.
  const gutted = piece.form !== 'fillet';
  const kind = { loin: gutted ? 'Gutted fish' : 'Pieces', belly: 'Bellies', tail: 'Tails' }[piece.part ?? 'loin'];
  return `${kind} of ${size}${piece.openFaces === 1 && !gutted ? ', skin on' : ''}`;
}
