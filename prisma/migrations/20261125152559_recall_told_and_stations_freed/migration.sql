-- AlterTable
ALTER TABLE "club" ADD COLUMN     "contact_words" TEXT NOT NULL DEFAULT '';

-- AlterTable
ALTER TABLE "pack" ADD COLUMN     "recall_told_at" TIMESTAMPTZ(3);

-- AlterTable
ALTER TABLE "slot" ADD COLUMN     "ended_by_stage_id" UUID,
ADD COLUMN     "planned_ends_at" TIMESTAMPTZ(3);

-- AddForeignKey
ALTER TABLE "slot" ADD CONSTRAINT "slot_ended_by_stage_id_fkey" FOREIGN KEY ("ended_by_stage_id") REFERENCES "stage"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
