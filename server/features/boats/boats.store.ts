import type { Tx } from '../../platform/database/open.ts';

type Fields = { name?: string | undefined; note?: string | undefined; retiredAt?: Date | null | undefined };

export const listBoats = (db: Pick<Tx, 'boat'>) => db.boat.findMany({ orderBy: [{ name: 'asc' }] });
export const findBoat = (tx: Tx, id: string) => tx.boat.findUnique({ where: { id } });
export const insertBoat = (tx: Tx, data: { name: string; note: string }) => tx.boat.create({ data });

/** Changes the boat if it still has this version; null when it has another, or is not there. */
export async function updateBoat(tx: Tx, id: string, version: number, fields: Fields) {
  const [row] = await tx.boat.updateManyAndReturn({ where: { id, version }, data: { ...(fields as object), version: { increment: 1 } } });
  return row ?? null;
}
