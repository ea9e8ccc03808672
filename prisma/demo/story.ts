import { findSpecies } from '../../server/domain/species/index.ts';
import type { Stage } from './load.ts';
import { smokeLog } from './smoke-log.ts';
import type { LogRow } from './smoke-log.ts';

const hour = 3600_000;

/** A log of a reading every five minutes, along straight lines between its corners. */
function logBetween(corners: readonly [at: Date, celsius: number][]): LogRow[] {
  const rows: LogRow[] = [];
  for (let i = 0; i + 1 < corners.length; i += 1) {
    const [[from, fromC], [to, toC]] = [corners[i]!, corners[i + 1]!];
    for (let ms = from.getTime(); ms < to.getTime(); ms += 5 * 60_000) rows.push({ at: new Date(ms).toISOString(), celsius: Math.round((fromC + ((toC - fromC) * (ms - from.getTime())) / (to.getTime() - from.getTime())) * 10) / 10 });
  }
  const [end, endC] = corners.at(-1)!;
  return [...rows, { at: end.toISOString(), celsius: endC }];
}

/** Three weeks at Skerrywick. Everything is told relative to the present, so that something always runs. */
export async function tell(stage: Stage): Promise<void> {
  const { now, at, as, idOf } = stage;
  const ago = (days: number, hours = 0) => new Date(now.getTime() - days * 24 * hour - hours * hour);
  const iso = (moment: Date) => moment.toISOString();
  const day = (moment: Date) => iso(moment).slice(0, 10);
  const ina = as('ina');
  const moss = as('moss');

  at(ago(30));
  const club = await ina.get('/api/club');
  await ina.patch('/api/club', { version: club.version, contactWords: 'Call the boat club hut, 01632 960134, or knock at the blue door on the quay.' });
  const boats: Record<string, string> = {};
  for (const name of ['Grey Selkie', 'Little Auk', 'Marram']) boats[name] = (await ina.post('/api/boats', { name })).id;
  const stations: Record<string, string> = {};
  const rooms: [string, string, string, number, string][] = [
    ['Tub 1', 'brine-tub', 'grams', 30_000, 'Grey lid. Fits the lower shelf.'],
    ['Tub 2', 'brine-tub', 'grams', 20_000, ''],
    ['Cold shelf', 'refrigerator', 'grams', 60_000, 'Reads 2 C at the back.'],
    ['Drying rack', 'drying-rack', 'racks', 12, 'Fan on low.'],
    ['Alder smoker', 'smoker', 'racks', 6, 'Slow to heat: light it 40 minutes ahead.'],
    ['Beech smoker', 'smoker', 'racks', 10, 'Hot spot at the back left.'],
    ['Bench', 'bench', 'grams', 80_000, ''],
  ];
  for (const [name, kind, capacityUnit, capacity, note] of rooms) stations[name] = (await ina.post('/api/stations', { name, kind, capacityUnit, capacity, note })).id;

  type Catch = { who: string; species: string; grams: number; count: number | null; pooling?: string; form?: string };
  async function trip(daysAgo: number, boat: string, area: string, aboard: string[], catches: Catch[], open = false) {
    const back = ago(daysAgo, 2);
    at(back);
    const made = await moss.post('/api/trips', { boatId: boats[boat], day: day(back), area, people: aboard.map((p) => ({ memberId: idOf(p), shareWeight: 1 })) });
    const landings: { id: string; grams: number }[] = [];
    for (const c of catches) {
      const catcher = c.who === 'boat' ? { kind: 'boat' } : idOf(c.who) ? { kind: 'member', memberId: idOf(c.who) } : { kind: 'guest', guestName: c.who };
      landings.push(
        await moss.post(`/api/trips/${made.id}/landings`, {
          catcher, speciesCode: c.species, grams: c.grams, fishCount: c.count, pooling: c.pooling ?? 'apart', form: c.form ?? 'whole',
          caughtAt: iso(new Date(back.getTime() - 4 * hour)), icedAt: iso(new Date(back.getTime() - 3.5 * hour)), landedAt: iso(back), coreC: 3, airC: 12, waterC: 10,
        }),
      );
    }
    if (!open) await moss.patch(`/api/trips/${made.id}`, { version: made.version, open: false });
    return landings;
  }
  const start = async (moment: Date, landings: { id: string }[], extra: object = {}) => {
    at(moment);
    return ina.post('/api/batches', { draws: landings.map((l) => ({ source: { kind: 'landing', id: l.id } })), ...extra });
  };
  /** A brine of 15 %, as much water as fish. */
  const brineFor = (fishGrams: number, speciesCode: string) =>
    ({ method: 'brine', saltKind: 'coarse-sea-salt', saltGrams: Math.round((fishGrams * 15) / 85), waterGrams: fishGrams, thicknessMm: 15, skin: true, temperatureC: 3, onceFrozen: false, fat: findSpecies(speciesCode)!.fat });
  /** A stage recorded whole; out as a share of what went in. */
  async function whole(batchId: string, kind: string, from: Date, hours: number, out: number, extra: object = {}) {
    const end = new Date(from.getTime() + hours * hour);
    at(end);
    const { onHandGrams, origins } = await moss.get(`/api/batches/${batchId}`);
    const massOutG = Math.round(onHandGrams * out);
    const gain = Math.max(0, massOutG - onHandGrams);
    const cured = kind === 'cure' ? { cure: brineFor(onHandGrams, origins[0].speciesCode), maxPlaceC: 2.8 } : {};
    const trimG = kind === 'prepare' ? Math.round(onHandGrams * (1 - out) * 0.9) : 0;
    await moss.post(`/api/batches/${batchId}/stages`, { kind, startedAt: iso(from), finishedAt: iso(end), massOutG, addedG: gain, trimG, ...cured, ...extra });
    return end;
  }
  const readBy = (batchId: string, stageId: string, place: string, probe: string, readings: LogRow[]) => moss.post(`/api/batches/${batchId}/readings`, { place, probe, stageId, source: 'pasted', readings });
  /** Prepared in the afternoon, cured over the evening, smoked the next morning. */
  async function smoked(batchId: string, from: Date, evidence: { maxCoreC: number | null; holdMinutes: number | null; coolHours: number | null; logged?: boolean }) {
    let t = await whole(batchId, 'prepare', from, 1, 0.58);
    t = await whole(batchId, 'cure', t, 6, 1.02);
    t = await whole(batchId, 'rinse', t, 0.5, 1);
    t = await whole(batchId, 'dry', t, 1.5, 0.97);
    const done = new Date(t.getTime() + 4 * hour);
    const cooledAt = evidence.coolHours === null ? null : new Date(done.getTime() + evidence.coolHours * hour);
    t = await whole(batchId, 'smoke', t, 4, 0.86, { maxCoreC: evidence.maxCoreC, holdMinutes: evidence.holdMinutes });
    if (cooledAt) {
      at(cooledAt);
      const { stages } = await moss.get(`/api/batches/${batchId}`);
      const smoke = stages.find((s: { kind: string }) => s.kind === 'smoke');
      const cooledTo21At = new Date(done.getTime() + Math.min(1.5, (evidence.coolHours ?? 0) / 2) * hour);
      await moss.patch(`/api/stages/${smoke.id}`, { version: smoke.version, cooledTo21At: iso(cooledTo21At), cooledAt: iso(cooledAt) });
      if (evidence.logged) {
        const { chamber, core } = smokeLog(new Date(done.getTime() - 4 * hour), 240, { speciesCode: 'atlantic-mackerel', thicknessMm: 20 });
        const cooling = logBetween([[new Date(done.getTime() + 5 * 60_000), core.at(-1)!.celsius - 2], [new Date(done.getTime() + hour / 3), 55], [new Date(cooledTo21At.getTime() - 5 * 60_000), 20.5], [cooledAt, 4]]);
        await readBy(batchId, smoke.id, 'chamber', 'Rack 2', chamber);
        await readBy(batchId, smoke.id, 'core', 'Largest piece', [...core, ...cooling]);
      }
    }
    return cooledAt ?? t;
  }
  async function packAll(batchId: string, when: Date, each: number, packageKind: string, storage: string, finish = true) {
    at(when);
    const before = await moss.get(`/api/batches/${batchId}`);
    const count = Math.floor(before.onHandGrams / each);
    const weightsG = Array.from({ length: count }, (_, n) => each - 7 + ((n * 5) % 14)).map((g) => Math.min(g, each));
    await moss.post(`/api/batches/${batchId}/packs`, { weightsG, packageKind, storage, packedAt: iso(when) });
    const batch = await moss.get(`/api/batches/${batchId}`);
    if (finish) {
      const stagePack = batch.stages.find((s: { kind: string }) => s.kind === 'pack');
      await moss.patch(`/api/stages/${stagePack.id}`, { version: stagePack.version, finishedAt: iso(when), lossReason: 'Tasted and crumbs' });
    }
    return batch.packs as { id: string }[];
  }
  /** The laboratory's salt figure of a loin, some days after it was sampled. */
  async function measured(batchId: string, sampled: Date, value: number, reported: Date) {
    at(reported);
    await ina.post(`/api/batches/${batchId}/measurements`, { kind: 'water-phase-salt', value, part: 'loin', laboratory: 'Ailmouth Food Laboratory', sampledDay: day(sampled), reportedDay: day(reported) });
  }
  const handOver = (packs: { id: string }[], to: object) => moss.post('/api/hand-overs', { packIds: packs.map((p) => p.id), to });

  at(ago(21));
  const cupboard: [string | null, string, number][] = [['coarse-sea-salt', '', 25_000], ['brown-sugar', '', 4000], [null, 'Bay leaf', 60]];
  await moss.post('/api/cure-stock/counts', { counts: cupboard.map(([ingredient, name, grams]) => ({ ingredient, name, grams })) });

  // Three weeks ago: a big day of mackerel, pooled, long since eaten or in the freezer.
  const first = await trip(20, 'Grey Selkie', 'Sound of Vatter', ['ina', 'moss', 'sunniva'], [
    { who: 'ina', species: 'atlantic-mackerel', grams: 11_200, count: 24, pooling: 'pooled' },
    { who: 'sunniva', species: 'atlantic-mackerel', grams: 6_400, count: 14, pooling: 'pooled' },
    { who: 'boat', species: 'atlantic-mackerel', grams: 9_000, count: 20, pooling: 'pooled' },
  ]);
  const batchA = await start(ago(19, 20), first);
  const readyA = await smoked(batchA.id, ago(19, 19), { maxCoreC: 68, holdMinutes: 44, coolHours: 4, logged: true });
  const packsA = await packAll(batchA.id, new Date(readyA.getTime() + hour), 320, 'vacuum', 'frozen');
  at(ago(16));
  await handOver(packsA.slice(0, 4), { memberId: idOf('sunniva') });
  await handOver(packsA.slice(4, 7), { memberId: idOf('dougal') });
  await handOver(packsA.slice(7, 9), { name: 'Harbour kitchen' });
  at(ago(14));
  await as('sunniva').post('/api/gifts', { packId: packsA[0]?.id, to: { name: 'Old Mr. Pell' } });

  await measured(batchA.id, readyA, 3.6, ago(13));

  // Pollack of one person, recalled a week later.
  const second = await trip(15, 'Little Auk', 'Ballast Bank', ['torvald', 'petra'], [{ who: 'torvald', species: 'pollack', grams: 8_300, count: 5 }]);
  const batchB = await start(ago(14, 20), second);
  const readyB = await smoked(batchB.id, ago(14, 19), { maxCoreC: 66, holdMinutes: 35, coolHours: 5 });
  const packsB = await packAll(batchB.id, new Date(readyB.getTime() + hour), 300, 'bag', 'frozen');
  at(ago(11));
  await handOver(packsB.slice(0, 3), { memberId: idOf('bran') });
  at(ago(6));
  await ina.post(`/api/batches/${batchB.id}/recall`, { reason: 'The cold shelf stood open for a night before these were frozen.' });

  // Sea trout that stays apart, its core never held long enough: on hold.
  const third = await trip(10, 'Marram', 'Mouth of the Ail', ['aelfrun', 'moss'], [{ who: 'aelfrun', species: 'sea-trout', grams: 5_200, count: 3 }]);
  const batchC = await start(ago(9, 20), third);
  const readyC = await smoked(batchC.id, ago(9, 19), { maxCoreC: 61, holdMinutes: 0, coolHours: 3 });
  await packAll(batchC.id, new Date(readyC.getTime() + hour), 280, 'vacuum', 'frozen');

  // This week's mackerel, ready to claim; and a dip made from some of it.
  const fourth = await trip(4, 'Grey Selkie', 'Sound of Vatter', ['ina', 'dougal', 'bran', 'lucja'], [
    { who: 'dougal', species: 'atlantic-mackerel', grams: 7_800, count: 17, pooling: 'pooled' },
    { who: 'Guest Olav', species: 'atlantic-mackerel', grams: 4_100, count: 9, pooling: 'pooled' },
    { who: 'lucja', species: 'atlantic-mackerel', grams: 5_300, count: 12, pooling: 'pooled' },
  ]);
  const batchD = await start(ago(3, 20), fourth);
  const readyD = await smoked(batchD.id, ago(3, 19), { maxCoreC: 67.5, holdMinutes: 41, coolHours: 4, logged: true });
  const packsD = await packAll(batchD.id, new Date(readyD.getTime() + hour), 240, 'tub', 'refrigerated', false);
  await moss.post(`/api/stations/${stations['Alder smoker']}/fits`, { draught: 'natural', add: { batchId: batchD.id, thicknessMm: 20, facesOpen: 'both', saltPct: 3, smokedHere: true } });
  await measured(batchD.id, readyD, 3.8, ago(1, 12));
  at(ago(1, 6));
  await as('sunniva').post('/api/claims', { packId: packsD[0]?.id });
  await as('bran').post('/api/claims', { packId: packsD[1]?.id, note: 'For the regatta supper' });
  const claim = await as('dougal').post('/api/claims', { packId: packsD[2]?.id });
  await ina.post(`/api/claims/${claim.id}/confirm`, { version: claim.version });
  at(ago(1, 4));
  const dip = await ina.post('/api/batches', {
    productKind: 'dip', name: 'Smoked mackerel dip', ingredients: 'Smoked mackerel (fish, salt, sugar), soured cream (milk), lemon, mustard', allergens: ['milk', 'mustard'],
    draws: packsD.slice(3, 6).map((p) => ({ source: { kind: 'pack', id: p.id } })),
  });
  const mixed = await moss.get(`/api/batches/${dip.id}`);
  at(ago(1, 3.5));
  await moss.post(`/api/batches/${dip.id}/stages`, { kind: 'mix', startedAt: iso(ago(1, 4)), finishedAt: iso(ago(1, 3.5)), cooledAt: iso(ago(1, 3.5)), addedG: 600, addedLastDay: day(ago(-6, 0)), massOutG: mixed.onHandGrams + 580 });
  await packAll(dip.id, ago(1, 3), 200, 'tub', 'refrigerated', false);

  // Under way now: one in the smoker, one in the tub, one on the bench, one only begun.
  const fifth = await trip(1, 'Little Auk', 'Outer Skerries', ['torvald', 'petra', 'aelfrun'], [
    { who: 'torvald', species: 'saithe', grams: 9_600, count: 6, pooling: 'pooled' },
    { who: 'petra', species: 'saithe', grams: 6_900, count: 4, pooling: 'pooled' },
    { who: 'aelfrun', species: 'atlantic-mackerel', grams: 5_600, count: 12 },
    { who: 'boat', species: 'haddock', grams: 4_400, count: 4, pooling: 'pooled' },
  ]);
  const [saithe1, saithe2, mackerel, haddock] = fifth;
  if (!saithe1 || !saithe2 || !mackerel || !haddock) throw new Error('the last trip has four landings');
  const running = async (batchId: string, kind: string, hoursIn: number, hoursLeft: number) => {
    at(ago(0, hoursIn));
    const { onHandGrams, origins } = await moss.get(`/api/batches/${batchId}`);
    const cured = kind === 'cure' ? { cure: brineFor(onHandGrams, origins[0].speciesCode) } : {};
    await moss.post(`/api/batches/${batchId}/stages`, { kind, ...cured, startedAt: iso(ago(0, hoursIn)), dueAt: iso(ago(0, -hoursLeft)) });
  };
  const book = (station: string, batchId: string, stageKind: string, from: number, to: number, amount: number) =>
    ina.post('/api/slots', { stationId: stations[station], batchId, stageKind, startsAt: iso(ago(0, -from)), endsAt: iso(ago(0, -to)), amount });
  const batchE = await start(ago(0, 20), [saithe1]);
  let t = await whole(batchE.id, 'prepare', ago(0, 19), 1, 0.55);
  t = await whole(batchE.id, 'cure', t, 6, 1.02);
  await whole(batchE.id, 'dry', t, 1.5, 0.97);
  await running(batchE.id, 'smoke', 2, 2.5);
  const smokingE = (await moss.get(`/api/batches/${batchE.id}`)).stages.at(-1);
  at(now);
  const soFar = smokeLog(ago(0, 2), 115, { speciesCode: 'saithe', thicknessMm: 20 });
  await readBy(batchE.id, smokingE.id, 'chamber', 'Rack 2', soFar.chamber);
  await readBy(batchE.id, smokingE.id, 'core', 'Largest piece', soFar.core);
  const batchF = await start(ago(0, 8), [mackerel]);
  await whole(batchF.id, 'prepare', ago(0, 7), 1, 0.6);
  await running(batchF.id, 'cure', 3, 3);
  const batchG = await start(ago(0, 5), [saithe2]);
  await running(batchG.id, 'prepare', 0.5, 0.75);
  const batchH = await start(ago(0, 1), [haddock]);
  at(now);
  await book('Alder smoker', batchE.id, 'smoke', -2, 2.5, 4);
  await book('Tub 1', batchF.id, 'cure', -3, 3, 3_400);
  await book('Drying rack', batchF.id, 'dry', 3.5, 5, 4);
  await book('Beech smoker', batchF.id, 'smoke', 5.5, 9.5, 5);
  await book('Tub 2', batchG.id, 'cure', 1, 7, 4_000);
  await book('Alder smoker', batchG.id, 'smoke', 24, 28, 5);
  await book('Bench', batchH.id, 'prepare', 20, 21, 4_400);

  // Back this morning, not yet in a batch, the trip still open.
  await trip(0, 'Marram', 'Mouth of the Ail', ['lucja', 'moss'], [{ who: 'lucja', species: 'sea-trout', grams: 3_900, count: 2, pooling: 'tray' }], true);
}
