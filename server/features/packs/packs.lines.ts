import type { z } from 'zod';
import type { claimStatus, PackLine } from '../../contract/packs.ts';
import { isCrew } from '../../platform/auth/access.ts';
import type { Actor } from '../../platform/context.ts';

export type PackRow = Omit<PackLine, 'holder' | 'claim' | 'mine'> & {
  holderId: string | null;
  holderName: string | null;
  claimId: string | null;
  claimMemberId: string | null;
  claimMemberName: string | null;
  claimStatus: z.infer<typeof claimStatus> | null;
  claimVersion: number | null;
};

// Names come by subqueries: as joins they would make planning take longer than running.
/** What a row of packs is read from: `p` is the pack and `b` its batch. */
export const lineColumns = `p.id, p.batch_id as "batchId", b.lot, p.pack_no as "packNo", p.tray_no as "trayNo", b.name as product, p.grams,
  p.package_kind as "packageKind", p.storage, p.last_day::text as "lastDay", p.date_kind as "dateKind", p.status, b.verdict, b.not_met as "notMet", b.recalled_at is not null as recalled,
  p.holder_id as "holderId", coalesce((select m.name from member m where m.id = p.holder_id), p.recipient) as "holderName", c.id as "claimId", c.member_id as "claimMemberId", (select m.name from member m where m.id = c.member_id) as "claimMemberName",
  c.status as "claimStatus", c.version as "claimVersion", p.print_count as "printCount", p.version`;
/** The one claim of the pack that stands. */
export const lineJoins = `left join claim c on c.pack_id = p.id and c.status in ('asked', 'confirmed', 'handed-over')`;

/** The row as the actor may see it: who has or claims it is told to crew, captains and whoever it is themselves. */
export function toPackLine(row: PackRow, actor: Actor): PackLine {
  const holds = row.holderId === actor.id;
  const claims = row.claimMemberId === actor.id;
  const { holderId: _holder, holderName, claimId, claimMemberId, claimMemberName, claimStatus, claimVersion, ...line } = row;
  const claim = claimId && claimMemberId && claimStatus && claimVersion && (claims || isCrew(actor))
    ? { id: claimId, member: { id: claimMemberId, name: claimMemberName ?? '' }, status: claimStatus, version: claimVersion }
    : null;
  return { ...line, holder: holds || isCrew(actor) ? holderName : null, claim, mine: holds || (claims && row.status === 'claimed') };
}

/** The number as it is printed: the lot, then the pack. */
export const packCode = (pack: { lot: string; packNo: number }) => `${pack.lot}-${pack.packNo}`;
