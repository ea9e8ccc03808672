-- Wet flesh does not pass the boiling point: asked of a core when it is written. What was stored before stands, and another column of its row may be written.
ALTER TABLE "stage" DROP CONSTRAINT "stage_core_possible";
CREATE FUNCTION stage_core_is_possible() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'a core of % C is not possible', NEW.max_core_c USING ERRCODE = '23514', CONSTRAINT = 'stage_core_possible', TABLE = 'stage';
END $$;
CREATE TRIGGER stage_core_possible BEFORE INSERT OR UPDATE OF max_core_c, cancelled_at ON stage
  FOR EACH ROW WHEN (NEW.cancelled_at IS NULL AND NEW.max_core_c NOT BETWEEN -5 AND 100) EXECUTE FUNCTION stage_core_is_possible();
