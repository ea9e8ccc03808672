-- As before, but a cure that was recorded after the figure does not stand between it and the lot before: the sample may be of the fish as it came from there. Of its own brine it may be too.
CREATE OR REPLACE FUNCTION cures_behind(start uuid, figure_at timestamptz) RETURNS SETOF uuid LANGUAGE sql STABLE AS $$
  WITH RECURSIVE way(batch_id, before_no) AS (
    SELECT start, 2147483647
    UNION
    SELECT coalesce(d.source_batch_id, p.batch_id), CASE WHEN d.source_pack_id IS NULL THEN d.event_no ELSE 2147483647 END
    FROM way JOIN draw d ON d.batch_id = way.batch_id AND d.cancelled_at IS NULL AND d.landing_id IS NULL AND d.event_no < way.before_no AND d.created_at <= figure_at
      LEFT JOIN pack p ON p.id = d.source_pack_id
    WHERE NOT EXISTS (SELECT FROM stage s WHERE s.batch_id = way.batch_id AND s.kind = 'cure' AND s.cancelled_at IS NULL AND s.event_no > d.event_no AND s.event_no < way.before_no AND s.created_at <= figure_at)
  )
  SELECT DISTINCT s.id FROM way JOIN stage s ON s.batch_id = way.batch_id AND s.kind = 'cure' AND s.cancelled_at IS NULL AND s.event_no < way.before_no
$$;
