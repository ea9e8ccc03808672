-- Brown sugar stood on the shelf twice, loose and packed, which is how a cup is filled with it and not two sugars; and perhaps once more by its
-- bare name. Its stocks become one, by weight, as of the last count of any: what each was counted at, less what cures took from it until
-- then. The row that was counted last stays and the others come off the list, so the record goes on telling each count.
SELECT set_config('tidelarder.reason', 'Loose and packed brown sugar are one thing on the shelf', true);
WITH kinds(kind, called) AS (VALUES ('brown-sugar-packed', 'brown sugar, packed'), ('brown-sugar-unpacked', 'brown sugar, loose'), (NULL, 'brown sugar')),
  stocks AS (
    SELECT i.*, k.kind, k.called, max(i.counted_at) OVER () AS last_at, row_number() OVER (ORDER BY i.counted_at DESC, i.id) AS place
    FROM cure_stock i JOIN kinds k ON i.ingredient = k.kind OR (i.ingredient IS NULL AND k.kind IS NULL AND lower(trim(i.name)) = k.called) WHERE i.retired_at IS NULL),
  taken AS (
    SELECT s.id, sum(t.grams) AS grams FROM stocks s JOIN stage g ON g.kind = 'cure' AND g.cancelled_at IS NULL JOIN cure c ON c.stage_id = g.id, LATERAL (
      SELECT c.sugar_grams AS grams WHERE c.sugar_kind = s.kind
      UNION ALL SELECT (o->>'grams')::int FROM jsonb_array_elements(c.others) o WHERE lower(o->>'name') = lower(s.name)) t
    WHERE g.started_at >= date_trunc('minute', s.counted_at) AND (g.started_at >= s.counted_at OR c.created_at > s.counted_at)
      AND NOT (g.started_at >= date_trunc('minute', s.last_at) AND (g.started_at >= s.last_at OR c.created_at > s.last_at))
    GROUP BY s.id),
  together AS (SELECT least(1000000, greatest(0, sum(s.grams) - coalesce(sum(t.grams), 0)))::int AS grams FROM stocks s LEFT JOIN taken t ON t.id = s.id)
UPDATE cure_stock i SET
  ingredient = CASE WHEN s.place = 1 THEN 'brown-sugar' ELSE i.ingredient END, name = CASE WHEN s.place = 1 THEN 'Brown sugar' ELSE i.name END,
  grams = CASE WHEN s.place = 1 THEN together.grams ELSE i.grams END, retired_at = CASE WHEN s.place = 1 THEN NULL ELSE now() END, version = i.version + 1
FROM stocks s, together WHERE i.id = s.id;
SELECT set_config('tidelarder.reason', '', true);

ALTER TABLE "cure_stock" ADD CONSTRAINT "cure_stock_brown_sugar_once" CHECK ("retired_at" IS NOT NULL OR "ingredient" IS NULL OR "ingredient" NOT LIKE 'brown-sugar-%');
