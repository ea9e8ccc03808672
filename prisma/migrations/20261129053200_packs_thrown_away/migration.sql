-- What is used up or thrown away is kept no longer, so nothing asks any more how it is kept. Thrown away and back again it is asked anew.
DROP TRIGGER pack_reduced_oxygen_frozen ON pack;
CREATE TRIGGER pack_reduced_oxygen_frozen AFTER INSERT OR UPDATE OF package_kind, storage ON pack
  FOR EACH ROW WHEN (NEW.package_kind IN ('vacuum', 'jar') AND NEW.storage <> 'frozen' AND NEW.status NOT IN ('used', 'discarded')) EXECUTE FUNCTION pack_without_air_is_safe();
CREATE TRIGGER pack_reduced_oxygen_back AFTER UPDATE OF status ON pack
  FOR EACH ROW WHEN (OLD.status = 'discarded' AND NEW.package_kind IN ('vacuum', 'jar') AND NEW.storage <> 'frozen' AND NEW.status <> 'discarded') EXECUTE FUNCTION pack_without_air_is_safe();

DROP TRIGGER pack_frozen_at_once ON pack;
CREATE TRIGGER pack_frozen_at_once AFTER INSERT OR UPDATE OF package_kind, storage, frozen_day ON pack
  FOR EACH ROW WHEN (NEW.package_kind IN ('vacuum', 'jar') AND NEW.storage = 'frozen' AND NEW.status NOT IN ('used', 'discarded') AND pack_frozen_late(NEW.id, NEW.packed_at, NEW.frozen_day))
  EXECUTE FUNCTION pack_without_air_is_safe();
CREATE TRIGGER pack_frozen_at_once_back AFTER UPDATE OF status ON pack
  FOR EACH ROW WHEN (OLD.status = 'discarded' AND NEW.package_kind IN ('vacuum', 'jar') AND NEW.storage = 'frozen' AND NEW.status <> 'discarded' AND pack_frozen_late(NEW.id, NEW.packed_at, NEW.frozen_day))
  EXECUTE FUNCTION pack_without_air_is_safe();

DROP TRIGGER pack_without_air_let_go_warm ON pack;
CREATE TRIGGER pack_without_air_let_go_warm AFTER INSERT OR UPDATE OF package_kind, storage ON pack
  FOR EACH ROW WHEN (NEW.package_kind IN ('vacuum', 'jar') AND NEW.storage <> 'frozen' AND NEW.status NOT IN ('used', 'discarded')) EXECUTE FUNCTION pack_without_air_was_cold();
CREATE TRIGGER pack_without_air_back_warm AFTER UPDATE OF status ON pack
  FOR EACH ROW WHEN (OLD.status = 'discarded' AND NEW.package_kind IN ('vacuum', 'jar') AND NEW.storage <> 'frozen' AND NEW.status <> 'discarded') EXECUTE FUNCTION pack_without_air_was_cold();
