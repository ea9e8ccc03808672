import { STOCK_KIND_NAMED } from '../../domain/cure/stock.ts';
import type { RawQuery } from '../../platform/database/open.ts';

export type StockRow = { id: string; ingredient: string | null; name: string; countedGrams: number; usedGrams: number; countedAt: Date; countedById: string; countedByName: string };

/**
 * What cures took counts from the last count on, by when the cure began: an undone stage takes nothing, a corrected one what
 * it says now, another ingredient by its name, which may be that of a known kind, and one that is recorded late but began
 * before the count nothing more. Times are typed to the minute, so in the minute of the count what was recorded after it counts.
 */
const listSql = `select i.id, i.ingredient, i.name, i.grams as "countedGrams", i.counted_at as "countedAt", i.counted_by_id as "countedById", m.name as "countedByName", coalesce(used.grams, 0)::float8 as "usedGrams"
  from cure_stock i join member m on m.id = i.counted_by_id left join lateral (
    select sum(taken.grams) as grams from cure c join stage s on s.id = c.stage_id, lateral (
      select c.salt_grams as grams where $1::jsonb->>c.salt_kind = i.ingredient
      union all select c.sugar_grams where $1::jsonb->>c.sugar_kind = i.ingredient
      union all select (o->>'grams')::int from jsonb_array_elements(c.others) o where coalesce($1::jsonb->>lower(trim(o->>'name')), lower(trim(o->>'name'))) = coalesce(i.ingredient, lower(i.name))
    ) taken
    where s.cancelled_at is null and s.started_at >= date_trunc('minute', i.counted_at) and (s.started_at >= i.counted_at or c.created_at > i.counted_at)
  ) used on true
  where i.retired_at is null order by i.ingredient is null, i.name, i.id`;
/** What each kind and written name stands for on the shelf. */
const shelf = JSON.stringify(Object.fromEntries(STOCK_KIND_NAMED));
export const listStock = (query: RawQuery) => query<StockRow>('stock-list', listSql, [shelf]);

const knownSql = `insert into cure_stock (id, ingredient, name, grams, counted_by_id, counted_at) values (gen_random_uuid(), $1, $2, $3, $4, $5)
  on conflict (ingredient) do update set name = $2, grams = $3, counted_by_id = $4, counted_at = $5, retired_at = null, version = cure_stock.version + 1`;
const otherSql = `insert into cure_stock (id, ingredient, name, grams, counted_by_id, counted_at) values (gen_random_uuid(), $1, $2, $3, $4, $5)
  on conflict (lower(name)) where ingredient is null do update set name = $2, grams = $3, counted_by_id = $4, counted_at = $5, retired_at = null, version = cure_stock.version + 1`;
export const putCount = (query: RawQuery, c: { ingredient: string | null; name: string; grams: number }, by: string, at: Date) =>
  query(c.ingredient === null ? 'stock-count-other' : 'stock-count', c.ingredient === null ? otherSql : knownSql, [c.ingredient, c.name, c.grams, by, at]);

const retireSql = `update cure_stock set retired_at = coalesce(retired_at, $3), version = version + 1 where ingredient = $1 or ($1::text is null and ingredient is null and lower(name) = lower($2))`;
export const retireStock = (query: RawQuery, c: { ingredient: string | null; name: string }, at: Date) => query('stock-retire', retireSql, [c.ingredient, c.name, at]);
