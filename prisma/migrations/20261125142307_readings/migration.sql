-- AlterTable
ALTER TABLE "stage" ADD COLUMN     "cooled_to_21_at" TIMESTAMPTZ(3);

-- CreateTable
CREATE TABLE "reading_list" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "stage_id" UUID,
    "place" TEXT NOT NULL,
    "probe" TEXT NOT NULL DEFAULT '',
    "source" TEXT NOT NULL,
    "reading_count" INTEGER NOT NULL,
    "first_at" TIMESTAMPTZ(3) NOT NULL,
    "last_at" TIMESTAMPTZ(3) NOT NULL,
    "lowest_c" DOUBLE PRECISION,
    "highest_c" DOUBLE PRECISION,
    "unit_confirmed" BOOLEAN NOT NULL DEFAULT false,
    "withdrawn_nos" INTEGER[] DEFAULT ARRAY[]::INTEGER[],
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "withdrawn_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "reading_list_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "reading" (
    "list_id" UUID NOT NULL,
    "no" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "celsius" DOUBLE PRECISION NOT NULL,
    "humidity_pct" DOUBLE PRECISION,
    "flag" TEXT,

    CONSTRAINT "reading_pkey" PRIMARY KEY ("list_id","no")
);

-- CreateTable
CREATE TABLE "measurement" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "value" DOUBLE PRECISION NOT NULL,
    "part" TEXT NOT NULL,
    "laboratory" TEXT NOT NULL,
    "sampled_day" DATE NOT NULL,
    "reported_day" DATE NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "withdrawn_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "measurement_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "club_limit" (
    "id" TEXT NOT NULL,
    "value" DOUBLE PRECISION NOT NULL,
    "set_by_id" UUID NOT NULL,
    "set_at" TIMESTAMPTZ(3) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "club_limit_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "release" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "rule_id" TEXT NOT NULL,
    "found" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "withdrawn_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "release_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "reading_list_batch_id_idx" ON "reading_list"("batch_id");

-- CreateIndex
CREATE INDEX "measurement_batch_id_idx" ON "measurement"("batch_id");

-- CreateIndex
CREATE INDEX "release_batch_id_idx" ON "release"("batch_id");

-- AddForeignKey
ALTER TABLE "reading_list" ADD CONSTRAINT "reading_list_batch_id_fkey" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading_list" ADD CONSTRAINT "reading_list_stage_id_fkey" FOREIGN KEY ("stage_id") REFERENCES "stage"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading_list" ADD CONSTRAINT "reading_list_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reading" ADD CONSTRAINT "reading_list_id_fkey" FOREIGN KEY ("list_id") REFERENCES "reading_list"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "measurement" ADD CONSTRAINT "measurement_batch_id_fkey" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "measurement" ADD CONSTRAINT "measurement_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "club_limit" ADD CONSTRAINT "club_limit_set_by_id_fkey" FOREIGN KEY ("set_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "release" ADD CONSTRAINT "release_batch_id_fkey" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "release" ADD CONSTRAINT "release_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------------------------------------
-- Rules that Prisma cannot express.
-- ---------------------------------------------------------------------------------------------

ALTER TABLE "batch" DROP CONSTRAINT "batch_verdict_known";
ALTER TABLE "batch" ADD CONSTRAINT "batch_verdict_known" CHECK ("verdict" IN ('hold', 'clear', 'do-not-share'));

ALTER TABLE "stage" DROP CONSTRAINT "stage_evidence_where_smoked";
ALTER TABLE "stage"
  ADD CONSTRAINT "stage_evidence_where_smoked" CHECK (
    "kind" = 'smoke' OR ("max_core_c" IS NULL AND "hold_minutes" IS NULL AND "cooled_to_21_at" IS NULL AND "cooled_at" IS NULL)),
  ADD CONSTRAINT "stage_cooled_in_order" CHECK ("cooled_to_21_at" >= "started_at" AND "cooled_at" >= "cooled_to_21_at");

ALTER TABLE "reading_list"
  ADD CONSTRAINT "reading_list_place_known" CHECK ("place" IN ('core', 'chamber', 'surface', 'storage', 'brine')),
  ADD CONSTRAINT "reading_list_source_known" CHECK ("source" IN ('typed', 'pasted')),
  ADD CONSTRAINT "reading_list_count_range" CHECK ("reading_count" BETWEEN 1 AND 5000),
  ADD CONSTRAINT "reading_list_span" CHECK ("last_at" >= "first_at"),
  ADD CONSTRAINT "reading_list_extremes" CHECK (("lowest_c" IS NULL) = ("highest_c" IS NULL) AND "highest_c" >= "lowest_c"),
  ADD CONSTRAINT "reading_list_nos_there" CHECK (1 <= ALL ("withdrawn_nos") AND "reading_count" >= ALL ("withdrawn_nos"));

ALTER TABLE "reading"
  ADD CONSTRAINT "reading_no_positive" CHECK ("no" >= 1),
  ADD CONSTRAINT "reading_flag_known" CHECK ("flag" IN ('out-of-order', 'duplicate', 'conflict', 'probe-error', 'fahrenheit')),
  ADD CONSTRAINT "reading_celsius_possible" CHECK ("celsius" BETWEEN -80 AND 300 OR "flag" = 'probe-error'),
  ADD CONSTRAINT "reading_humidity_possible" CHECK ("humidity_pct" BETWEEN 0 AND 100);

ALTER TABLE "measurement"
  ADD CONSTRAINT "measurement_kind_known" CHECK ("kind" IN ('water-phase-salt', 'nitrite', 'water-activity')),
  ADD CONSTRAINT "measurement_part_known" CHECK ("part" IN ('loin', 'belly', 'tail', 'whole')),
  ADD CONSTRAINT "measurement_laboratory_named" CHECK ("laboratory" <> ''),
  ADD CONSTRAINT "measurement_value_possible" CHECK (
    "value" >= 0 AND "value" <= CASE "kind" WHEN 'water-phase-salt' THEN 27 WHEN 'nitrite' THEN 5000 ELSE 1 END),
  ADD CONSTRAINT "measurement_reported_after_sampled" CHECK ("reported_day" >= "sampled_day");

ALTER TABLE "release"
  ADD CONSTRAINT "release_has_reason" CHECK (length("reason") >= 3),
  -- Heat, cooling, histamine, parasites and packs without air: no captain releases those.
  ADD CONSTRAINT "release_never_of_these" CHECK ("rule_id" !~ '^(smoke|cool|chill|salt|rop|parasite|species|date)\M');
ALTER TABLE "release" ADD CONSTRAINT "release_once_a_rule"
  EXCLUDE USING btree ("batch_id" WITH =, "rule_id" WITH =) WHERE ("withdrawn_at" IS NULL);

-- What a probe read is never altered; a wrong reading is withdrawn on its list, where the record shows it.
CREATE FUNCTION reading_is_final() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'a reading is never altered' USING ERRCODE = '23514', CONSTRAINT = 'reading_final', TABLE = 'reading';
END $$;
CREATE TRIGGER reading_final BEFORE UPDATE OR DELETE ON reading FOR EACH ROW EXECUTE FUNCTION reading_is_final();

-- salt.rop and rop.freeze: a pack without air is frozen at once, unless a laboratory measured enough salt in the loin.
-- Asked when the pack is written; a figure that is withdrawn later puts the batch on hold.
ALTER TABLE "pack" DROP CONSTRAINT "pack_reduced_oxygen_frozen";
CREATE FUNCTION pack_without_air_is_safe() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  salt double precision;
  nitrite_low double precision;
  nitrite_high double precision;
BEGIN
  SELECT min(value) FILTER (WHERE kind = 'water-phase-salt'), min(value) FILTER (WHERE kind = 'nitrite'), max(value) FILTER (WHERE kind = 'nitrite')
    INTO salt, nitrite_low, nitrite_high
    FROM measurement WHERE batch_id = NEW.batch_id AND withdrawn_at IS NULL AND part = 'loin';
  IF salt IS NULL OR salt < 3.0 OR (salt < 3.5 AND (nitrite_low IS NULL OR nitrite_low < 100 OR nitrite_high > 200)) THEN
    RAISE EXCEPTION 'a pack without air is frozen' USING ERRCODE = '23514', CONSTRAINT = 'pack_reduced_oxygen_frozen', TABLE = 'pack';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER pack_reduced_oxygen_frozen AFTER INSERT OR UPDATE OF package_kind, storage ON pack
  FOR EACH ROW WHEN (NEW.package_kind IN ('vacuum', 'jar') AND NEW.storage <> 'frozen') EXECUTE FUNCTION pack_without_air_is_safe();

CREATE TRIGGER batch_page_changed AFTER INSERT OR UPDATE OR DELETE ON reading_list FOR EACH ROW EXECUTE FUNCTION batch_page_changed('batch');
CREATE TRIGGER batch_page_changed AFTER INSERT OR UPDATE OR DELETE ON measurement FOR EACH ROW EXECUTE FUNCTION batch_page_changed('batch');
CREATE TRIGGER batch_page_changed AFTER INSERT OR UPDATE OR DELETE ON release FOR EACH ROW EXECUTE FUNCTION batch_page_changed('batch');

CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON reading_list FOR EACH ROW EXECUTE FUNCTION write_record('reading-list', 'batch', 'batch_id');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON measurement FOR EACH ROW EXECUTE FUNCTION write_record('measurement', 'batch', 'batch_id');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON club_limit FOR EACH ROW EXECUTE FUNCTION write_record('club-limit', '', '');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON release FOR EACH ROW EXECUTE FUNCTION write_record('release', 'batch', 'batch_id');
