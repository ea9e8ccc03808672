-- What a cure put on the fish is named on the page of all that was made from the batch, too: its ingredients and allergens follow from it.
CREATE TRIGGER origin_changed AFTER INSERT OR UPDATE OR DELETE ON cure FOR EACH ROW EXECUTE FUNCTION origin_changed();
DROP TRIGGER batch_page_changed ON cure;
