-- CreateTable
CREATE TABLE "formula" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "method" TEXT NOT NULL,
    "fish_grams" INTEGER NOT NULL,
    "items" JSONB NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "retired_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "formula_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "formula_name_key" ON "formula"("name");

-- Rules that live in the database.
CREATE UNIQUE INDEX "formula_name_any_case" ON "formula"(lower("name"));
ALTER TABLE "formula" ADD CONSTRAINT "formula_method_known" CHECK ("method" IN ('dry', 'brine'));
ALTER TABLE "formula" ADD CONSTRAINT "formula_fish_positive" CHECK ("fish_grams" BETWEEN 1 AND 1000000);
ALTER TABLE "formula" ADD CONSTRAINT "formula_items_some" CHECK (
  CASE WHEN jsonb_typeof("items") = 'array' THEN jsonb_array_length("items") BETWEEN 1 AND 40 ELSE false END);
CREATE TRIGGER write_record AFTER INSERT OR UPDATE OR DELETE ON formula FOR EACH ROW EXECUTE FUNCTION write_record('formula', '', '');
