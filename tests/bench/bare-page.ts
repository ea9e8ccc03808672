// The reference for a batch's page: one route, one prepared query, and nothing else. Started as a process of its own.
import Fastify from 'fastify';
import pg from 'pg';

/** The packs are read from the same rows and made into the same text by the database; the rest of the page is stored text. */
const pageSql = `select page.start || packs.lines || page.rest as body
  from bench_page page cross join lateral (
    select string_agg(row_to_json(line)::text, ',' order by line."packNo") as lines from (
      select p.id, p.batch_id as "batchId", b.lot, p.pack_no as "packNo", p.tray_no as "trayNo", b.name as product, p.grams, p.package_kind as "packageKind", p.storage, p.last_day as "lastDay",
        p.date_kind as "dateKind", p.status, b.verdict, b.not_met as "notMet", b.recalled_at is not null as recalled, coalesce(h.name, p.recipient) as holder,
        case when c.id is not null then (select row_to_json(x) from (select c.id, (select row_to_json(y) from (select c.member_id as id, cm.name) y) as member, c.status, c.version) x) end as claim,
        p.holder_id is not distinct from page.reader or (p.holder_id is null and c.member_id is not distinct from page.reader) as mine, p.print_count as "printCount", p.version
      from pack p join batch b on b.id = p.batch_id left join member h on h.id = p.holder_id
        left join claim c on c.pack_id = p.id and c.status in ('asked', 'confirmed', 'handed-over') left join member cm on cm.id = c.member_id
      where p.batch_id = page.batch_id) line) packs
  where page.batch_id = $1`;

const pool = new pg.Pool({ connectionString: process.env['DATABASE_URL'], max: 20 });
pool.on('error', () => {});
const app = Fastify({ logger: false });
app.get<{ Params: { id: string } }>('/bare/:id', async (request, reply) => {
  const { rows } = await pool.query<{ body: string }>({ name: 'page', text: pageSql, values: [request.params.id] });
  return reply.header('content-type', 'application/json; charset=utf-8').send(rows[0]!.body);
});
process.on('SIGTERM', () => {
  void app.close().then(() => pool.end()).then(() => process.exit(0));
});
// Whoever started this may be killed: without it there is nothing to wait for.
process.on('disconnect', () => process.exit(0));
const address = await app.listen({ host: '127.0.0.1', port: 0 });
process.send!({ port: Number(new URL(address).port) });
