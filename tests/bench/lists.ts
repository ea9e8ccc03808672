import { cookieOf } from './club.ts';
import type { Club } from './club.ts';
import { median, percentile } from './figure.ts';
import type { Figure } from './figure.ts';
import { mustBe, openLine, wire } from './load.ts';
import type { Line } from './load.ts';
import { captain, member } from './records.ts';

const ROUNDS = 5;
const ASKS = 60;
const WARM_UP = 30;

type List = { id: string; path: string; as?: string; /** Starts half-way down the list. */ deep?: boolean };
const lists: List[] = [
  { id: 'list-batches', path: '/api/batches?limit=20' },
  { id: 'list-batches-deep', path: '/api/batches?limit=20', deep: true },
  { id: 'list-packs', path: '/api/packs?limit=50' },
  { id: 'list-packs-deep', path: '/api/packs?limit=50', deep: true },
  { id: 'list-packs-claimable', path: '/api/packs?limit=50&claimable=true' },
  { id: 'list-landings', path: '/api/landings?limit=20' },
  { id: 'list-landings-deep', path: '/api/landings?limit=20', deep: true },
  { id: 'list-trips', path: '/api/trips?limit=20' },
  { id: 'list-trips-deep', path: '/api/trips?limit=20', deep: true },
  { id: 'list-claims', path: '/api/claims?limit=50' },
  { id: 'list-hand-overs', path: '/api/hand-overs?limit=50' },
  { id: 'today-captain', path: '/api/today' },
  { id: 'today-member', path: '/api/today', as: member },
];

/** Each list in a club with ten years of records against the same list in a club with 50 batches, by its 95th percentile. */
export async function measureLists(small: Club, large: Club, shown: (figure: Figure) => Figure): Promise<Figure[]> {
  const [few, many] = await Promise.all([openLine(small.url), openLine(large.url)]);
  try {
    const figures: Figure[] = [];
    for (const list of lists) figures.push(shown(await measureList(list, few, many)));
    return figures;
  } finally {
    few.close();
    many.close();
  }
}

async function measureList(list: List, few: Line, many: Line): Promise<Figure> {
  const headers = { cookie: cookieOf(list.as ?? captain) };
  const [onFew, onMany] = [await requestFor(list, few, headers), await requestFor(list, many, headers)];
  for (let i = 0; i < WARM_UP; i += 1) {
    await timed(few, onFew);
    await timed(many, onMany);
  }
  const ratios: number[] = [];
  const [fewMs, manyMs]: [number[], number[]] = [[], []];
  for (let round = 0; round < ROUNDS; round += 1) {
    const [a, b]: [number[], number[]] = [[], []];
    // Turn by turn, so that whatever else the machine does falls on both.
    for (let i = 0; i < ASKS; i += 1) {
      a.push(await timed(few, onFew));
      b.push(await timed(many, onMany));
    }
    ratios.push(percentile(b, 0.95) / percentile(a, 0.95));
    fewMs.push(...a);
    manyMs.push(...b);
  }
  const words = (ms: number[]) => `${percentile(ms, 0.95).toFixed(1)} ms`;
  return { id: list.id, ratio: median(ratios), target: 1.5, better: 'lower', detail: `95th percentile: ten years ${words(manyMs)}, 50 batches ${words(fewMs)}` };
}

async function timed(line: Line, request: Buffer): Promise<number> {
  const start = performance.now();
  mustBe(200, await line.ask(request));
  return performance.now() - start;
}

/** For a deep page, reads the list to its end once, and takes the place half-way. */
async function requestFor({ path, deep }: List, line: Line, headers: Record<string, string>): Promise<Buffer> {
  if (!deep) return wire({ path, headers });
  const limit = Number(new URLSearchParams(path.split('?')[1]).get('limit'));
  const places: string[] = [];
  for (let cursor: string | null = null; ;) {
    const answer = mustBe(200, await line.ask(wire({ path: `${path}${cursor === null ? '' : `&cursor=${cursor}`}`, headers })));
    const { items, nextCursor } = JSON.parse(answer.body.toString()) as { items: unknown[]; nextCursor: string | null };
    if (nextCursor === null || items.length < limit) break;
    places.push(nextCursor);
    cursor = nextCursor;
  }
  // A page that is itself full: the last one may be short.
  const place = places[Math.max(0, Math.floor((places.length - 2) / 2))];
  if (place === undefined) throw new Error(`${path} has one page only.`);
  return wire({ path: `${path}&cursor=${place}`, headers });
}
