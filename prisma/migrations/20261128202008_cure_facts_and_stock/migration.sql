-- CreateTable
CREATE TABLE "cure" (
    "id" UUID NOT NULL,
    "stage_id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "method" TEXT NOT NULL,
    "salt_kind" TEXT,
    "salt_grams" INTEGER,
    "sugar_kind" TEXT,
    "sugar_grams" INTEGER NOT NULL DEFAULT 0,
    "water_grams" INTEGER,
    "brine_percent" DOUBLE PRECISION,
    "others" JSONB NOT NULL DEFAULT '[]',
    "thickness_mm" DOUBLE PRECISION NOT NULL,
    "skin" BOOLEAN NOT NULL,
    "temperature_c" DOUBLE PRECISION NOT NULL,
    "once_frozen" BOOLEAN NOT NULL,
    "fat" TEXT NOT NULL,
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "cure_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "cure_stock" (
    "id" UUID NOT NULL,
    "ingredient" TEXT,
    "name" TEXT NOT NULL,
    "grams" INTEGER NOT NULL,
    "counted_at" TIMESTAMPTZ(3) NOT NULL,
    "counted_by_id" UUID NOT NULL,
    "retired_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "cure_stock_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "cure_stage_id_key" ON "cure"("stage_id");

-- CreateIndex
CREATE INDEX "cure_batch_id_idx" ON "cure"("batch_id");

-- CreateIndex
CREATE UNIQUE INDEX "cure_stock_ingredient_key" ON "cure_stock"("ingredient");

-- AddForeignKey
ALTER TABLE "cure" ADD CONSTRAINT "cure_stage_id_fkey" FOREIGN KEY ("stage_id") REFERENCES "stage"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "cure" ADD CONSTRAINT "cure_batch_id_fkey" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "cure" ADD CONSTRAINT "cure_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "cure_stock" ADD CONSTRAINT "cure_stock_counted_by_id_fkey" FOREIGN KEY ("counted_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;


-- ---------------------------------------------------------------------------------------------
-- Rules that Prisma cannot express. Ranges are those of the domain (salt/uptake, salt/diffusivity, cure/cure-facts).
-- ---------------------------------------------------------------------------------------------

ALTER TABLE "cure"
  ADD CONSTRAINT "cure_method_known" CHECK ("method" IN ('dry', 'brine', 'equilibrium-brine')),
  ADD CONSTRAINT "cure_fat_known" CHECK ("fat" IN ('lean', 'medium', 'fatty', 'mixed')),
  ADD CONSTRAINT "cure_amounts_for_method" CHECK (CASE "method"
    WHEN 'dry' THEN "salt_grams" IS NOT NULL AND "water_grams" IS NULL AND "brine_percent" IS NULL
    WHEN 'brine' THEN "brine_percent" IS NOT NULL OR ("salt_grams" IS NOT NULL AND "water_grams" IS NOT NULL)
    ELSE "salt_grams" IS NOT NULL AND "water_grams" IS NOT NULL END),
  ADD CONSTRAINT "cure_grams_range" CHECK ("salt_grams" BETWEEN 1 AND 1000000 AND "sugar_grams" BETWEEN 0 AND 1000000 AND "water_grams" BETWEEN 1 AND 20000000),
  ADD CONSTRAINT "cure_brine_range" CHECK ("brine_percent" > 0 AND "brine_percent" <= 26.395),
  ADD CONSTRAINT "cure_thickness_range" CHECK ("thickness_mm" BETWEEN 1 AND 150),
  ADD CONSTRAINT "cure_temperature_range" CHECK ("temperature_c" BETWEEN -2 AND 25),
  ADD CONSTRAINT "cure_sugar_named" CHECK ("sugar_grams" = 0 OR "sugar_kind" IS NOT NULL),
  ADD CONSTRAINT "cure_others_listed" CHECK (CASE WHEN jsonb_typeof("others") = 'array' THEN jsonb_array_length("others") <= 40 ELSE false END);

CREATE FUNCTION cure_where_cured() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (SELECT FROM stage WHERE id = NEW.stage_id AND batch_id = NEW.batch_id AND kind = 'cure') THEN
    RAISE EXCEPTION 'only a cure stage is told how it was cured' USING ERRCODE = '23514', CONSTRAINT = 'cure_where_cured', TABLE = 'cure';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER cure_where_cured BEFORE INSERT OR UPDATE ON cure FOR EACH ROW EXECUTE FUNCTION cure_where_cured();

CREATE UNIQUE INDEX "cure_stock_name_any_case" ON "cure_stock"(lower("name")) WHERE "ingredient" IS NULL;
ALTER TABLE "cure_stock"
  ADD CONSTRAINT "cure_stock_named" CHECK ("name" <> ''),
  ADD CONSTRAINT "cure_stock_grams_range" CHECK ("grams" BETWEEN 0 AND 1000000);

CREATE TRIGGER batch_page_changed AFTER INSERT OR UPDATE OR DELETE ON cure FOR EACH ROW EXECUTE FUNCTION batch_page_changed('batch');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON cure FOR EACH ROW EXECUTE FUNCTION write_record('cure', 'batch', 'batch_id');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON cure_stock FOR EACH ROW EXECUTE FUNCTION write_record('cure-stock', '', '');
