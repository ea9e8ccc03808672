-- AlterTable
ALTER TABLE "species" ADD COLUMN     "scombrotoxin_source" TEXT NOT NULL DEFAULT '';

-- Written by hand from here on.

-- A club's own fish forms histamine until a source says that it does not; what was said without one is not known.
UPDATE "species" SET "scombrotoxin" = NULL, "version" = "version" + 1 WHERE "own" AND "scombrotoxin" IS FALSE;
ALTER TABLE "species"
  ADD CONSTRAINT "species_no_histamine_has_source" CHECK (NOT "own" OR "scombrotoxin" IS DISTINCT FROM false OR length(btrim("scombrotoxin_source")) >= 3);
