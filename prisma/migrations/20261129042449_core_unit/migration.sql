-- AlterTable
ALTER TABLE "stage" ADD COLUMN     "core_unit_confirmed" BOOLEAN NOT NULL DEFAULT false;

-- Written by hand from here on.

ALTER TABLE "stage"
  ADD CONSTRAINT "stage_core_unit_of_a_core" CHECK (NOT "core_unit_confirmed" OR "max_core_c" IS NOT NULL);

-- Wet flesh does not pass the boiling point. What was stored before stands until it is corrected or undone, and is not judged met.
ALTER TABLE "stage" DROP CONSTRAINT "stage_core_possible";
ALTER TABLE "stage" ADD CONSTRAINT "stage_core_possible" CHECK ("cancelled_at" IS NOT NULL OR "max_core_c" BETWEEN -5 AND 100) NOT VALID;
