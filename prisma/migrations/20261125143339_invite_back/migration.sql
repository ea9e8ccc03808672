-- AlterTable
ALTER TABLE "invitation" ADD COLUMN     "for_member_id" UUID;

-- AddForeignKey
ALTER TABLE "invitation" ADD CONSTRAINT "invitation_for_member_id_fkey" FOREIGN KEY ("for_member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
