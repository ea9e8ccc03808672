import type { Day, PackageKind, Storage } from '../../domain/working.ts';
import type { SheetLayout } from '../../domain/labels/layouts.ts';
import type { RawQuery, Tx } from '../../platform/database/open.ts';

export type LayoutRow = Awaited<ReturnType<typeof listLayouts>>[number];
export const listLayouts = (db: Pick<Tx, 'labelLayout'>) => db.labelLayout.findMany({ where: { retiredAt: null }, orderBy: [{ name: 'asc' }] });
export const findLayout = (db: Pick<Tx, 'labelLayout'>, id: string) => db.labelLayout.findUnique({ where: { id } });
export const findRemoved = (tx: Tx, name: string) => tx.labelLayout.findFirst({ where: { name, retiredAt: { not: null } } });
export const insertLayout = (tx: Tx, data: { name: string; geometry: object }) => tx.labelLayout.create({ data });
/** Changes the layout if it still has this version; null when it has another, or is not there. */
export async function updateLayout(tx: Tx, id: string, version: number, fields: { name?: string; geometry?: object; retiredAt?: Date | null }) {
  const [row] = await tx.labelLayout.updateManyAndReturn({ where: { id, version }, data: { ...fields, version: { increment: 1 } } });
  return row ?? null;
}

export type LabelRow = {
  id: string; batchId: string; lot: string; packNo: number; product: string; grams: number; packageKind: PackageKind; storage: Storage; frozenDay: Day | null; thawedDay: Day | null;
  smokeDay: Day | null; lastDay: Day | null; dateKind: 'use-by' | 'best-before'; status: string; verdict: 'hold' | 'clear' | 'do-not-share'; recalled: boolean;
  publicCode: string; printCount: number;
};
const columns = `p.id, b.id as "batchId", b.lot, p.pack_no as "packNo", b.name as product, p.grams, p.package_kind as "packageKind", p.storage, p.frozen_day::text as "frozenDay",
  p.thawed_day::text as "thawedDay", b.smoke_day::text as "smokeDay", p.last_day::text as "lastDay", p.date_kind as "dateKind", p.status, b.verdict,
  b.recalled_at is not null as recalled, p.public_code as "publicCode", p.print_count as "printCount"`;

const lockSql = `select id from batch where id in (select batch_id from pack where id = any($1::uuid[])) order by id for no key update`;
const lockPacksSql = `select id from pack where id = any($1::uuid[]) order by id for no key update`;
const packsSql = `select ${columns} from pack p join batch b on b.id = p.batch_id where p.id = any($1::uuid[])`;
/** The packs as they are now, held until the run is written. */
export async function holdPacks(query: RawQuery, ids: string[]): Promise<LabelRow[]> {
  await query('label-lock-batches', lockSql, [ids]);
  await query('label-lock-packs', lockPacksSql, [ids]);
  return query<LabelRow>('label-packs', packsSql, [ids]);
}

export type ClubWords = { name: string; timeZone: string; units: 'metric' | 'us'; saleWords: string };
const clubSql = `select name, time_zone as "timeZone", units, sale_words as "saleWords" from club where id = 1`;
export async function clubWords(query: RawQuery): Promise<ClubWords> {
  const [row] = await query<ClubWords>('label-club', clubSql);
  return row!;
}

export type NewRun = { id: string; layout: SheetLayout; startAt: number; copies: number; by: string; now: Date; packs: { id: string; reprint: number }[] };
const runSql = `insert into label_run (id, layout, start_at, copies, created_by_id, created_at) values ($1::uuid, $2::jsonb, $3::int, $4::int, $5::uuid, $6::timestamptz)`;
const runPacksSql = `insert into label_run_pack (run_id, pack_id, position, reprint) select $1::uuid, n.pack_id, n.position, n.reprint
  from unnest($2::uuid[], $3::int[], $4::int[]) as n(pack_id, position, reprint)`;
const countSql = `update pack set print_count = print_count + 1 where id = any($1::uuid[])`;
/** Keeps what is printed where, and counts each pack's print. A print is no edit: the pack's version stays. */
export async function insertRun(query: RawQuery, run: NewRun): Promise<void> {
  const ids = run.packs.map((pack) => pack.id);
  await query('label-run-insert', runSql, [run.id, JSON.stringify(run.layout), run.startAt, run.copies, run.by, run.now]);
  await query('label-run-packs', runPacksSql, [run.id, ids, run.packs.map((_pack, i) => i + 1), run.packs.map((pack) => pack.reprint)]);
  await query('label-count', countSql, [ids]);
}

export type RunRow = { layout: SheetLayout; startAt: number; copies: number; createdAt: Date };
const oneRunSql = `select layout, start_at as "startAt", copies, created_at as "createdAt" from label_run where id = $1::uuid`;
const packsOfRunSql = `select ${columns}, r.reprint from label_run_pack r join pack p on p.id = r.pack_id join batch b on b.id = p.batch_id where r.run_id = $1::uuid order by r.position`;
export async function findRun(query: RawQuery, id: string): Promise<{ run: RunRow; packs: (LabelRow & { reprint: number })[] } | null> {
  const [run] = await query<RunRow>('label-run', oneRunSql, [id]);
  return run ? { run, packs: await query<LabelRow & { reprint: number }>('label-run-of', packsOfRunSql, [id]) } : null;
}
