-- What counts for or against the fish is taken back with a reason only: readings, a laboratory's figure, a captain's release. The reason is that of the change
-- (tidelarder.reason), which the record keeps; what was withdrawn before stands as it is.
CREATE FUNCTION withdrawn_with_reason() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF btrim(COALESCE(current_setting('tidelarder.reason', true), '')) = '' THEN
    RAISE EXCEPTION 'withdrawn without a reason' USING ERRCODE = '23514', CONSTRAINT = 'withdrawn_with_reason', TABLE = TG_TABLE_NAME;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER withdrawn_with_reason BEFORE UPDATE OF withdrawn_at, withdrawn_nos ON reading_list FOR EACH ROW
  WHEN ((OLD.withdrawn_at IS NULL AND NEW.withdrawn_at IS NOT NULL) OR NOT (NEW.withdrawn_nos <@ OLD.withdrawn_nos)) EXECUTE FUNCTION withdrawn_with_reason();
CREATE TRIGGER withdrawn_with_reason BEFORE UPDATE OF withdrawn_at ON measurement FOR EACH ROW
  WHEN (OLD.withdrawn_at IS NULL AND NEW.withdrawn_at IS NOT NULL) EXECUTE FUNCTION withdrawn_with_reason();
CREATE TRIGGER withdrawn_with_reason BEFORE UPDATE OF withdrawn_at ON release FOR EACH ROW
  WHEN (OLD.withdrawn_at IS NULL AND NEW.withdrawn_at IS NOT NULL) EXECUTE FUNCTION withdrawn_with_reason();
