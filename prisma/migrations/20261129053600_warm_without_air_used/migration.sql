-- hold.cold: a pack without air that was used up stood there as well, and so did one that was not frozen at once, as the rules have it.
CREATE OR REPLACE FUNCTION release_leaves_no_pack_without_air() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM pack WHERE batch_id = NEW.batch_id AND package_kind IN ('vacuum', 'jar') AND status <> 'discarded'
      AND (storage <> 'frozen' OR pack_frozen_late(id, packed_at, frozen_day))) THEN
    RAISE EXCEPTION 'a pack without air stood too warm' USING ERRCODE = '23514', CONSTRAINT = 'release_warm_without_air', TABLE = 'release';
  END IF;
  RETURN NULL;
END $$;
