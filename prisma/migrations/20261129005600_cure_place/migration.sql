-- AlterTable
ALTER TABLE "stage" ADD COLUMN     "max_place_c" DOUBLE PRECISION;

-- Written by hand from here on.

ALTER TABLE "stage"
  ADD CONSTRAINT "stage_place_where_cured" CHECK ("kind" = 'cure' OR "max_place_c" IS NULL),
  ADD CONSTRAINT "stage_place_possible" CHECK ("max_place_c" BETWEEN -50 AND 55);
