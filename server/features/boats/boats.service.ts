import type { z } from 'zod';
import type { Boat, boatBody, boatPatch } from '../../contract/catch.ts';
import { need } from '../../platform/auth/access.ts';
import type { Context } from '../../platform/context.ts';
import { notFound } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
import * as store from './boats.store.ts';

type Row = Awaited<ReturnType<typeof store.listBoats>>[number];
const toBoat = (row: Row): Boat => ({ id: row.id, name: row.name, note: row.note, retired: row.retiredAt !== null, version: row.version });

export async function listBoats(context: Context): Promise<{ items: Boat[] }> {
  return { items: (await store.listBoats(context.database.prisma)).map(toBoat) };
}

export async function addBoat(unit: Unit, body: z.infer<typeof boatBody>): Promise<Boat> {
  need(unit.actor, 'captain');
  return unit.run(async (tx) => toBoat(await store.insertBoat(tx, body)));
}

export async function changeBoat(unit: Unit, id: string, patch: z.infer<typeof boatPatch>): Promise<Boat> {
  need(unit.actor, 'captain');
  const { version, retired, ...fields } = patch;
  return unit.run(async (tx) => {
    const retiredAt = retired === undefined ? {} : { retiredAt: retired ? unit.now : null };
    const changed = await store.updateBoat(tx, id, version, { ...fields, ...retiredAt });
    if (changed) return toBoat(changed);
    const present = await store.findBoat(tx, id);
    if (!present) throw notFound('This boat');
    throw refuseStale('boat', patch, toBoat(present));
  });
}
