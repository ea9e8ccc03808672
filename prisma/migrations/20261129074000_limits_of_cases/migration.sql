-- A club may tighten the temperatures that open or close a case as well: warm air and water, the hours in the warm, the ends of cooling; the cure that
-- needs no cold place; and what the heat has to be worth. Made from the registry by server/features/rules/limit-constraint.ts. Every row that was allowed still is.
CREATE OR REPLACE FUNCTION club_limit_allowed(id text, value double precision) RETURNS boolean LANGUAGE sql IMMUTABLE AS $$
  SELECT CASE id
    WHEN 'chill.hot.hours' THEN value BETWEEN 0.5 AND 6
    WHEN 'chill.hot.celsius' THEN value BETWEEN 0 AND 28.3
    WHEN 'chill.mild.hours' THEN value BETWEEN 0.5 AND 9
    WHEN 'chill.gutted.hours' THEN value BETWEEN 0.5 AND 12
    WHEN 'chill.internal.24h.celsius' THEN value BETWEEN -2 AND 4.4
    WHEN 'chill.internal.15h.celsius' THEN value BETWEEN -2 AND 10
    WHEN 'chill.internal.12h.celsius' THEN value BETWEEN -2 AND 15.6
    WHEN 'chill.internal.below.degrees' THEN value BETWEEN 3 AND 20
    WHEN 'chill.exposure.hours' THEN value BETWEEN 0.5 AND 8
    WHEN 'chill.exposure.warm-hours' THEN value BETWEEN 0.5 AND 4
    WHEN 'chill.exposure.frozen-hours' THEN value BETWEEN 0.5 AND 24
    WHEN 'chill.exposure.frozen-warm-hours' THEN value BETWEEN 0.5 AND 12
    WHEN 'chill.exposure.cold.celsius' THEN value BETWEEN 0 AND 4.4
    WHEN 'chill.exposure.warm.celsius' THEN value BETWEEN 5 AND 21.1
    WHEN 'raw.cold.celsius' THEN value BETWEEN -2 AND 3.3
    WHEN 'thaw.celsius' THEN value BETWEEN 0 AND 7.2
    WHEN 'thaw.water.celsius' THEN value BETWEEN 0 AND 21
    WHEN 'brine.start.celsius' THEN value BETWEEN 0 AND 15.6
    WHEN 'brine.cold.celsius' THEN value BETWEEN 0 AND 3.3
    WHEN 'brine.cold.hours' THEN value BETWEEN 0 AND 4
    WHEN 'nitrite.ppm' THEN value BETWEEN 100 AND 200
    WHEN 'smoke.core.celsius' THEN value BETWEEN 62.8 AND 95
    WHEN 'smoke.core.minutes' THEN value BETWEEN 30 AND 600
    WHEN 'smoke.lethality.minutes' THEN value BETWEEN 2 AND 60
    WHEN 'smoke.core-home.celsius' THEN value BETWEEN 65.6 AND 95
    WHEN 'smoke.core-home.minutes' THEN value BETWEEN 30 AND 600
    WHEN 'smoke.core-home.air-from.celsius' THEN value BETWEEN 93 AND 100
    WHEN 'smoke.core-home.air-to.celsius' THEN value BETWEEN 100 AND 107
    WHEN 'smoke.cold.celsius' THEN value BETWEEN 32.2 AND 80
    WHEN 'cool.fc.first-minutes' THEN value BETWEEN 15 AND 120
    WHEN 'cool.fc.total-minutes' THEN value BETWEEN 30 AND 360
    WHEN 'cool.fc.first.celsius' THEN value BETWEEN 5 AND 21
    WHEN 'cool.fc.end.celsius' THEN value BETWEEN 0 AND 5
    WHEN 'cool.hg.first-minutes' THEN value BETWEEN 15 AND 120
    WHEN 'cool.hg.second-minutes' THEN value BETWEEN 15 AND 240
    WHEN 'cool.hg.first.celsius' THEN value BETWEEN 5 AND 21
    WHEN 'cool.hg.end.celsius' THEN value BETWEEN 0 AND 4.4
    WHEN 'cool.ambient.minutes' THEN value BETWEEN 15 AND 240
    WHEN 'cool.ambient.celsius' THEN value BETWEEN 0 AND 5
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
