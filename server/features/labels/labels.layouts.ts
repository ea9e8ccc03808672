import type { z } from 'zod';
import type { geometry, labelLayoutBody, labelLayoutPatch, LabelLayoutView } from '../../contract/labels.ts';
import { checkLayout } from '../../domain/labels/check-layout.ts';
import { READY_LAYOUTS } from '../../domain/labels/layouts.ts';
import type { SheetLayout } from '../../domain/labels/layouts.ts';
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
export async function listLayouts(context: Context): Promise<{ items: LabelLayoutView[] }> {
  const own = await store.listLayouts(context.database.prisma);
  return { items: [...READY_LAYOUTS.map((layout) => ({ ...layout, version: null })), ...own.map(toLayout)] };
}

export async function addLayout(unit: Unit, body: z.infer<typeof labelLayoutBody>): Promise<LabelLayoutView> {
  need(unit.actor, 'crew');
  refuseReadyName(body.name);
  checkLayout({ ...body.geometry, id: 'new', name: body.name });
  return unit.run(async (tx) => toLayout(await store.insertLayout(tx, body)));
}

export async function changeLayout(unit: Unit, id: string, patch: z.infer<typeof labelLayoutPatch>): Promise<LabelLayoutView> {
  need(unit.actor, 'crew');
  const { version, retired, name, geometry: next } = patch;
  if (name) refuseReadyName(name);
  if (next) checkLayout({ ...next, id, name: name ?? id });
  return unit.run(async (tx) => {
    const fields = { ...(name ? { name } : {}), ...(next ? { geometry: next } : {}), ...(retired === undefined ? {} : { retiredAt: retired ? unit.now : null }) };
    const changed = await store.updateLayout(tx, id, version, fields);
    if (changed) return toLayout(changed);
    const present = await store.findLayout(tx, id);
    if (!present) throw notFound('This label layout');
    throw refuseStale('label layout', patch, { ...toLayout(present), geometry: present.geometry, retired: present.retiredAt !== null });
  });
}

function refuseReadyName(name: string): void {
  if (READY_LAYOUTS.some((layout) => layout.name.toLowerCase() === name.toLowerCase())) throw badField('name', name, 'A layout that comes with the service has that name.', 'Choose another name.', 'name-taken');
}

/** The layout of this id, ready-made or the club's own. */
export async function layoutOf(db: Pick<Tx, 'labelLayout'>, id: string): Promise<SheetLayout> {
  const ready = READY_LAYOUTS.find((layout) => layout.id === id);
  if (ready) return ready;
  const own = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i.test(id) ? await store.findLayout(db, id) : null;
  if (!own || own.retiredAt) throw badField('layoutId', id, 'There is no such label layout.', 'Choose one from the list.', 'not-found');
  return { ...(own.geometry as Geometry), id: own.id, name: own.name };
}
