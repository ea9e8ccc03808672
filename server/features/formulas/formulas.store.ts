import type { Tx } from '../../platform/database/open.ts';

export type FormulaFields = { name: string; method: string; fishGrams: number; items: object; note: string; retiredAt: Date | null };

export const listFormulas = (db: Pick<Tx, 'formula'>) => db.formula.findMany({ orderBy: [{ name: 'asc' }] });
export const insertFormula = (tx: Tx, data: Omit<FormulaFields, 'retiredAt'>) => tx.formula.create({ data });

/** Waits for whoever changes the same formula, so that what is checked is what is changed. */
export async function holdFormula(tx: Tx, id: string) {
  await tx.$queryRaw`select id from formula where id = ${id}::uuid for no key update`;
  return tx.formula.findUnique({ where: { id } });
}

export const updateFormula = (tx: Tx, id: string, fields: FormulaFields) => tx.formula.update({ where: { id }, data: { ...fields, version: { increment: 1 } } });
