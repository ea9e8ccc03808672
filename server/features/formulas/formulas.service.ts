import type { z } from 'zod';
import type { Formula, FormulaBody, formulaPatch } from '../../contract/formulas.ts';
import { checkFormula } from '../../domain/cure/formula.ts';
import type { CureFormula } from '../../domain/cure/formula.ts';
import { DomainError } from '../../domain/working.ts';
import { need } from '../../platform/auth/access.ts';
import type { Context } from '../../platform/context.ts';
import { notFound } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
import * as store from './formulas.store.ts';

type Row = Awaited<ReturnType<typeof store.listFormulas>>[number];
const toFormula = (row: Row): Formula => ({
  id: row.id, name: row.name, method: row.method as Formula['method'], fishGrams: row.fishGrams, items: row.items as Formula['items'], note: row.note, retired: row.retiredAt !== null, version: row.version,
});

export async function listFormulas(context: Context): Promise<{ items: Formula[] }> {
  return { items: (await store.listFormulas(context.database.prisma)).map(toFormula) };
}

export async function addFormula(unit: Unit, body: FormulaBody): Promise<Formula> {
  need(unit.actor, 'crew');
  refuseUnusable(body);
  return unit.run(async (tx) => toFormula(await store.insertFormula(tx, body)));
}

export async function changeFormula(unit: Unit, id: string, patch: z.infer<typeof formulaPatch>): Promise<Formula> {
  need(unit.actor, 'crew');
  return unit.run(async (tx) => {
    const held = await store.holdFormula(tx, id);
    if (!held) throw notFound('This formula');
    const present = toFormula(held);
    if (present.version !== patch.version) throw refuseStale('formula', patch, present);
    // Method and ingredients are judged together: a change of one may spoil the other.
    const { name, method, fishGrams, items, note } = { ...present, ...patch };
    refuseUnusable({ name, method, fishGrams, items });
    const retiredAt = patch.retired === undefined ? held.retiredAt : patch.retired ? (held.retiredAt ?? unit.now) : null;
    return toFormula(await store.updateFormula(tx, id, { name, method, fishGrams, items, note, retiredAt }));
  });
}

/** The domain's refusal, its field named as the request names it. */
function refuseUnusable(formula: Pick<FormulaBody, 'name' | 'method' | 'fishGrams' | 'items'>): void {
  try {
    checkFormula(formula as CureFormula);
  } catch (cause) {
    if (cause instanceof DomainError) cause.field = cause.field.replace(/^formula\./, '');
    throw cause;
  }
}
