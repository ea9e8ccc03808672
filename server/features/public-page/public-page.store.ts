import type { Day, PackageKind, ProductKind, Storage } from '../../domain/working.ts';
import type { RawQuery } from '../../platform/database/open.ts';

export type PublicRow = {
  clubName: string; saleWords: string; contactWords: string; timeZone: string; id: string; batchId: string; product: string; productKind: ProductKind; lot: string; packNo: number; grams: number;
  packageKind: PackageKind; storage: Storage; frozenDay: Day | null; thawedDay: Day | null; smokeDay: Day | null; lastDay: Day | null; dateKind: 'use-by' | 'best-before';
  status: string; verdict: 'hold' | 'clear' | 'do-not-share'; recalled: boolean; recallReason: string | null;
};

const sql = `select k.name as "clubName", k.sale_words as "saleWords", k.contact_words as "contactWords", k.time_zone as "timeZone", p.id, b.id as "batchId", b.name as product, b.product_kind as "productKind",
  b.lot, p.pack_no as "packNo", p.grams, p.package_kind as "packageKind", p.storage, p.frozen_day::text as "frozenDay", p.thawed_day::text as "thawedDay",
  b.smoke_day::text as "smokeDay", p.last_day::text as "lastDay", p.date_kind as "dateKind", p.status, b.verdict, b.recalled_at is not null as recalled, b.recall_reason as "recallReason"
  from pack p join batch b on b.id = p.batch_id cross join club k where p.public_code = $1::text`;

/** What is told of a pack to anybody who has its code; nobody's name is read. */
export async function findByCode(query: RawQuery, code: string): Promise<PublicRow | null> {
  const [row] = await query<PublicRow>('public-pack', sql, [code]);
  return row ?? null;
}

export type Known = { name: string; recipient: boolean };
const namesSql = `select name, false as recipient from member union select catcher_guest, false from landing where catcher_guest is not null
  union select to_name, true from hand_over where to_name is not null`;
/** Every name that a reason might mention: members, guests who caught fish, recipients. Read to keep them off the page. */
export const knownNames = (query: RawQuery): Promise<Known[]> => query('public-names', namesSql, []);
