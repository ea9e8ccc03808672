-- The instant that a batch's verdict and the days of its packs were reckoned for.
ALTER TABLE "batch" ADD COLUMN     "judged_at" TIMESTAMPTZ(3);

-- salt.rop and rop.freeze: only a laboratory's figure of the fish as it is keeps a pack without air unfrozen: of a sample from the day on which its
-- smoke ended, or else on which the last of it was taken from other lots, in the club's own days. An older figure counts against it still.
CREATE OR REPLACE FUNCTION pack_without_air_is_safe() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  zone text := (SELECT time_zone FROM club WHERE id = 1);
  since date;
  salt double precision;
  nitrite_low double precision;
  nitrite_high double precision;
BEGIN
  SELECT (max(finished_at) AT TIME ZONE zone)::date INTO since FROM stage WHERE batch_id = NEW.batch_id AND kind = 'smoke' AND cancelled_at IS NULL;
  IF since IS NULL THEN
    SELECT (max(created_at) AT TIME ZONE zone)::date INTO since FROM draw WHERE batch_id = NEW.batch_id AND landing_id IS NULL AND cancelled_at IS NULL;
  END IF;
  SELECT min(value) FILTER (WHERE kind = 'water-phase-salt' AND known_salt), min(value) FILTER (WHERE kind = 'nitrite' AND known_nitrite), max(value) FILTER (WHERE kind = 'nitrite')
    INTO salt, nitrite_low, nitrite_high
    FROM (SELECT kind, value, bool_or(kind = 'water-phase-salt' AND (since IS NULL OR sampled_day >= since)) OVER () AS known_salt,
        bool_or(kind = 'nitrite' AND (since IS NULL OR sampled_day >= since)) OVER () AS known_nitrite
      FROM measurement WHERE batch_id = NEW.batch_id AND withdrawn_at IS NULL AND part = 'loin') m;
  IF salt IS NULL OR salt < 3.0 OR (salt < 3.5 AND (nitrite_low IS NULL OR nitrite_low < 100 OR nitrite_high > 200)) THEN
    RAISE EXCEPTION 'a pack without air is frozen' USING ERRCODE = '23514', CONSTRAINT = 'pack_reduced_oxygen_frozen', TABLE = 'pack';
  END IF;
  RETURN NULL;
END $$;

-- The record tells nothing of when a batch was judged, as of other counters; else unchanged.
CREATE OR REPLACE FUNCTION write_record() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  old_row jsonb := CASE WHEN TG_OP <> 'INSERT' THEN to_jsonb(OLD) END;
  new_row jsonb := CASE WHEN TG_OP <> 'DELETE' THEN to_jsonb(NEW) END;
  before_ jsonb;
  after_ jsonb;
  hidden text;
  counters text[] := ARRAY['version', 'revision', 'drawn_grams', 'on_hand_grams', 'packed_grams', 'pack_count', 'booking_seq', 'names_revision', 'token_epoch', 'event_no', 'of_grams', 'judged_at'];
  any_row jsonb := COALESCE(new_row, old_row);
  subject text := COALESCE(any_row->>'id', any_row->>'code');
BEGIN
  IF TG_NARGS > 3 THEN
    FOR i IN 3..TG_NARGS - 1 LOOP
      hidden := TG_ARGV[i];
      IF old_row ? hidden AND new_row ? hidden AND old_row->hidden IS DISTINCT FROM new_row->hidden THEN
        old_row := jsonb_set(old_row, ARRAY[hidden], '"(before)"'); new_row := jsonb_set(new_row, ARRAY[hidden], '"(changed)"');
      ELSE
        old_row := old_row - hidden; new_row := new_row - hidden;
      END IF;
    END LOOP;
  END IF;
  old_row := old_row - counters; new_row := new_row - counters;
  IF TG_OP = 'UPDATE' THEN
    SELECT jsonb_object_agg(key, old_row->key), jsonb_object_agg(key, value) INTO before_, after_
      FROM jsonb_each(new_row) WHERE old_row->key IS DISTINCT FROM value;
    IF after_ IS NULL THEN RETURN NULL; END IF;
  ELSE
    before_ := old_row; after_ := new_row;
  END IF;
  INSERT INTO record_entry (at, actor_id, request_id, subject_kind, subject_id, parent_kind, parent_id, action, before, after, reason)
  VALUES (
    COALESCE(NULLIF(current_setting('tidelarder.at', true), '')::timestamptz, now()),
    NULLIF(current_setting('tidelarder.actor', true), '')::uuid,
    NULLIF(current_setting('tidelarder.request', true), ''),
    TG_ARGV[0], subject, NULLIF(TG_ARGV[1], ''),
    CASE WHEN TG_ARGV[2] <> '' THEN any_row->>TG_ARGV[2] END,
    CASE TG_OP WHEN 'INSERT' THEN 'created' WHEN 'UPDATE' THEN 'changed' ELSE 'removed' END,
    before_, after_, NULLIF(current_setting('tidelarder.reason', true), ''));
  RETURN NULL;
END $$;
