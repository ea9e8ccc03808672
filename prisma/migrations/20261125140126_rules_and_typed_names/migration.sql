-- AlterTable
ALTER TABLE "batch" ADD COLUMN     "name_typed" BOOLEAN NOT NULL DEFAULT true;

-- CreateTable
CREATE TABLE "rules_applied" (
    "id" INTEGER NOT NULL DEFAULT 1,
    "version" TEXT NOT NULL,
    "applied_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "rules_applied_pkey" PRIMARY KEY ("id")
);

ALTER TABLE "rules_applied" ADD CONSTRAINT "rules_applied_only_one" CHECK ("id" = 1);

-- A name that is word for word what the service gives is taken as not typed; every other is left alone from now on.
ALTER TABLE "batch" DISABLE TRIGGER USER;
UPDATE "batch" b SET "name_typed" = false
  FROM (SELECT d.batch_id, string_agg(DISTINCT s.name, ' and ') AS fish FROM "draw" d JOIN "landing" l ON l.id = d.landing_id JOIN "species" s ON s.code = l.species_code
        WHERE d.cancelled_at IS NULL GROUP BY d.batch_id) f
  WHERE f.batch_id = b.id AND lower(b.name) IN (lower('Hot-smoked ' || f.fish), lower('Raw ' || f.fish));
ALTER TABLE "batch" ENABLE TRIGGER USER;
