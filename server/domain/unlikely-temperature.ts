/** Where a person types a temperature that nothing else was measured beside. */
export type TypedPlace = 'cure-place' | 'store' | 'brine' | 'smoked-core' | 'landed-fish' | 'air' | 'water';

type Usual = { from: number; to: number; below: string; above: string };
/**
 * What is usual in each place, in degrees Celsius, and what to say of less and of more. Generous, and a choice of this service: outside it a
 * slip of sign or unit is likelier than the temperature. The unit of a hot core is asked for by the stage itself, and counts there.
 */
const USUAL: Readonly<Record<TypedPlace, Usual>> = {
  'cure-place': { from: 0, to: 20, below: 'is below freezing: fish would begin to freeze there, and a cure all but stop', above: 'is warmer than any cure should stand' },
  store: { from: -1, to: 25, below: 'is colder than a refrigerator and warmer than a freezer', above: 'is warm for a place where fish is kept' },
  brine: { from: -2, to: 25, below: 'is colder than fish in brine can stand without freezing', above: 'is warm for a brine with fish in it' },
  'smoked-core': { from: 30, to: 100, below: 'is cold for the hottest moment of a core', above: 'is too hot for a core' },
  'landed-fish': { from: -2, to: 30, below: 'is frozen fish', above: 'is warmer than fish comes out of the water' },
  air: { from: -20, to: 38, below: 'is rarely so cold at sea', above: 'is rarely so hot at sea' },
  water: { from: -2, to: 30, below: 'is colder than the sea gets', above: 'is warmer than the sea gets' },
};
/** From here down a store is a freezer. */
const FREEZER_C = -12;

export type Unlikely = { says: string; /** What was likelier meant, in degrees Celsius, the likeliest first; may be empty. */ meantC: number[] };

/**
 * Whether a typed temperature in degrees Celsius is unlikely where it was taken: what to say of it, and what may have been meant (the same without
 * its minus, or in the other unit) where that is usual there. Null where it is usual. Questions only: it judges nothing and refuses nothing. Any
 * number. The bounds are a choice of this service.
 */
export function unlikelyTemperature(celsius: number, place: TypedPlace): Unlikely | null {
  const { from, to, below, above } = USUAL[place];
  const usual = (c: number) => (c >= from && c <= to) || (place === 'store' && c <= FREEZER_C);
  if (!Number.isFinite(celsius) || usual(celsius)) return null;
  const others = [-celsius, ((celsius - 32) * 5) / 9, (celsius * 9) / 5 + 32].map((c) => Math.round(c * 10) / 10);
  return { says: celsius < from ? below : above, meantC: [...new Set(others)].filter((c) => c >= from && c <= to) };
}
