import { testClub } from './app.ts';
import { rowsIn } from './rows.ts';

export type Smokehouse = Awaited<ReturnType<typeof smokehouse>>;

/** A club with a captain, crew and members, one trip, and short ways to land fish and take a batch through its stages. Its time is 10 June 2026, 20:00 UTC. */
export async function smokehouse() {
  const club = await testClub({ now: '2026-06-10T20:00:00Z' });
  const [captain, crew] = [await club.person('captain', 'Isla Muir'), await club.person('crew', 'Rory Vik')];
  const [ann, ben] = [await club.person('member', 'Ann Holm'), await club.person('member', 'Ben Skaw')];
  const rows = rowsIn(club.database, captain.id);
  const tripId = await rows.trip(await rows.boat({ name: 'Kittiwake' }));
  const of = (member: { id: string }) => ({ catcher_kind: 'member', catcher_member_id: member.id });
  /** Iced an hour and a half after it died, on a mild day. */
  const chilled = { caught_at: '2026-06-10T04:00:00Z', iced_at: '2026-06-10T05:30:00Z', core_c: 3, air_c: 12, water_c: 10 };
  const land = (more: Parameters<typeof rows.landing>[1] = {}) => rows.landing(tripId, { ...of(ann), ...chilled, grams: 5000, fish_count: 10, ...more });

  const landing = (id: string, grams: number | null = null) => ({ source: { kind: 'landing', id }, grams });
  const fromBatch = (id: string, grams: number | null = null) => ({ source: { kind: 'batch', id }, grams });
  const fromPack = (id: string) => ({ source: { kind: 'pack', id } });
  async function make(draws: object[], more: object = {}) {
    const { status, body } = await captain.post('/api/batches', { draws, ...more });
    if (status !== 201) throw new Error(JSON.stringify(body));
    return body;
  }
  const at = (time: string) => `2026-06-10T${time}:00.000Z`;
  /** A whole stage from one time of the day to another; without a weight out nothing is lost. */
  const stage = (batch: { id: string }, kind: string, from: string, to: string | null, more: object = {}) =>
    crew.post(`/api/batches/${batch.id}/stages`, { kind, startedAt: at(from), finishedAt: to && at(to), ...more });
  const good = { maxCoreC: 66, holdMinutes: 35, cooledTo21At: at('14:30'), cooledAt: at('16:00') };
  /** Cured and smoked with good evidence: 5,000 g becomes 2,500 g. */
  async function smoked(batch: { id: string; onHandGrams: number }, evidence: object = good, out = 2500) {
    const { status, body } = await stage(batch, 'smoke', '09:00', '13:00', { massOutG: out, ...evidence });
    if (status !== 201) throw new Error(JSON.stringify(body));
    return body;
  }
  const pack = async (batch: { id: string }, weightsG: number[], more: object = {}) => {
    const { status, body } = await crew.post(`/api/batches/${batch.id}/packs`, { weightsG, packageKind: 'tub', storage: 'refrigerated', packedAt: at('17:00'), ...more });
    if (status !== 201) throw new Error(JSON.stringify(body));
    return body.items as { id: string; packNo: number; lastDay: string | null }[];
  };
  const page = async (batch: { id: string }, person = crew) => (await person.get(`/api/batches/${batch.id}`)).body;
  return { club, captain, crew, ann, ben, rows, tripId, of, land, landing, fromBatch, fromPack, make, at, stage, smoked, good, pack, page };
}
