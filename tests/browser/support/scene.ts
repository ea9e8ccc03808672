// A club as it stands on a busy morning, made through the API, so that a test can begin in the middle of the job.
import { randomUUID } from 'node:crypto';
import type { Service } from '../../support/process.ts';
import { setUpClub } from '../../support/process.ts';

export const CAPTAIN = { login: 'cap', password: 'three-odd-words', name: 'Cap' };
const HOUR_MS = 3_600_000;
const ago = (hours: number): string => new Date(Date.now() - hours * HOUR_MS).toISOString();

export type Scene = Awaited<ReturnType<typeof scene>>;

/** A captain, stations of each kind that matters, a trip, and short ways to land fish and make batches and packs. */
export async function scene(service: Service) {
  const cookie = await setUpClub(service);
  async function send(method: string, path: string, body?: object): Promise<any> {
    const headers = { cookie, 'content-type': 'application/json', 'idempotency-key': randomUUID() };
    const answer = await fetch(service.url + path, { method, headers, ...(body ? { body: JSON.stringify(body) } : {}) });
    const text = await answer.text();
    if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${text}`);
    return JSON.parse(text);
  }
  const get = (path: string) => send('GET', path);
  const post = (path: string, body: object) => send('POST', path, body);
  for (const [name, kind, capacityUnit, capacity] of [['Brine tub', 'brine-tub', 'millilitres', 60_000], ['Drying rack', 'drying-rack', 'racks', 6], ['Shore smoker', 'smoker', 'racks', 6]] as const) {
    await post('/api/stations', { name, kind, capacityUnit, capacity });
  }
  const boatId = (await post('/api/boats', { name: 'Grey Plover' })).id as string;
  const tripId = (await post('/api/trips', { boatId, day: ago(36).slice(0, 10), area: 'North ledge' })).id as string;
  const speciesCode = (await get('/api/species')).items.find((s: { name: string }) => /mackerel/i.test(s.name)).code as string;

  /** Fish of a guest, caught 36 hours ago, 5 kg unless said; may be pooled and was on ice an hour later unless said. */
  const land = async (guestName: string, pooling = 'pooled', grams = 5000, icedHoursAgo = 35): Promise<string> =>
    (await post(`/api/trips/${tripId}/landings`, { catcher: { kind: 'guest', guestName }, speciesCode, fishCount: 12, grams, pooling, caughtAt: ago(36), icedAt: ago(icedHoursAgo), coreC: 3, airC: 12, waterC: 10 })).id;
  const batch = (name: string, landingId: string, grams: number | null = null): Promise<any> => post('/api/batches', { name, draws: [{ source: { kind: 'landing', id: landingId }, grams }] });
  /** Smoked, cooled and packed within the day, with good evidence: cold well within 2 hours, as the clock ticks between two times. */
  async function packed(name: string, weightsG: number[]): Promise<{ batch: any; packs: any[] }> {
    const made = await batch(name, await land('Guest Orla'));
    await post(`/api/batches/${made.id}/stages`, { kind: 'smoke', startedAt: ago(9), finishedAt: ago(5), massOutG: 4000, maxCoreC: 66, holdMinutes: 40, cooledAt: ago(3.5) });
    const packs = (await post(`/api/batches/${made.id}/packs`, { weightsG, packageKind: 'tub', storage: 'refrigerated', packedAt: ago(2) })).items;
    return { batch: await get(`/api/batches/${made.id}`), packs };
  }
  return { get, post, put: (path: string, body: object) => send('PUT', path, body), patch: (path: string, body: object) => send('PATCH', path, body), land, batch, packed };
}
