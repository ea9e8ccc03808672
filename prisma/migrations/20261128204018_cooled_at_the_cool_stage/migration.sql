-- When it was back at 21 C and at 5 C is told where people look for it, at the cool stage; what stands at a smoke stage stays.
ALTER TABLE "stage" DROP CONSTRAINT "stage_evidence_where_smoked";
ALTER TABLE "stage" ADD CONSTRAINT "stage_evidence_where_smoked" CHECK (
  "kind" = 'smoke' OR ("max_core_c" IS NULL AND "hold_minutes" IS NULL AND ("kind" = 'cool' OR ("cooled_to_21_at" IS NULL AND "cooled_at" IS NULL))));
