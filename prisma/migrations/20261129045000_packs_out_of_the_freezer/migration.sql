-- CreateTable
CREATE TABLE "pack_out" (
    "id" BIGSERIAL NOT NULL,
    "pack_id" UUID NOT NULL,
    "frozen_day" DATE,
    "thawed_day" DATE,
    "out_day" DATE NOT NULL,

    CONSTRAINT "pack_out_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "pack_out_pack_id_idx" ON "pack_out"("pack_id");

-- AddForeignKey
ALTER TABLE "pack_out" ADD CONSTRAINT "pack_out_pack_id_fkey" FOREIGN KEY ("pack_id") REFERENCES "pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- Written by hand from here on.

-- date.freeze: a thaw that was recorded stays on record, whatever is written at the pack later.
CREATE FUNCTION pack_out_of_freezer() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  was_frozen boolean := TG_OP = 'UPDATE';
BEGIN
  IF was_frozen THEN was_frozen := OLD.storage = 'frozen' OR OLD.frozen_day IS NOT NULL; END IF;
  IF NEW.storage = 'frozen' OR NOT (was_frozen OR NEW.frozen_day IS NOT NULL OR NEW.thawed_day IS NOT NULL) THEN RETURN NULL; END IF;
  IF TG_OP = 'UPDATE' AND (NEW.storage, NEW.frozen_day, NEW.thawed_day) IS NOT DISTINCT FROM (OLD.storage, OLD.frozen_day, OLD.thawed_day) THEN RETURN NULL; END IF;
  INSERT INTO pack_out (pack_id, frozen_day, thawed_day, out_day)
    SELECT NEW.id, NEW.frozen_day, NEW.thawed_day, (COALESCE(NULLIF(current_setting('tidelarder.at', true), '')::timestamptz, now()) AT TIME ZONE c.time_zone)::date FROM club c LIMIT 1;
  RETURN NULL;
END $$;
CREATE TRIGGER pack_out_of_freezer AFTER INSERT OR UPDATE OF storage, frozen_day, thawed_day ON pack
  FOR EACH ROW EXECUTE FUNCTION pack_out_of_freezer();

CREATE FUNCTION pack_out_is_final() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'a time out of the freezer is never altered' USING ERRCODE = '23514', CONSTRAINT = 'pack_out_final', TABLE = 'pack_out';
END $$;
CREATE TRIGGER pack_out_final BEFORE UPDATE OR DELETE ON pack_out FOR EACH ROW EXECUTE FUNCTION pack_out_is_final();

-- rop.freeze: one that was frozen later than the day it was packed, or was out of the freezer, was not frozen at once. Then it
-- rests on a laboratory's figure for salt, as one that is not frozen does.
CREATE FUNCTION pack_frozen_late(pack_ uuid, packed_at_ timestamptz, frozen_day_ date) RETURNS boolean LANGUAGE sql STABLE AS $$
  SELECT EXISTS (SELECT 1 FROM club c WHERE frozen_day_ > (packed_at_ AT TIME ZONE c.time_zone)::date) OR EXISTS (SELECT 1 FROM pack_out o WHERE o.pack_id = pack_)
$$;
CREATE TRIGGER pack_frozen_at_once AFTER INSERT OR UPDATE OF package_kind, storage, frozen_day ON pack
  FOR EACH ROW WHEN (NEW.package_kind IN ('vacuum', 'jar') AND NEW.storage = 'frozen' AND pack_frozen_late(NEW.id, NEW.packed_at, NEW.frozen_day))
  EXECUTE FUNCTION pack_without_air_is_safe();

-- What the record tells of packs that there are.
DO $$
DECLARE
  e record;
  pack_ text := '';
  was jsonb;
  is_ jsonb;
BEGIN
  FOR e IN SELECT r.subject_id, r.at, r.after FROM record_entry r WHERE r.subject_kind = 'pack' AND r.action IN ('created', 'changed') AND r.after IS NOT NULL ORDER BY r.subject_id, r.id LOOP
    IF e.subject_id <> pack_ THEN pack_ := e.subject_id; is_ := '{}'; END IF;
    was := is_;
    is_ := was || e.after;
    CONTINUE WHEN NOT e.after ?| ARRAY['storage', 'frozen_day', 'thawed_day'] OR is_->>'storage' IS NULL OR is_->>'storage' = 'frozen';
    CONTINUE WHEN COALESCE(was->>'storage', '') <> 'frozen' AND was->>'frozen_day' IS NULL AND is_->>'frozen_day' IS NULL AND is_->>'thawed_day' IS NULL;
    INSERT INTO pack_out (pack_id, frozen_day, thawed_day, out_day)
      SELECT p.id, (is_->>'frozen_day')::date, (is_->>'thawed_day')::date, (e.at AT TIME ZONE c.time_zone)::date FROM pack p CROSS JOIN club c WHERE p.id = e.subject_id::uuid;
  END LOOP;
  -- A pack whose entries the record no longer has.
  INSERT INTO pack_out (pack_id, frozen_day, thawed_day, out_day)
    SELECT p.id, p.frozen_day, p.thawed_day, (now() AT TIME ZONE c.time_zone)::date FROM pack p CROSS JOIN club c
    WHERE p.storage <> 'frozen' AND (p.frozen_day IS NOT NULL OR p.thawed_day IS NOT NULL) AND NOT EXISTS (SELECT 1 FROM pack_out o WHERE o.pack_id = p.id);
END $$;
