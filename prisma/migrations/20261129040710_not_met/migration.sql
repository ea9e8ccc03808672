-- AlterTable
ALTER TABLE "batch" ADD COLUMN     "not_met" BOOLEAN NOT NULL DEFAULT false;

-- Written by hand from here on.

-- Until the next start judges them anew, what is on hold reads as the stricter of the two. Every page is to be read anew.
ALTER TABLE batch DISABLE TRIGGER USER;
UPDATE batch SET not_met = verdict <> 'clear', revision = revision + 1;
ALTER TABLE batch ENABLE TRIGGER USER;
ALTER TABLE batch ADD CONSTRAINT batch_clear_nothing_not_met CHECK (verdict <> 'clear' OR NOT not_met);
