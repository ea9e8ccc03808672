import { z } from 'zod';
import { id, instant, localTime, name, note, personRef, stageKind, version } from './common.ts';
import { learntFit } from './smokers.ts';

export const stationKind = z.enum(['brine-tub', 'refrigerator', 'drying-rack', 'smoker', 'bench', 'freezer']);
export const capacityUnit = z.enum(['grams', 'racks', 'millilitres']);
const capacity = z.int().min(1, 'A capacity is above zero').max(1_000_000_000);

export const station = z.object({
  id,
  name: z.string(),
  kind: stationKind,
  capacityUnit,
  capacity: z.int(),
  opensAt: localTime.nullable(),
  closesAt: localTime.nullable(),
  note: z.string(),
  retired: z.boolean(),
  /** The stages that this kind of station serves. */
  serves: z.array(stageKind),
  /** What a smoker has learnt from its own smokes. */
  fit: learntFit.nullable(),
  version,
});
export const stationList = z.object({ items: z.array(station) });
const hours = (s: { opensAt?: string | null | undefined; closesAt?: string | null | undefined }) =>
  (s.opensAt ?? null) === null ? (s.closesAt ?? null) === null : (s.closesAt ?? null) !== null;
export const stationBody = z
  .strictObject({
    name,
    kind: stationKind,
    capacityUnit,
    capacity,
    opensAt: localTime.nullable().default(null),
    closesAt: localTime.nullable().default(null),
    note: note.default(''),
  })
  .refine(hours, { message: 'Give both an opening and a closing time, or neither', path: ['closesAt'] });
export const stationPatch = z
  .strictObject({
    version,
    name: name.optional(),
    capacity: capacity.optional(),
    opensAt: localTime.nullable().optional(),
    closesAt: localTime.nullable().optional(),
    note: note.optional(),
    retired: z.boolean().optional(),
  })
  .refine((s) => (s.opensAt === undefined) === (s.closesAt === undefined), { message: 'Change both times together', path: ['closesAt'] });

export const slot = z.object({
  id,
  station: z.object({ id, name: z.string(), kind: stationKind, capacityUnit, capacity: z.int() }),
  batch: z.object({ id, lot: z.string(), name: z.string() }),
  stageKind,
  startsAt: instant,
  endsAt: instant,
  amount: z.int(),
  note: z.string(),
  createdBy: personRef,
  version,
});
export const slotList = z.object({ items: z.array(slot) });
export const slotQuery = z.object({ from: instant, to: instant, stationId: id.optional(), batchId: id.optional() });
export const slotBody = z.strictObject({
  stationId: id,
  batchId: id,
  stageKind,
  startsAt: instant,
  endsAt: instant,
  /** In the station's capacity unit. */
  amount: z.int().min(1, 'A slot takes at least 1 of the capacity').max(1_000_000_000),
  note: note.default(''),
});
export const slotPatch = z.strictObject({
  version,
  stationId: id.optional(),
  startsAt: instant.optional(),
  endsAt: instant.optional(),
  amount: z.int().min(1).max(1_000_000_000).optional(),
  note: note.optional(),
  cancelled: z.boolean().optional(),
});

export type Station = z.infer<typeof station>;
export type StationKind = z.infer<typeof stationKind>;
export type Slot = z.infer<typeof slot>;
