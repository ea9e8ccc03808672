-- AlterTable
ALTER TABLE "stage" ADD COLUMN     "added_last_day" DATE;

-- Written by hand from here on.

ALTER TABLE "stage" ADD CONSTRAINT "stage_added_day_where_mixed" CHECK ("kind" = 'mix' OR "added_last_day" IS NULL);
