-- hold.cold: what stood too warm is not let go while a pack of it without air is not frozen, and no such pack is made of what was let go.
CREATE FUNCTION release_leaves_no_pack_without_air() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM pack WHERE batch_id = NEW.batch_id AND package_kind IN ('vacuum', 'jar') AND storage <> 'frozen' AND status NOT IN ('used', 'discarded')) THEN
    RAISE EXCEPTION 'a pack without air stood too warm' USING ERRCODE = '23514', CONSTRAINT = 'release_warm_without_air', TABLE = 'release';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER release_warm_without_air AFTER INSERT OR UPDATE OF withdrawn_at ON release
  FOR EACH ROW WHEN (NEW.rule_id = 'hold.cold' AND NEW.withdrawn_at IS NULL) EXECUTE FUNCTION release_leaves_no_pack_without_air();

CREATE FUNCTION pack_without_air_was_cold() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM release WHERE batch_id = NEW.batch_id AND rule_id = 'hold.cold' AND withdrawn_at IS NULL) THEN
    RAISE EXCEPTION 'a pack without air of what stood too warm' USING ERRCODE = '23514', CONSTRAINT = 'pack_without_air_let_go_warm', TABLE = 'pack';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER pack_without_air_let_go_warm AFTER INSERT OR UPDATE OF package_kind, storage ON pack
  FOR EACH ROW WHEN (NEW.package_kind IN ('vacuum', 'jar') AND NEW.storage <> 'frozen') EXECUTE FUNCTION pack_without_air_was_cold();
