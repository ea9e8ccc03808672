-- CreateTable
CREATE TABLE "club" (
    "id" INTEGER NOT NULL DEFAULT 1,
    "name" TEXT NOT NULL,
    "time_zone" TEXT NOT NULL,
    "units" TEXT NOT NULL DEFAULT 'metric',
    "sale_words" TEXT NOT NULL DEFAULT 'Sport caught, not for resale',
    "names_revision" INTEGER NOT NULL DEFAULT 1,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "club_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "member" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "user_name" TEXT NOT NULL,
    "email" TEXT,
    "role" TEXT NOT NULL,
    "password_hash" TEXT NOT NULL,
    "token_epoch" INTEGER NOT NULL DEFAULT 1,
    "joined_at" TIMESTAMPTZ(3) NOT NULL,
    "left_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "member_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "refresh_token" (
    "id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "family_id" UUID NOT NULL,
    "token_hash" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "used_at" TIMESTAMPTZ(3),
    "revoked_at" TIMESTAMPTZ(3),
    "parent_id" UUID,

    CONSTRAINT "refresh_token_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "invitation" (
    "id" UUID NOT NULL,
    "token_hash" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "invited_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "used_at" TIMESTAMPTZ(3),
    "used_by_id" UUID,
    "withdrawn_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "invitation_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "password_reset" (
    "id" UUID NOT NULL,
    "token_hash" TEXT NOT NULL,
    "member_id" UUID NOT NULL,
    "made_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "used_at" TIMESTAMPTZ(3),

    CONSTRAINT "password_reset_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "attempt_count" (
    "scope" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "window_start" TIMESTAMPTZ(3) NOT NULL,
    "count" INTEGER NOT NULL,

    CONSTRAINT "attempt_count_pkey" PRIMARY KEY ("scope","key")
);

-- CreateTable
CREATE TABLE "idempotent_answer" (
    "actor" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "request_hash" TEXT NOT NULL,
    "status" INTEGER,
    "body" TEXT,
    "created_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "idempotent_answer_pkey" PRIMARY KEY ("actor","key")
);

-- CreateTable
CREATE TABLE "boat" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "retired_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "boat_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "species" (
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "scientific_name" TEXT NOT NULL DEFAULT '',
    "own" BOOLEAN NOT NULL DEFAULT false,
    "scombrotoxin" BOOLEAN,
    "max_fish_grams" INTEGER NOT NULL,
    "sharing" TEXT NOT NULL DEFAULT 'ok',
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "species_pkey" PRIMARY KEY ("code")
);

-- CreateTable
CREATE TABLE "trip" (
    "id" UUID NOT NULL,
    "boat_id" UUID NOT NULL,
    "day" DATE NOT NULL,
    "area" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "closed_at" TIMESTAMPTZ(3),
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "trip_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "trip_person" (
    "id" UUID NOT NULL,
    "trip_id" UUID NOT NULL,
    "member_id" UUID,
    "guest_name" TEXT,
    "share_hundredths" INTEGER NOT NULL DEFAULT 100,

    CONSTRAINT "trip_person_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "landing" (
    "id" UUID NOT NULL,
    "trip_id" UUID NOT NULL,
    "catcher_kind" TEXT NOT NULL,
    "catcher_member_id" UUID,
    "catcher_guest" TEXT,
    "species_code" TEXT NOT NULL,
    "fish_count" INTEGER,
    "grams" INTEGER NOT NULL,
    "weight_source" TEXT NOT NULL DEFAULT 'weighed',
    "form" TEXT NOT NULL DEFAULT 'whole',
    "lengths_mm" INTEGER[] DEFAULT ARRAY[]::INTEGER[],
    "length_kind" TEXT,
    "caught_at" TIMESTAMPTZ(3),
    "iced_at" TIMESTAMPTZ(3),
    "core_c" DOUBLE PRECISION,
    "air_c" DOUBLE PRECISION,
    "water_c" DOUBLE PRECISION,
    "note" TEXT NOT NULL DEFAULT '',
    "pooling" TEXT NOT NULL DEFAULT 'apart',
    "drawn_grams" INTEGER NOT NULL DEFAULT 0,
    "withdrawn_at" TIMESTAMPTZ(3),
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "landing_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "batch" (
    "id" UUID NOT NULL,
    "lot" TEXT NOT NULL,
    "product_kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "ingredients" TEXT NOT NULL DEFAULT '',
    "allergens" TEXT[] DEFAULT ARRAY[]::TEXT[],
    "smoke_day" DATE,
    "mixed_day" DATE,
    "verdict" TEXT NOT NULL DEFAULT 'hold',
    "on_hand_grams" INTEGER NOT NULL DEFAULT 0,
    "packed_grams" INTEGER NOT NULL DEFAULT 0,
    "pack_count" INTEGER NOT NULL DEFAULT 0,
    "closed_at" TIMESTAMPTZ(3),
    "recalled_at" TIMESTAMPTZ(3),
    "recall_reason" TEXT,
    "recalled_by_id" UUID,
    "recalled_from_id" UUID,
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "revision" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "batch_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "draw" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "tray_no" INTEGER NOT NULL DEFAULT 1,
    "grams" INTEGER NOT NULL,
    "landing_id" UUID,
    "source_batch_id" UUID,
    "source_pack_id" UUID,
    "of_grams" INTEGER NOT NULL,
    "event_no" INTEGER NOT NULL DEFAULT 0,
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "cancelled_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "draw_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "stage" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "seq" INTEGER NOT NULL,
    "event_no" INTEGER NOT NULL DEFAULT 0,
    "kind" TEXT NOT NULL,
    "started_at" TIMESTAMPTZ(3) NOT NULL,
    "due_at" TIMESTAMPTZ(3),
    "finished_at" TIMESTAMPTZ(3),
    "mass_in_g" INTEGER NOT NULL,
    "added_g" INTEGER NOT NULL DEFAULT 0,
    "mass_out_g" INTEGER,
    "trim_g" INTEGER NOT NULL DEFAULT 0,
    "loss_g" INTEGER NOT NULL DEFAULT 0,
    "loss_reason" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',
    "max_core_c" DOUBLE PRECISION,
    "hold_minutes" DOUBLE PRECISION,
    "cooled_at" TIMESTAMPTZ(3),
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "cancelled_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "stage_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "station" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "capacity_unit" TEXT NOT NULL,
    "capacity" INTEGER NOT NULL,
    "opens_at" TEXT,
    "closes_at" TEXT,
    "note" TEXT NOT NULL DEFAULT '',
    "retired_at" TIMESTAMPTZ(3),
    "booking_seq" INTEGER NOT NULL DEFAULT 0,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "station_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "slot" (
    "id" UUID NOT NULL,
    "station_id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "stage_kind" TEXT NOT NULL,
    "starts_at" TIMESTAMPTZ(3) NOT NULL,
    "ends_at" TIMESTAMPTZ(3) NOT NULL,
    "amount" INTEGER NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "cancelled_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "slot_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "pack" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "pack_no" INTEGER NOT NULL,
    "tray_no" INTEGER NOT NULL DEFAULT 1,
    "grams" INTEGER NOT NULL,
    "package_kind" TEXT NOT NULL,
    "storage" TEXT NOT NULL,
    "packed_at" TIMESTAMPTZ(3) NOT NULL,
    "frozen_day" DATE,
    "thawed_day" DATE,
    "last_day" DATE,
    "date_kind" TEXT NOT NULL DEFAULT 'use-by',
    "status" TEXT NOT NULL DEFAULT 'ready',
    "public_code" TEXT NOT NULL,
    "print_count" INTEGER NOT NULL DEFAULT 0,
    "holder_id" UUID,
    "recipient" TEXT,
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "pack_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "claim" (
    "id" UUID NOT NULL,
    "pack_id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "status" TEXT NOT NULL DEFAULT 'asked',
    "note" TEXT NOT NULL DEFAULT '',
    "reason" TEXT NOT NULL DEFAULT '',
    "decided_by_id" UUID,
    "decided_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "claim_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "hand_over" (
    "id" UUID NOT NULL,
    "pack_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "from_member_id" UUID,
    "to_member_id" UUID,
    "to_name" TEXT,
    "handed_at" TIMESTAMPTZ(3) NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "cancelled_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "hand_over_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "label_layout" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "geometry" JSONB NOT NULL,
    "retired_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "label_layout_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "label_run" (
    "id" UUID NOT NULL,
    "layout" JSONB NOT NULL,
    "start_at" INTEGER NOT NULL,
    "copies" INTEGER NOT NULL,
    "created_by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "label_run_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "label_run_pack" (
    "run_id" UUID NOT NULL,
    "pack_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "reprint" INTEGER NOT NULL,

    CONSTRAINT "label_run_pack_pkey" PRIMARY KEY ("run_id","pack_id")
);

-- CreateTable
CREATE TABLE "record_entry" (
    "id" BIGSERIAL NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "actor_id" UUID,
    "request_id" TEXT,
    "subject_kind" TEXT NOT NULL,
    "subject_id" TEXT NOT NULL,
    "parent_kind" TEXT,
    "parent_id" TEXT,
    "action" TEXT NOT NULL,
    "before" JSONB,
    "after" JSONB,
    "reason" TEXT,

    CONSTRAINT "record_entry_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "member_user_name_key" ON "member"("user_name");

-- CreateIndex
CREATE UNIQUE INDEX "member_email_key" ON "member"("email");

-- CreateIndex
CREATE UNIQUE INDEX "refresh_token_token_hash_key" ON "refresh_token"("token_hash");

-- CreateIndex
CREATE INDEX "refresh_token_family_id_idx" ON "refresh_token"("family_id");

-- CreateIndex
CREATE INDEX "refresh_token_member_id_idx" ON "refresh_token"("member_id");

-- CreateIndex
CREATE UNIQUE INDEX "invitation_token_hash_key" ON "invitation"("token_hash");

-- CreateIndex
CREATE UNIQUE INDEX "password_reset_token_hash_key" ON "password_reset"("token_hash");

-- CreateIndex
CREATE INDEX "password_reset_member_id_idx" ON "password_reset"("member_id");

-- CreateIndex
CREATE INDEX "idempotent_answer_created_at_idx" ON "idempotent_answer"("created_at");

-- CreateIndex
CREATE UNIQUE INDEX "boat_name_key" ON "boat"("name");

-- CreateIndex
CREATE UNIQUE INDEX "species_name_key" ON "species"("name");

-- CreateIndex
CREATE INDEX "trip_day_id_idx" ON "trip"("day" DESC, "id" DESC);

-- CreateIndex
CREATE INDEX "trip_boat_id_idx" ON "trip"("boat_id");

-- CreateIndex
CREATE INDEX "trip_person_member_id_idx" ON "trip_person"("member_id");

-- CreateIndex
CREATE UNIQUE INDEX "trip_person_trip_id_member_id_key" ON "trip_person"("trip_id", "member_id");

-- CreateIndex
CREATE UNIQUE INDEX "trip_person_trip_id_guest_name_key" ON "trip_person"("trip_id", "guest_name");

-- CreateIndex
CREATE INDEX "landing_trip_id_idx" ON "landing"("trip_id");

-- CreateIndex
CREATE INDEX "landing_catcher_member_id_idx" ON "landing"("catcher_member_id");

-- CreateIndex
CREATE INDEX "landing_created_at_id_idx" ON "landing"("created_at" DESC, "id" DESC);

-- CreateIndex
CREATE UNIQUE INDEX "batch_lot_key" ON "batch"("lot");

-- CreateIndex
CREATE INDEX "batch_created_at_id_idx" ON "batch"("created_at" DESC, "id" DESC);

-- CreateIndex
CREATE INDEX "draw_batch_id_idx" ON "draw"("batch_id");

-- CreateIndex
CREATE INDEX "draw_landing_id_idx" ON "draw"("landing_id");

-- CreateIndex
CREATE INDEX "draw_source_batch_id_idx" ON "draw"("source_batch_id");

-- CreateIndex
CREATE INDEX "draw_source_pack_id_idx" ON "draw"("source_pack_id");

-- CreateIndex
CREATE UNIQUE INDEX "stage_batch_id_seq_key" ON "stage"("batch_id", "seq");

-- CreateIndex
CREATE UNIQUE INDEX "station_name_key" ON "station"("name");

-- CreateIndex
CREATE INDEX "slot_station_id_starts_at_idx" ON "slot"("station_id", "starts_at");

-- CreateIndex
CREATE INDEX "slot_batch_id_idx" ON "slot"("batch_id");

-- CreateIndex
CREATE INDEX "slot_ends_at_idx" ON "slot"("ends_at");

-- CreateIndex
CREATE UNIQUE INDEX "pack_public_code_key" ON "pack"("public_code");

-- CreateIndex
CREATE INDEX "pack_status_last_day_id_idx" ON "pack"("status", "last_day", "id");

-- CreateIndex
CREATE INDEX "pack_created_at_id_idx" ON "pack"("created_at" DESC, "id" DESC);

-- CreateIndex
CREATE INDEX "pack_holder_id_idx" ON "pack"("holder_id");

-- CreateIndex
CREATE UNIQUE INDEX "pack_batch_id_pack_no_key" ON "pack"("batch_id", "pack_no");

-- CreateIndex
CREATE INDEX "claim_pack_id_idx" ON "claim"("pack_id");

-- CreateIndex
CREATE INDEX "claim_member_id_created_at_idx" ON "claim"("member_id", "created_at" DESC);

-- CreateIndex
CREATE INDEX "claim_status_created_at_idx" ON "claim"("status", "created_at");

-- CreateIndex
CREATE INDEX "claim_created_at_id_idx" ON "claim"("created_at" DESC, "id" DESC);

-- CreateIndex
CREATE INDEX "hand_over_pack_id_idx" ON "hand_over"("pack_id");

-- CreateIndex
CREATE INDEX "hand_over_to_member_id_idx" ON "hand_over"("to_member_id");

-- CreateIndex
CREATE INDEX "hand_over_created_at_id_idx" ON "hand_over"("created_at" DESC, "id" DESC);

-- CreateIndex
CREATE UNIQUE INDEX "label_layout_name_key" ON "label_layout"("name");

-- CreateIndex
CREATE INDEX "label_run_pack_pack_id_idx" ON "label_run_pack"("pack_id");

-- CreateIndex
CREATE INDEX "record_entry_subject_idx" ON "record_entry"("subject_kind", "subject_id", "id" DESC);

-- CreateIndex
CREATE INDEX "record_entry_parent_idx" ON "record_entry"("parent_kind", "parent_id", "id" DESC);

-- AddForeignKey
ALTER TABLE "refresh_token" ADD CONSTRAINT "refresh_token_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "invitation" ADD CONSTRAINT "invitation_invited_by_id_fkey" FOREIGN KEY ("invited_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "invitation" ADD CONSTRAINT "invitation_used_by_id_fkey" FOREIGN KEY ("used_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "password_reset" ADD CONSTRAINT "password_reset_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "password_reset" ADD CONSTRAINT "password_reset_made_by_id_fkey" FOREIGN KEY ("made_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "trip" ADD CONSTRAINT "trip_boat_id_fkey" FOREIGN KEY ("boat_id") REFERENCES "boat"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "trip" ADD CONSTRAINT "trip_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "trip_person" ADD CONSTRAINT "trip_person_trip_id_fkey" FOREIGN KEY ("trip_id") REFERENCES "trip"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "trip_person" ADD CONSTRAINT "trip_person_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "landing" ADD CONSTRAINT "landing_trip_id_fkey" FOREIGN KEY ("trip_id") REFERENCES "trip"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "landing" ADD CONSTRAINT "landing_catcher_member_id_fkey" FOREIGN KEY ("catcher_member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "landing" ADD CONSTRAINT "landing_species_code_fkey" FOREIGN KEY ("species_code") REFERENCES "species"("code") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "landing" ADD CONSTRAINT "landing_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "batch" ADD CONSTRAINT "batch_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "batch" ADD CONSTRAINT "batch_recalled_by_id_fkey" FOREIGN KEY ("recalled_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "batch" ADD CONSTRAINT "batch_recalled_from_id_fkey" FOREIGN KEY ("recalled_from_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "draw" ADD CONSTRAINT "draw_batch_id_fkey" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "draw" ADD CONSTRAINT "draw_landing_id_fkey" FOREIGN KEY ("landing_id") REFERENCES "landing"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "draw" ADD CONSTRAINT "draw_source_batch_id_fkey" FOREIGN KEY ("source_batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "draw" ADD CONSTRAINT "draw_source_pack_id_fkey" FOREIGN KEY ("source_pack_id") REFERENCES "pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "draw" ADD CONSTRAINT "draw_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stage" ADD CONSTRAINT "stage_batch_id_fkey" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stage" ADD CONSTRAINT "stage_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "slot" ADD CONSTRAINT "slot_station_id_fkey" FOREIGN KEY ("station_id") REFERENCES "station"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "slot" ADD CONSTRAINT "slot_batch_id_fkey" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "slot" ADD CONSTRAINT "slot_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "pack" ADD CONSTRAINT "pack_batch_id_fkey" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "pack" ADD CONSTRAINT "pack_holder_id_fkey" FOREIGN KEY ("holder_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "pack" ADD CONSTRAINT "pack_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "claim" ADD CONSTRAINT "claim_pack_id_fkey" FOREIGN KEY ("pack_id") REFERENCES "pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "claim" ADD CONSTRAINT "claim_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "claim" ADD CONSTRAINT "claim_decided_by_id_fkey" FOREIGN KEY ("decided_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "hand_over" ADD CONSTRAINT "hand_over_pack_id_fkey" FOREIGN KEY ("pack_id") REFERENCES "pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "hand_over" ADD CONSTRAINT "hand_over_from_member_id_fkey" FOREIGN KEY ("from_member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "hand_over" ADD CONSTRAINT "hand_over_to_member_id_fkey" FOREIGN KEY ("to_member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "hand_over" ADD CONSTRAINT "hand_over_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "label_run" ADD CONSTRAINT "label_run_created_by_id_fkey" FOREIGN KEY ("created_by_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "label_run_pack" ADD CONSTRAINT "label_run_pack_run_id_fkey" FOREIGN KEY ("run_id") REFERENCES "label_run"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "label_run_pack" ADD CONSTRAINT "label_run_pack_pack_id_fkey" FOREIGN KEY ("pack_id") REFERENCES "pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;


-- ---------------------------------------------------------------------------------------------
-- The rules that live in the database. Every constraint has a name; the service turns names into
-- sentences in one place (server/platform/errors).
-- ---------------------------------------------------------------------------------------------

CREATE EXTENSION IF NOT EXISTS btree_gist;

ALTER TABLE "club"
  ADD CONSTRAINT "club_only_one" CHECK ("id" = 1),
  ADD CONSTRAINT "club_units_known" CHECK ("units" IN ('metric', 'us'));

ALTER TABLE "member"
  ADD CONSTRAINT "member_role_known" CHECK ("role" IN ('captain', 'crew', 'member')),
  ADD CONSTRAINT "member_user_name_lower" CHECK ("user_name" = lower("user_name") AND "user_name" <> ''),
  ADD CONSTRAINT "member_email_lower" CHECK ("email" = lower("email"));

ALTER TABLE "invitation"
  ADD CONSTRAINT "invitation_role_known" CHECK ("role" IN ('captain', 'crew', 'member')),
  ADD CONSTRAINT "invitation_used_by_someone" CHECK (("used_at" IS NULL) = ("used_by_id" IS NULL)),
  ADD CONSTRAINT "invitation_used_or_withdrawn" CHECK ("used_at" IS NULL OR "withdrawn_at" IS NULL),
  ADD CONSTRAINT "invitation_expires_later" CHECK ("expires_at" > "created_at");

ALTER TABLE "species"
  ADD CONSTRAINT "species_sharing_known" CHECK ("sharing" IN ('ok', 'refuse')),
  ADD CONSTRAINT "species_max_fish_positive" CHECK ("max_fish_grams" > 0);
-- One name, whatever its case.
ALTER TABLE "species" ADD CONSTRAINT "species_name_any_case" EXCLUDE USING btree (lower("name") WITH =);

ALTER TABLE "trip_person"
  ADD CONSTRAINT "trip_person_one_kind" CHECK (("member_id" IS NULL) <> ("guest_name" IS NULL)),
  ADD CONSTRAINT "trip_person_share_range" CHECK ("share_hundredths" BETWEEN 0 AND 10000);

ALTER TABLE "landing"
  ADD CONSTRAINT "landing_catcher_one_kind" CHECK (
    ("catcher_kind" = 'member' AND "catcher_member_id" IS NOT NULL AND "catcher_guest" IS NULL) OR
    ("catcher_kind" = 'guest' AND "catcher_member_id" IS NULL AND "catcher_guest" IS NOT NULL) OR
    ("catcher_kind" = 'boat' AND "catcher_member_id" IS NULL AND "catcher_guest" IS NULL)),
  ADD CONSTRAINT "landing_grams_positive" CHECK ("grams" > 0),
  ADD CONSTRAINT "landing_fish_count_positive" CHECK ("fish_count" > 0),
  ADD CONSTRAINT "landing_drawn_within_weight" CHECK ("drawn_grams" BETWEEN 0 AND "grams"),
  ADD CONSTRAINT "landing_withdrawn_undrawn" CHECK ("withdrawn_at" IS NULL OR "drawn_grams" = 0),
  ADD CONSTRAINT "landing_weight_source_known" CHECK ("weight_source" IN ('weighed', 'estimated')),
  ADD CONSTRAINT "landing_form_known" CHECK ("form" IN ('whole', 'gutted', 'headed-gutted', 'fillet')),
  ADD CONSTRAINT "landing_length_kind_known" CHECK ("length_kind" IN ('fork', 'total')),
  ADD CONSTRAINT "landing_pooling_known" CHECK ("pooling" IN ('apart', 'tray', 'pooled')),
  ADD CONSTRAINT "landing_iced_after_caught" CHECK ("iced_at" >= "caught_at"),
  ADD CONSTRAINT "landing_temperatures_possible" CHECK (
    "core_c" BETWEEN -40 AND 60 AND "air_c" BETWEEN -60 AND 60 AND "water_c" BETWEEN -5 AND 45);
-- An index of the landings with weight left to draw, newest last; the exclusion itself can never bite, since ids differ.
ALTER TABLE "landing" ADD CONSTRAINT "landing_left"
  EXCLUDE USING btree ("created_at" WITH =, "id" WITH =) WHERE ("withdrawn_at" IS NULL AND "drawn_grams" < "grams");

ALTER TABLE "batch"
  ADD CONSTRAINT "batch_product_kind_known" CHECK ("product_kind" IN ('hot-smoked', 'dip', 'raw')),
  ADD CONSTRAINT "batch_verdict_known" CHECK ("verdict" IN ('hold', 'clear')),
  ADD CONSTRAINT "batch_on_hand_not_negative" CHECK ("on_hand_grams" >= 0),
  ADD CONSTRAINT "batch_packed_not_negative" CHECK ("packed_grams" >= 0 AND "pack_count" >= 0),
  ADD CONSTRAINT "batch_recall_has_reason" CHECK (("recalled_at" IS NULL) = ("recall_reason" IS NULL));

ALTER TABLE "draw"
  ADD CONSTRAINT "draw_grams_positive" CHECK ("grams" > 0),
  ADD CONSTRAINT "draw_one_source" CHECK (num_nonnulls("landing_id", "source_batch_id", "source_pack_id") = 1),
  ADD CONSTRAINT "draw_within_source" CHECK ("grams" <= "of_grams"),
  ADD CONSTRAINT "draw_tray_positive" CHECK ("tray_no" BETWEEN 1 AND 200),
  ADD CONSTRAINT "draw_not_from_itself" CHECK ("source_batch_id" IS DISTINCT FROM "batch_id");
-- A pack goes into another batch once, whole.
ALTER TABLE "draw" ADD CONSTRAINT "draw_pack_used_once"
  EXCLUDE USING btree ("source_pack_id" WITH =) WHERE ("cancelled_at" IS NULL AND "source_pack_id" IS NOT NULL);

ALTER TABLE "stage"
  ADD CONSTRAINT "stage_kind_known" CHECK ("kind" IN ('prepare', 'cure', 'rinse', 'dry', 'smoke', 'cool', 'mix', 'pack')),
  ADD CONSTRAINT "stage_masses_not_negative" CHECK (
    "mass_in_g" >= 0 AND "added_g" >= 0 AND "mass_out_g" >= 0 AND "trim_g" >= 0 AND "loss_g" >= 0),
  ADD CONSTRAINT "stage_mass_balances" CHECK (
    "mass_out_g" IS NULL OR "mass_in_g" + "added_g" = "mass_out_g" + "trim_g" + "loss_g"),
  ADD CONSTRAINT "stage_running_has_no_result" CHECK (
    "mass_out_g" IS NOT NULL OR ("added_g" = 0 AND "trim_g" = 0 AND "loss_g" = 0)),
  ADD CONSTRAINT "stage_finished_has_mass" CHECK (("finished_at" IS NULL) = ("mass_out_g" IS NULL)),
  ADD CONSTRAINT "stage_added_where_usual" CHECK ("added_g" = 0 OR "kind" IN ('cure', 'rinse', 'mix')),
  ADD CONSTRAINT "stage_finish_after_start" CHECK ("finished_at" >= "started_at"),
  ADD CONSTRAINT "stage_due_after_start" CHECK ("due_at" >= "started_at"),
  ADD CONSTRAINT "stage_evidence_where_smoked" CHECK (
    "kind" = 'smoke' OR ("max_core_c" IS NULL AND "hold_minutes" IS NULL AND "cooled_at" IS NULL)),
  ADD CONSTRAINT "stage_core_possible" CHECK ("max_core_c" BETWEEN -5 AND 120),
  ADD CONSTRAINT "stage_hold_possible" CHECK ("hold_minutes" BETWEEN 0 AND 2880),
  ADD CONSTRAINT "stage_cooled_after_start" CHECK ("cooled_at" >= "started_at");
-- One running stage at a time in a batch.
ALTER TABLE "stage" ADD CONSTRAINT "stage_one_running"
  EXCLUDE USING btree ("batch_id" WITH =) WHERE ("finished_at" IS NULL AND "cancelled_at" IS NULL);

ALTER TABLE "station"
  ADD CONSTRAINT "station_kind_known" CHECK ("kind" IN
    ('brine-tub', 'refrigerator', 'drying-rack', 'smoker', 'bench', 'freezer')),
  ADD CONSTRAINT "station_capacity_unit_known" CHECK ("capacity_unit" IN ('grams', 'racks', 'millilitres')),
  ADD CONSTRAINT "station_capacity_positive" CHECK ("capacity" > 0),
  ADD CONSTRAINT "station_hours_paired" CHECK (("opens_at" IS NULL) = ("closes_at" IS NULL)),
  ADD CONSTRAINT "station_hours_written_well" CHECK (
    "opens_at" ~ '^([01][0-9]|2[0-3]):[0-5][0-9]$' AND "closes_at" ~ '^([01][0-9]|2[0-3]):[0-5][0-9]$');

ALTER TABLE "slot"
  ADD CONSTRAINT "slot_stage_kind_known" CHECK ("stage_kind" IN
    ('prepare', 'cure', 'rinse', 'dry', 'smoke', 'cool', 'mix', 'pack')),
  ADD CONSTRAINT "slot_end_after_start" CHECK ("ends_at" > "starts_at"),
  ADD CONSTRAINT "slot_not_endless" CHECK ("ends_at" <= "starts_at" + interval '14 days'),
  ADD CONSTRAINT "slot_amount_positive" CHECK ("amount" > 0);
-- The same batch does not stand twice on one station at one time for one stage.
ALTER TABLE "slot" ADD CONSTRAINT "slot_batch_once" EXCLUDE USING gist (
  "station_id" WITH =, "batch_id" WITH =, "stage_kind" WITH =, tstzrange("starts_at", "ends_at") WITH &&
) WHERE ("cancelled_at" IS NULL);

ALTER TABLE "pack"
  ADD CONSTRAINT "pack_grams_positive" CHECK ("grams" > 0),
  ADD CONSTRAINT "pack_no_positive" CHECK ("pack_no" > 0),
  ADD CONSTRAINT "pack_kind_known" CHECK ("package_kind" IN ('tub', 'bag', 'vacuum', 'jar')),
  ADD CONSTRAINT "pack_storage_known" CHECK ("storage" IN ('refrigerated', 'frozen')),
  -- rop.freeze: a reduced-oxygen pack without a laboratory's salt figure is frozen at once.
  ADD CONSTRAINT "pack_reduced_oxygen_frozen" CHECK ("package_kind" NOT IN ('vacuum', 'jar') OR "storage" = 'frozen'),
  ADD CONSTRAINT "pack_frozen_has_day" CHECK ("storage" <> 'frozen' OR "frozen_day" IS NOT NULL),
  ADD CONSTRAINT "pack_thawed_after_frozen" CHECK ("thawed_day" IS NULL OR ("frozen_day" IS NOT NULL AND "thawed_day" >= "frozen_day")),
  ADD CONSTRAINT "pack_date_kind_known" CHECK ("date_kind" IN ('use-by', 'best-before')),
  ADD CONSTRAINT "pack_status_known" CHECK ("status" IN ('ready', 'claimed', 'handed-over', 'used', 'discarded')),
  ADD CONSTRAINT "pack_held_when_handed_over" CHECK (
    ("status" = 'handed-over') = ("holder_id" IS NOT NULL OR "recipient" IS NOT NULL));

ALTER TABLE "claim"
  ADD CONSTRAINT "claim_status_known" CHECK ("status" IN
    ('asked', 'confirmed', 'refused', 'withdrawn', 'moved', 'handed-over')),
  ADD CONSTRAINT "claim_decided_by_someone" CHECK (("decided_at" IS NULL) = ("decided_by_id" IS NULL));
-- One pack, one claim.
ALTER TABLE "claim" ADD CONSTRAINT "claim_one_a_pack"
  EXCLUDE USING btree ("pack_id" WITH =) WHERE ("status" IN ('asked', 'confirmed', 'handed-over'));

ALTER TABLE "hand_over"
  ADD CONSTRAINT "hand_over_kind_known" CHECK ("kind" IN ('hand-over', 'gift')),
  ADD CONSTRAINT "hand_over_to_one" CHECK (("to_member_id" IS NULL) <> ("to_name" IS NULL)),
  ADD CONSTRAINT "hand_over_gift_has_giver" CHECK ("kind" = 'hand-over' OR "from_member_id" IS NOT NULL);

ALTER TABLE "label_run"
  ADD CONSTRAINT "label_run_start_positive" CHECK ("start_at" >= 1),
  ADD CONSTRAINT "label_run_copies_range" CHECK ("copies" BETWEEN 1 AND 99);

-- --------------------------------------------------------------------------------- a club keeps a captain
CREATE FUNCTION club_keeps_a_captain() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF OLD.role = 'captain' AND OLD.left_at IS NULL
     AND (TG_OP = 'DELETE' OR NEW.role <> 'captain' OR NEW.left_at IS NOT NULL) THEN
    -- Two captains who step down at once queue here; the second then counts what the first left.
    PERFORM 1 FROM club WHERE id = 1 FOR UPDATE;
    IF NOT EXISTS (SELECT 1 FROM member WHERE role = 'captain' AND left_at IS NULL AND id <> OLD.id) THEN
      RAISE EXCEPTION 'the last captain stays' USING ERRCODE = '23514', CONSTRAINT = 'member_last_captain', TABLE = 'member';
    END IF;
  END IF;
  RETURN COALESCE(NEW, OLD);
END $$;
CREATE TRIGGER member_last_captain BEFORE UPDATE OR DELETE ON member
  FOR EACH ROW EXECUTE FUNCTION club_keeps_a_captain();

-- --------------------------------------------------------------------------------- the order in which weight moved
-- Times are typed by people and clocks repeat; this count is what tells whether a draw came before or after a stage.
CREATE SEQUENCE mass_event_no;
CREATE FUNCTION number_mass_event() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  NEW.event_no := nextval('mass_event_no');
  RETURN NEW;
END $$;
CREATE TRIGGER number_mass_event BEFORE INSERT ON draw FOR EACH ROW EXECUTE FUNCTION number_mass_event();
CREATE TRIGGER number_mass_event BEFORE INSERT ON stage FOR EACH ROW EXECUTE FUNCTION number_mass_event();

-- --------------------------------------------------------------------------------- weight: never more than is left
-- Counters change by relative updates, so concurrent writers queue on the row and its CHECK decides.
CREATE FUNCTION draw_moves_weight() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  was integer := 0;
  now_ integer := 0;
BEGIN
  IF TG_OP <> 'INSERT' AND OLD.cancelled_at IS NULL THEN was := OLD.grams; END IF;
  IF TG_OP <> 'DELETE' AND NEW.cancelled_at IS NULL THEN now_ := NEW.grams; END IF;
  IF TG_OP = 'UPDATE' AND (NEW.batch_id, NEW.landing_id, NEW.source_batch_id, NEW.source_pack_id)
     IS DISTINCT FROM (OLD.batch_id, OLD.landing_id, OLD.source_batch_id, OLD.source_pack_id) THEN
    RAISE EXCEPTION 'a draw keeps its two ends' USING ERRCODE = '23514', CONSTRAINT = 'draw_ends_fixed', TABLE = 'draw';
  END IF;
  IF now_ <> was THEN
    IF COALESCE(NEW.landing_id, OLD.landing_id) IS NOT NULL THEN
      UPDATE landing SET drawn_grams = drawn_grams + now_ - was WHERE id = COALESCE(NEW.landing_id, OLD.landing_id);
    END IF;
    -- Both batches are changed in the order of their ids, so that two moves that cross do not deadlock.
    IF COALESCE(NEW.source_batch_id, OLD.source_batch_id) IS NOT NULL THEN
      PERFORM 1 FROM batch WHERE id IN (COALESCE(NEW.source_batch_id, OLD.source_batch_id), COALESCE(NEW.batch_id, OLD.batch_id))
        ORDER BY id FOR NO KEY UPDATE;
      UPDATE batch SET on_hand_grams = on_hand_grams - (now_ - was) WHERE id = COALESCE(NEW.source_batch_id, OLD.source_batch_id);
    END IF;
    UPDATE batch SET on_hand_grams = on_hand_grams + now_ - was WHERE id = COALESCE(NEW.batch_id, OLD.batch_id);
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER draw_moves_weight AFTER INSERT OR UPDATE OR DELETE ON draw
  FOR EACH ROW EXECUTE FUNCTION draw_moves_weight();

CREATE FUNCTION stage_moves_weight() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  was integer := 0;
  now_ integer := 0;
BEGIN
  IF TG_OP <> 'INSERT' AND OLD.cancelled_at IS NULL THEN was := OLD.added_g - OLD.trim_g - OLD.loss_g; END IF;
  IF TG_OP <> 'DELETE' AND NEW.cancelled_at IS NULL THEN now_ := NEW.added_g - NEW.trim_g - NEW.loss_g; END IF;
  IF now_ <> was THEN
    UPDATE batch SET on_hand_grams = on_hand_grams + now_ - was WHERE id = COALESCE(NEW.batch_id, OLD.batch_id);
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER stage_moves_weight AFTER INSERT OR UPDATE OR DELETE ON stage
  FOR EACH ROW EXECUTE FUNCTION stage_moves_weight();

CREATE FUNCTION pack_moves_weight() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  was integer := 0;
  now_ integer := 0;
BEGIN
  IF TG_OP <> 'INSERT' THEN was := OLD.grams; END IF;
  IF TG_OP <> 'DELETE' THEN now_ := NEW.grams; END IF;
  IF TG_OP <> 'UPDATE' OR now_ <> was THEN
    UPDATE batch SET on_hand_grams = on_hand_grams - (now_ - was), packed_grams = packed_grams + now_ - was,
      pack_count = pack_count + CASE TG_OP WHEN 'INSERT' THEN 1 WHEN 'DELETE' THEN -1 ELSE 0 END
    WHERE id = COALESCE(NEW.batch_id, OLD.batch_id);
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER pack_moves_weight AFTER INSERT OR UPDATE OR DELETE ON pack
  FOR EACH ROW EXECUTE FUNCTION pack_moves_weight();

CREATE FUNCTION lot_never_changes() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.lot <> OLD.lot THEN
    RAISE EXCEPTION 'a lot code is assigned once' USING ERRCODE = '23514', CONSTRAINT = 'batch_lot_fixed', TABLE = 'batch';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER batch_lot_fixed BEFORE UPDATE OF lot ON batch FOR EACH ROW EXECUTE FUNCTION lot_never_changes();

-- A closed batch holds nothing. Deferred to the commit, since a correction changes a pack and the loss in two steps.
CREATE FUNCTION closed_batch_is_empty() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM batch WHERE id = NEW.id AND closed_at IS NOT NULL AND on_hand_grams <> 0) THEN
    RAISE EXCEPTION 'a closed batch holds nothing' USING ERRCODE = '23514', CONSTRAINT = 'batch_closed_empty', TABLE = 'batch';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER batch_closed_empty AFTER UPDATE OF closed_at, on_hand_grams ON batch
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (NEW.closed_at IS NOT NULL) EXECUTE FUNCTION closed_batch_is_empty();

-- --------------------------------------------------------------------------------- stations: never over-booked
-- Raising booking_seq takes the station's row, so bookings of one station run one after another under any
-- isolation level; then the highest load at any moment of the slot is compared with the capacity. The load only
-- rises where a slot starts, so it is enough to look at the starts inside the slot.
CREATE FUNCTION slot_fits_station() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  room integer;
  worst record;
BEGIN
  IF NEW.cancelled_at IS NOT NULL THEN RETURN NULL; END IF;
  UPDATE station SET booking_seq = booking_seq + 1 WHERE id = NEW.station_id RETURNING capacity INTO room;
  SELECT p.at, (SELECT sum(s.amount) FROM slot s WHERE s.station_id = NEW.station_id AND s.cancelled_at IS NULL
                AND s.starts_at <= p.at AND s.ends_at > p.at) AS load
    INTO worst
    FROM (SELECT NEW.starts_at AS at UNION
          SELECT o.starts_at FROM slot o WHERE o.station_id = NEW.station_id AND o.cancelled_at IS NULL
            AND o.starts_at > NEW.starts_at AND o.starts_at < NEW.ends_at) p
    ORDER BY 2 DESC, 1 LIMIT 1;
  IF worst.load > room THEN
    RAISE EXCEPTION 'station over-booked' USING ERRCODE = '23514', CONSTRAINT = 'slot_within_capacity', TABLE = 'slot',
      DETAIL = json_build_object('capacity', room, 'load', worst.load, 'at', worst.at, 'over', worst.load - room)::text;
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER slot_within_capacity AFTER INSERT OR UPDATE OF station_id, starts_at, ends_at, amount, cancelled_at ON slot
  FOR EACH ROW EXECUTE FUNCTION slot_fits_station();

-- A smaller capacity must still hold what is booked.
CREATE FUNCTION station_holds_slots() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  worst record;
BEGIN
  SELECT p.starts_at AS at, (SELECT sum(s.amount) FROM slot s WHERE s.station_id = NEW.id AND s.cancelled_at IS NULL
      AND s.starts_at <= p.starts_at AND s.ends_at > p.starts_at) AS load INTO worst
    FROM slot p WHERE p.station_id = NEW.id AND p.cancelled_at IS NULL
      AND p.ends_at > COALESCE(NULLIF(current_setting('tidelarder.at', true), '')::timestamptz, now()) ORDER BY 2 DESC LIMIT 1;
  IF worst.load > NEW.capacity THEN
    RAISE EXCEPTION 'capacity below what is booked' USING ERRCODE = '23514', CONSTRAINT = 'station_capacity_holds_slots', TABLE = 'station',
      DETAIL = json_build_object('capacity', NEW.capacity, 'load', worst.load, 'at', worst.at)::text;
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER station_capacity_holds_slots AFTER UPDATE OF capacity ON station
  FOR EACH ROW WHEN (NEW.capacity < OLD.capacity) EXECUTE FUNCTION station_holds_slots();

-- --------------------------------------------------------------------------------- claims: only of what may be shared
-- Takes the batch's row first, so that a batch put on hold or recalled at the same moment wins or waits.
CREATE FUNCTION claim_of_clear_pack() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  b record;
BEGIN
  IF NEW.status NOT IN ('asked', 'confirmed') THEN RETURN NEW; END IF;
  SELECT verdict, recalled_at INTO b FROM batch WHERE id = (SELECT batch_id FROM pack WHERE id = NEW.pack_id) FOR NO KEY UPDATE;
  IF b.recalled_at IS NOT NULL THEN
    RAISE EXCEPTION 'the lot is recalled' USING ERRCODE = '23514', CONSTRAINT = 'claim_not_recalled', TABLE = 'claim';
  END IF;
  IF b.verdict <> 'clear' THEN
    RAISE EXCEPTION 'the batch is on hold' USING ERRCODE = '23514', CONSTRAINT = 'claim_not_on_hold', TABLE = 'claim';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER claim_of_clear_pack BEFORE INSERT OR UPDATE OF status ON claim
  FOR EACH ROW EXECUTE FUNCTION claim_of_clear_pack();

CREATE FUNCTION hand_over_of_clear_pack() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  b record;
BEGIN
  SELECT verdict, recalled_at INTO b FROM batch WHERE id = (SELECT batch_id FROM pack WHERE id = NEW.pack_id) FOR NO KEY UPDATE;
  IF b.recalled_at IS NOT NULL THEN
    RAISE EXCEPTION 'the lot is recalled' USING ERRCODE = '23514', CONSTRAINT = 'hand_over_not_recalled', TABLE = 'hand_over';
  END IF;
  IF b.verdict <> 'clear' THEN
    RAISE EXCEPTION 'the batch is on hold' USING ERRCODE = '23514', CONSTRAINT = 'hand_over_not_on_hold', TABLE = 'hand_over';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER hand_over_of_clear_pack BEFORE INSERT ON hand_over
  FOR EACH ROW EXECUTE FUNCTION hand_over_of_clear_pack();

-- --------------------------------------------------------------------------------- revisions, for cached pages
CREATE FUNCTION batch_page_changed() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  r jsonb := to_jsonb(COALESCE(NEW, OLD));
BEGIN
  IF TG_ARGV[0] = 'pack' THEN
    UPDATE batch SET revision = revision + 1 WHERE id = (SELECT batch_id FROM pack WHERE id = (r->>'pack_id')::uuid);
  ELSE
    UPDATE batch SET revision = revision + 1 WHERE id = (r->>'batch_id')::uuid;
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER batch_page_changed AFTER INSERT OR UPDATE OR DELETE ON stage FOR EACH ROW EXECUTE FUNCTION batch_page_changed('batch');
CREATE TRIGGER batch_page_changed AFTER INSERT OR UPDATE OR DELETE ON slot FOR EACH ROW EXECUTE FUNCTION batch_page_changed('batch');
CREATE TRIGGER batch_page_changed AFTER INSERT OR UPDATE OR DELETE ON pack FOR EACH ROW EXECUTE FUNCTION batch_page_changed('batch');
CREATE TRIGGER batch_page_changed AFTER INSERT OR UPDATE OR DELETE ON claim FOR EACH ROW EXECUTE FUNCTION batch_page_changed('pack');
CREATE TRIGGER batch_page_changed AFTER INSERT OR UPDATE OR DELETE ON hand_over FOR EACH ROW EXECUTE FUNCTION batch_page_changed('pack');

CREATE FUNCTION batch_itself_changed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  NEW.revision := OLD.revision + 1;
  RETURN NEW;
END $$;
CREATE TRIGGER batch_itself_changed BEFORE UPDATE ON batch FOR EACH ROW EXECUTE FUNCTION batch_itself_changed();

-- A landing or a draw shows on the page of every batch downstream of it.
CREATE FUNCTION batches_downstream(start_ids uuid[]) RETURNS SETOF uuid LANGUAGE sql STABLE AS $$
  WITH RECURSIVE down(id) AS (
    SELECT unnest(start_ids)
    UNION
    SELECT x.batch_id FROM down, LATERAL (
      SELECT d.batch_id FROM draw d WHERE d.source_batch_id = down.id
      UNION ALL
      SELECT d.batch_id FROM pack p JOIN draw d ON d.source_pack_id = p.id WHERE p.batch_id = down.id
    ) x
  ) SELECT id FROM down
$$;
CREATE FUNCTION origin_changed() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  starts uuid[];
BEGIN
  IF TG_TABLE_NAME = 'landing' THEN
    SELECT array_agg(DISTINCT d.batch_id) INTO starts FROM draw d WHERE d.landing_id = NEW.id;
  ELSE
    starts := ARRAY[(to_jsonb(COALESCE(NEW, OLD))->>'batch_id')::uuid];
    IF to_jsonb(COALESCE(NEW, OLD))->>'source_batch_id' IS NOT NULL THEN
      starts := starts || (to_jsonb(COALESCE(NEW, OLD))->>'source_batch_id')::uuid;
    END IF;
  END IF;
  IF starts IS NOT NULL THEN
    PERFORM 1 FROM batch WHERE id IN (SELECT batches_downstream(starts)) ORDER BY id FOR NO KEY UPDATE;
    UPDATE batch SET revision = revision + 1 WHERE id IN (SELECT batches_downstream(starts));
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER origin_changed AFTER INSERT OR UPDATE OR DELETE ON draw FOR EACH ROW EXECUTE FUNCTION origin_changed();
CREATE TRIGGER origin_changed AFTER UPDATE OF grams, fish_count, species_code, catcher_kind, catcher_member_id, catcher_guest, pooling, form ON landing
  FOR EACH ROW EXECUTE FUNCTION origin_changed();

CREATE FUNCTION shown_name_changed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE club SET names_revision = names_revision + 1 WHERE id = 1;
  RETURN NULL;
END $$;
-- Local days stand on cached pages too.
CREATE FUNCTION club_zone_changed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  NEW.names_revision := OLD.names_revision + 1;
  RETURN NEW;
END $$;
CREATE TRIGGER club_zone_changed BEFORE UPDATE OF time_zone ON club FOR EACH ROW WHEN (NEW.time_zone <> OLD.time_zone) EXECUTE FUNCTION club_zone_changed();
CREATE TRIGGER shown_name_changed AFTER UPDATE OF name ON member FOR EACH ROW WHEN (NEW.name <> OLD.name) EXECUTE FUNCTION shown_name_changed();
CREATE TRIGGER shown_name_changed AFTER UPDATE OF name ON batch FOR EACH ROW WHEN (NEW.name <> OLD.name) EXECUTE FUNCTION shown_name_changed();
CREATE TRIGGER shown_name_changed AFTER UPDATE OF name ON boat FOR EACH ROW WHEN (NEW.name <> OLD.name) EXECUTE FUNCTION shown_name_changed();
CREATE TRIGGER shown_name_changed AFTER UPDATE OF name ON species FOR EACH ROW WHEN (NEW.name <> OLD.name) EXECUTE FUNCTION shown_name_changed();
CREATE TRIGGER shown_name_changed AFTER UPDATE OF name, kind, capacity_unit ON station FOR EACH ROW EXECUTE FUNCTION shown_name_changed();
CREATE TRIGGER shown_name_changed AFTER UPDATE OF day, area, boat_id ON trip FOR EACH ROW EXECUTE FUNCTION shown_name_changed();

-- --------------------------------------------------------------------------------- the record
-- Who: the setting tidelarder.actor, set for each transaction by the service. Arguments: subject kind, parent kind,
-- parent column, then columns whose values are never written down (only that they changed).
CREATE FUNCTION write_record() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  old_row jsonb := CASE WHEN TG_OP <> 'INSERT' THEN to_jsonb(OLD) END;
  new_row jsonb := CASE WHEN TG_OP <> 'DELETE' THEN to_jsonb(NEW) END;
  before_ jsonb;
  after_ jsonb;
  hidden text;
  counters text[] := ARRAY['version', 'revision', 'drawn_grams', 'on_hand_grams', 'packed_grams', 'pack_count', 'booking_seq', 'names_revision', 'token_epoch', 'event_no', 'of_grams'];
  any_row jsonb := COALESCE(new_row, old_row);
  subject text := COALESCE(any_row->>'id', any_row->>'code');
BEGIN
  IF TG_NARGS > 3 THEN
    FOR i IN 3..TG_NARGS - 1 LOOP
      hidden := TG_ARGV[i];
      IF old_row ? hidden AND new_row ? hidden AND old_row->hidden IS DISTINCT FROM new_row->hidden THEN
        old_row := jsonb_set(old_row, ARRAY[hidden], '"(before)"'); new_row := jsonb_set(new_row, ARRAY[hidden], '"(changed)"');
      ELSE
        old_row := old_row - hidden; new_row := new_row - hidden;
      END IF;
    END LOOP;
  END IF;
  old_row := old_row - counters; new_row := new_row - counters;
  IF TG_OP = 'UPDATE' THEN
    SELECT jsonb_object_agg(key, old_row->key), jsonb_object_agg(key, value) INTO before_, after_
      FROM jsonb_each(new_row) WHERE old_row->key IS DISTINCT FROM value;
    IF after_ IS NULL THEN RETURN NULL; END IF;
  ELSE
    before_ := old_row; after_ := new_row;
  END IF;
  INSERT INTO record_entry (at, actor_id, request_id, subject_kind, subject_id, parent_kind, parent_id, action, before, after, reason)
  VALUES (
    COALESCE(NULLIF(current_setting('tidelarder.at', true), '')::timestamptz, now()),
    NULLIF(current_setting('tidelarder.actor', true), '')::uuid,
    NULLIF(current_setting('tidelarder.request', true), ''),
    TG_ARGV[0], subject, NULLIF(TG_ARGV[1], ''),
    CASE WHEN TG_ARGV[2] <> '' THEN any_row->>TG_ARGV[2] END,
    CASE TG_OP WHEN 'INSERT' THEN 'created' WHEN 'UPDATE' THEN 'changed' ELSE 'removed' END,
    before_, after_, NULLIF(current_setting('tidelarder.reason', true), ''));
  RETURN NULL;
END $$;
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON club FOR EACH ROW EXECUTE FUNCTION write_record('club', '', '');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON member FOR EACH ROW EXECUTE FUNCTION write_record('member', '', '', 'password_hash', 'email');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON invitation FOR EACH ROW EXECUTE FUNCTION write_record('invitation', '', '', 'token_hash');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON password_reset FOR EACH ROW EXECUTE FUNCTION write_record('password-reset', 'member', 'member_id', 'token_hash');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON boat FOR EACH ROW EXECUTE FUNCTION write_record('boat', '', '');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON species FOR EACH ROW EXECUTE FUNCTION write_record('species', '', '');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON trip FOR EACH ROW EXECUTE FUNCTION write_record('trip', '', '');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON trip_person FOR EACH ROW EXECUTE FUNCTION write_record('trip-person', 'trip', 'trip_id');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON landing FOR EACH ROW EXECUTE FUNCTION write_record('landing', 'trip', 'trip_id');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON batch FOR EACH ROW EXECUTE FUNCTION write_record('batch', '', '');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON draw FOR EACH ROW EXECUTE FUNCTION write_record('draw', 'batch', 'batch_id');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON stage FOR EACH ROW EXECUTE FUNCTION write_record('stage', 'batch', 'batch_id');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON station FOR EACH ROW EXECUTE FUNCTION write_record('station', '', '');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON slot FOR EACH ROW EXECUTE FUNCTION write_record('slot', 'batch', 'batch_id');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON pack FOR EACH ROW EXECUTE FUNCTION write_record('pack', 'batch', 'batch_id', 'public_code');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON claim FOR EACH ROW EXECUTE FUNCTION write_record('claim', 'pack', 'pack_id');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON hand_over FOR EACH ROW EXECUTE FUNCTION write_record('hand-over', 'pack', 'pack_id');
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON label_layout FOR EACH ROW EXECUTE FUNCTION write_record('label-layout', '', '');

CREATE FUNCTION record_is_final() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'the record is never altered' USING ERRCODE = '23514', CONSTRAINT = 'record_entry_final', TABLE = 'record_entry';
END $$;
CREATE TRIGGER record_entry_final BEFORE UPDATE OR DELETE ON record_entry FOR EACH ROW EXECUTE FUNCTION record_is_final();
