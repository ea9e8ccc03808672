-- What was flagged as Fahrenheit is kept as hot as it came; what has no flag has a temperature that can be. Without a flag
-- the comparison with it is unknown, which a check lets pass.
ALTER TABLE "reading" DROP CONSTRAINT "reading_celsius_possible";
ALTER TABLE "reading" ADD CONSTRAINT "reading_celsius_possible" CHECK (
  "celsius" BETWEEN -80 AND 300 OR coalesce("flag" IN ('probe-error', 'fahrenheit'), false));
