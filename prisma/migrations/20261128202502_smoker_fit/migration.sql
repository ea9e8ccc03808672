-- CreateTable
CREATE TABLE "smoker_smoke" (
    "id" UUID NOT NULL,
    "station_id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "stage_id" UUID NOT NULL,
    "species_code" TEXT NOT NULL,
    "thickness_mm" DOUBLE PRECISION NOT NULL,
    "faces_open" TEXT NOT NULL,
    "salt_pct" DOUBLE PRECISION,
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "withdrawn_at" TIMESTAMPTZ(3),

    CONSTRAINT "smoker_smoke_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "smoker_fit" (
    "id" UUID NOT NULL,
    "station_id" UUID NOT NULL,
    "draught" TEXT NOT NULL,
    "h_w_per_m2_k" DOUBLE PRECISION NOT NULL,
    "h_standard_error" DOUBLE PRECISION NOT NULL,
    "h_low" DOUBLE PRECISION NOT NULL,
    "h_high" DOUBLE PRECISION NOT NULL,
    "humidity_pct" DOUBLE PRECISION NOT NULL,
    "humidity_standard_error" DOUBLE PRECISION NOT NULL,
    "smoke_count" INTEGER NOT NULL,
    "point_count" INTEGER NOT NULL,
    "residual_c" DOUBLE PRECISION NOT NULL,
    "answer" JSONB NOT NULL,
    "evidence" TEXT NOT NULL,
    "made_by_id" UUID NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "smoker_fit_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "smoker_smoke_station_id_idx" ON "smoker_smoke"("station_id");

-- CreateIndex
CREATE UNIQUE INDEX "smoker_fit_station_id_key" ON "smoker_fit"("station_id");

-- AddForeignKey
ALTER TABLE "smoker_smoke" ADD CONSTRAINT "smoker_smoke_station_id_fkey" FOREIGN KEY ("station_id") REFERENCES "station"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "smoker_smoke" ADD CONSTRAINT "smoker_smoke_batch_id_fkey" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "smoker_smoke" ADD CONSTRAINT "smoker_smoke_stage_id_fkey" FOREIGN KEY ("stage_id") REFERENCES "stage"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "smoker_smoke" ADD CONSTRAINT "smoker_smoke_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "smoker_fit" ADD CONSTRAINT "smoker_fit_station_id_fkey" FOREIGN KEY ("station_id") REFERENCES "station"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "smoker_fit" ADD CONSTRAINT "smoker_fit_made_by_id_fkey" FOREIGN KEY ("made_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------------------------------------
-- Rules that Prisma cannot express.
-- ---------------------------------------------------------------------------------------------

ALTER TABLE "smoker_smoke"
  ADD CONSTRAINT "smoker_smoke_thickness_range" CHECK ("thickness_mm" BETWEEN 3 AND 150),
  ADD CONSTRAINT "smoker_smoke_faces_known" CHECK ("faces_open" IN ('both', 'one')),
  ADD CONSTRAINT "smoker_smoke_salt_range" CHECK ("salt_pct" BETWEEN 0 AND 20);
-- The fish lay in one smoker.
ALTER TABLE "smoker_smoke" ADD CONSTRAINT "smoker_smoke_once"
  EXCLUDE USING btree ("stage_id" WITH =) WHERE ("withdrawn_at" IS NULL);

CREATE FUNCTION smoker_learns_from_smokes() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (SELECT kind FROM station WHERE id = NEW.station_id) <> 'smoker' THEN
    RAISE EXCEPTION 'only a smoker learns from smokes' USING ERRCODE = '23514', CONSTRAINT = 'smoker_smoke_in_a_smoker', TABLE = 'smoker_smoke';
  END IF;
  IF NOT EXISTS (SELECT FROM stage WHERE id = NEW.stage_id AND batch_id = NEW.batch_id AND kind = 'smoke' AND finished_at IS NOT NULL AND cancelled_at IS NULL) THEN
    RAISE EXCEPTION 'only a finished smoke teaches' USING ERRCODE = '23514', CONSTRAINT = 'smoker_smoke_finished', TABLE = 'smoker_smoke';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER smoker_learns_from_smokes AFTER INSERT ON smoker_smoke FOR EACH ROW EXECUTE FUNCTION smoker_learns_from_smokes();

CREATE FUNCTION smoker_smoke_is_final() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'a chosen smoke is never altered' USING ERRCODE = '23514', CONSTRAINT = 'smoker_smoke_final', TABLE = 'smoker_smoke';
END $$;
CREATE TRIGGER smoker_smoke_final BEFORE UPDATE ON smoker_smoke FOR EACH ROW
  WHEN (OLD.withdrawn_at IS NOT NULL OR (to_jsonb(OLD) - 'withdrawn_at') IS DISTINCT FROM (to_jsonb(NEW) - 'withdrawn_at')) EXECUTE FUNCTION smoker_smoke_is_final();

ALTER TABLE "smoker_fit"
  ADD CONSTRAINT "smoker_fit_draught_known" CHECK ("draught" IN ('natural', 'fan')),
  ADD CONSTRAINT "smoker_fit_h_in_order" CHECK ("h_low" >= 2 AND "h_low" <= "h_w_per_m2_k" AND "h_w_per_m2_k" <= "h_high" AND "h_high" <= 1000),
  ADD CONSTRAINT "smoker_fit_humidity_possible" CHECK ("humidity_pct" BETWEEN 0 AND 100),
  ADD CONSTRAINT "smoker_fit_errors_positive" CHECK ("h_standard_error" > 0 AND "humidity_standard_error" >= 0 AND "residual_c" >= 0),
  ADD CONSTRAINT "smoker_fit_counts_range" CHECK ("smoke_count" BETWEEN 1 AND 20 AND "point_count" >= 5 * "smoke_count");

CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON smoker_smoke FOR EACH ROW EXECUTE FUNCTION write_record('smoker-smoke', 'station', 'station_id');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON smoker_fit FOR EACH ROW EXECUTE FUNCTION write_record('smoker-fit', 'station', 'station_id', 'answer', 'evidence');
