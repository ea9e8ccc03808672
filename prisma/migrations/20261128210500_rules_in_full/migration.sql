-- AlterTable
ALTER TABLE "club" ADD COLUMN     "gutted_source" TEXT NOT NULL DEFAULT '';

-- AlterTable
ALTER TABLE "landing" ADD COLUMN     "gutted_at" TIMESTAMPTZ(3),
ADD COLUMN     "landed_at" TIMESTAMPTZ(3);

-- AlterTable
ALTER TABLE "stage" ADD COLUMN     "from_frozen" BOOLEAN NOT NULL DEFAULT false;

-- Written by hand from here on.

ALTER TABLE "stage" ADD CONSTRAINT "stage_thawed_where_prepared" CHECK ("kind" = 'prepare' OR NOT "from_frozen");

ALTER TABLE "landing"
  ADD CONSTRAINT "landing_landed_after_caught" CHECK ("landed_at" >= "caught_at"),
  ADD CONSTRAINT "landing_gutted_after_caught" CHECK ("gutted_at" >= "caught_at");
ALTER TABLE "club" ADD CONSTRAINT "club_gutted_source_said" CHECK ("gutted_source" = '' OR length(btrim("gutted_source")) >= 10);

-- A dip is cold again by a time that is typed with its mixing (rule cool.ambient).
ALTER TABLE "stage" DROP CONSTRAINT "stage_evidence_where_smoked";
ALTER TABLE "stage" ADD CONSTRAINT "stage_evidence_where_smoked" CHECK (
  "kind" = 'smoke' OR ("max_core_c" IS NULL AND "hold_minutes" IS NULL AND ("kind" = 'cool' OR ("cooled_to_21_at" IS NULL AND ("kind" = 'mix' OR "cooled_at" IS NULL)))));

ALTER TABLE "release" DROP CONSTRAINT "release_never_of_these";
ALTER TABLE "release" ADD CONSTRAINT "release_never_of_these" CHECK ("rule_id" !~ '^(smoke|cool|chill|salt|rop|parasite|species|date|nitrite)\M');

-- What a club may set each limit to: the rule's own, or stricter, up to what makes sense. Made from the registry of rules by
-- server/features/rules/limit-constraint.ts; a test holds the two together.
CREATE FUNCTION club_limit_allowed(id text, value double precision) RETURNS boolean LANGUAGE sql IMMUTABLE AS $$
  SELECT CASE id
    WHEN 'chill.hot.hours' THEN value BETWEEN 0.5 AND 6
    WHEN 'chill.mild.hours' THEN value BETWEEN 0.5 AND 9
    WHEN 'chill.gutted.hours' THEN value BETWEEN 0.5 AND 12
    WHEN 'chill.exposure.hours' THEN value BETWEEN 0.5 AND 8
    WHEN 'chill.exposure.warm-hours' THEN value BETWEEN 0.5 AND 4
    WHEN 'chill.exposure.frozen-hours' THEN value BETWEEN 0.5 AND 24
    WHEN 'chill.exposure.frozen-warm-hours' THEN value BETWEEN 0.5 AND 12
    WHEN 'raw.cold.celsius' THEN value BETWEEN -2 AND 3.3
    WHEN 'thaw.celsius' THEN value BETWEEN 0 AND 7.2
    WHEN 'thaw.water.celsius' THEN value BETWEEN 0 AND 21
    WHEN 'brine.start.celsius' THEN value BETWEEN 0 AND 15.6
    WHEN 'brine.cold.celsius' THEN value BETWEEN 0 AND 3.3
    WHEN 'nitrite.ppm' THEN value BETWEEN 100 AND 200
    WHEN 'smoke.core.celsius' THEN value BETWEEN 62.8 AND 95
    WHEN 'smoke.core.minutes' THEN value BETWEEN 30 AND 600
    WHEN 'cool.fc.first-minutes' THEN value BETWEEN 15 AND 120
    WHEN 'cool.fc.total-minutes' THEN value BETWEEN 30 AND 360
    WHEN 'cool.hg.first-minutes' THEN value BETWEEN 15 AND 120
    WHEN 'cool.hg.second-minutes' THEN value BETWEEN 15 AND 240
    WHEN 'cool.ambient.minutes' THEN value BETWEEN 15 AND 240
    WHEN 'hold.cold.celsius' THEN value BETWEEN -2 AND 3.3
    WHEN 'salt.air.percent' THEN value BETWEEN 3 AND 20
    WHEN 'salt.rop.percent' THEN value BETWEEN 3.5 AND 20
    WHEN 'salt.rop.with-nitrite-percent' THEN value BETWEEN 3 AND 20
    WHEN 'parasite.celsius' THEN value BETWEEN -40 AND -20
    WHEN 'parasite.hours' THEN value BETWEEN 168 AND 2000
    WHEN 'parasite.deep.celsius' THEN value BETWEEN -40 AND -35
    WHEN 'parasite.deep.hours' THEN value BETWEEN 15 AND 2000
    WHEN 'parasite.then.hours' THEN value BETWEEN 24 AND 2000
    WHEN 'date.dip.days' THEN value BETWEEN 1 AND 3 AND value = floor(value)
    WHEN 'date.seven.days' THEN value BETWEEN 1 AND 7 AND value = floor(value)
    WHEN 'date.fourteen.days' THEN value BETWEEN 7 AND 14 AND value = floor(value)
    WHEN 'date.fourteen.celsius' THEN value BETWEEN -2 AND 2.2
    WHEN 'date.frozen.months' THEN value BETWEEN 1 AND 2 AND value = floor(value)
    WHEN 'date.raw.days' THEN value BETWEEN 0 AND 1 AND value = floor(value)
    WHEN 'date.raw.lean-months' THEN value BETWEEN 1 AND 6 AND value = floor(value)
    WHEN 'date.raw.fatty-months' THEN value BETWEEN 1 AND 2 AND value = floor(value)
    ELSE false END
$$;
-- A row beyond that counted for nothing.
DELETE FROM "club_limit" WHERE NOT club_limit_allowed("id", "value");
ALTER TABLE "club_limit" ADD CONSTRAINT "club_limit_within_rule" CHECK (club_limit_allowed("id", "value"));

-- Raw fish was held against the limit of kept fish; a club that tightened it keeps that.
INSERT INTO "club_limit" ("id", "value", "set_by_id", "set_at") SELECT 'raw.cold.celsius', "value", "set_by_id", "set_at" FROM "club_limit" WHERE "id" = 'hold.cold.celsius';

-- Pages show checks by the club's own limits and source.
CREATE TRIGGER shown_name_changed AFTER INSERT OR UPDATE OR DELETE ON club_limit FOR EACH ROW EXECUTE FUNCTION shown_name_changed();
CREATE TRIGGER club_source_changed BEFORE UPDATE OF gutted_source ON club FOR EACH ROW WHEN (NEW.gutted_source <> OLD.gutted_source) EXECUTE FUNCTION club_zone_changed();
