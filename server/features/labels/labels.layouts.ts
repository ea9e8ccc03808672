import type { z } from 'zod';
import { geometry } from '../../contract/labels.ts';
import type { labelLayoutBody, labelLayoutPatch, LabelLayoutView } from '../../contract/labels.ts';
import { checkLayout } from '../../domain/labels/check-layout.ts';
import { READY_LAYOUTS } from '../../domain/labels/layouts.ts';
import type { SheetLayout } from '../../domain/labels/layouts.ts';
import { DomainError } from '../../domain/working.ts';
import { need } from '../../platform/auth/access.ts';
import type { Context } from '../../platform/context.ts';
import type { Tx } from '../../platform/database/open.ts';
import { badField, notFound } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
import * as store from './labels.store.ts';

type Geometry = z.infer<typeof geometry>;

const toLayout = (row: store.LayoutRow): LabelLayoutView => ({ ...(row.geometry as Geometry), id: row.id, name: row.name, version: row.version });

/** The layouts that come with the service, then the club's own. */
export async function listLayouts(context: Context): Promise<{ items: LabelLayoutView[]; codesLeadTo: string }> {
  const own = await store.listLayouts(context.database.prisma);
  return { items: [...READY_LAYOUTS.map((layout) => ({ ...layout, version: null })), ...own.map(toLayout)], codesLeadTo: context.config.publicUrl };
}

/** Adds a layout. One that was removed and had this name comes back with the new numbers, since its name is kept for its prints. */
export async function addLayout(unit: Unit, body: z.infer<typeof labelLayoutBody>): Promise<LabelLayoutView> {
  need(unit.actor, 'crew');
  refuseReadyName(body.name);
  checkNumbers(body.geometry, body.name);
  return unit.run(async (tx) => {
    const removed = await store.findRemoved(tx, body.name);
    const back = removed && (await store.updateLayout(tx, removed.id, removed.version, { geometry: body.geometry, retiredAt: null }));
    return toLayout(back ?? (await store.insertLayout(tx, body)));
  });
}

export async function changeLayout(unit: Unit, id: string, patch: z.infer<typeof labelLayoutPatch>): Promise<LabelLayoutView> {
  need(unit.actor, 'crew');
  const { version, retired, name, geometry: next } = patch;
  if (name) refuseReadyName(name);
  if (next) checkNumbers(next, name ?? id);
  return unit.run(async (tx) => {
    const removed = name ? await store.findRemoved(tx, name) : null;
    if (removed && removed.id !== id) throw badField('name', name, 'A removed label sheet has that name.', 'Choose another name.', 'name-taken');
    const fields = { ...(name ? { name } : {}), ...(next ? { geometry: next } : {}), ...(retired === undefined ? {} : { retiredAt: retired ? unit.now : null }) };
    const changed = await store.updateLayout(tx, id, version, fields);
    if (changed) return toLayout(changed);
    const present = await store.findLayout(tx, id);
    if (!present) throw notFound('This label sheet');
    throw refuseStale('label sheet', patch, { ...toLayout(present), geometry: geometry.parse(present.geometry), retired: present.retiredAt !== null });
  });
}

/** The domain names the bad number; the request has it inside its geometry. */
function checkNumbers(numbers: Geometry, name: string): void {
  try {
    checkLayout({ ...numbers, id: 'new', name });
  } catch (cause) {
    if (cause instanceof DomainError && cause.field in numbers) cause.field = `geometry.${cause.field}`;
    throw cause;
  }
}

function refuseReadyName(name: string): void {
  if (READY_LAYOUTS.some((layout) => layout.name.toLowerCase() === name.toLowerCase())) throw badField('name', name, 'A label sheet that comes with the service has that name.', 'Choose another name.', 'name-taken');
}

/** The layout of this id, ready-made or the club's own. */
export async function layoutOf(db: Pick<Tx, 'labelLayout'>, id: string): Promise<SheetLayout> {
  const ready = READY_LAYOUTS.find((layout) => layout.id === id);
  if (ready) return ready;
  const own = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i.test(id) ? await store.findLayout(db, id) : null;
  if (!own || own.retiredAt) throw badField('layoutId', id, 'There is no such label sheet.', 'Choose one from the list.', 'not-found');
  return { ...(own.geometry as Geometry), id: own.id, name: own.name };
}
