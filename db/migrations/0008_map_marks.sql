CREATE TABLE "map_change" (
	"organisation_id" uuid NOT NULL,
	"layer" text NOT NULL,
	"level" smallint NOT NULL,
	"place" bigint NOT NULL,
	"n" integer NOT NULL
);
--> statement-breakpoint
CREATE TABLE "tree_count" (
	"organisation_id" uuid NOT NULL,
	"level" smallint NOT NULL,
	"cell" bigint NOT NULL,
	"risk" smallint NOT NULL,
	"seen" boolean NOT NULL,
	"week" integer NOT NULL,
	"n" integer NOT NULL,
	"sum_x" bigint NOT NULL,
	"sum_y" bigint NOT NULL
);
--> statement-breakpoint
CREATE TABLE "tree_mark" (
	"organisation_id" uuid NOT NULL,
	"tree_id" uuid NOT NULL,
	"x" integer NOT NULL,
	"y" integer NOT NULL,
	"place" bigint NOT NULL,
	"site_id" uuid,
	"tag" text NOT NULL,
	"names" text NOT NULL,
	"status" text NOT NULL,
	"stem_diameter_cm" real,
	"risk" smallint NOT NULL,
	"seen" boolean NOT NULL,
	"rating_open" boolean NOT NULL,
	"due_on" date,
	"rank" integer GENERATED ALWAYS AS ((case when status in ('standing', 'pole') then 0 else 8 end + 4 - risk) * 1048576
          + coalesce(least(greatest(due_on - date '1970-01-01', 0), 1048574), 1048575)) STORED NOT NULL,
	"square12" bigint GENERATED ALWAYS AS (place >> 26) STORED NOT NULL,
	"square13" bigint GENERATED ALWAYS AS (place >> 24) STORED NOT NULL,
	"square14" bigint GENERATED ALWAYS AS (place >> 22) STORED NOT NULL,
	"square15" bigint GENERATED ALWAYS AS (place >> 20) STORED NOT NULL,
	CONSTRAINT "tree_mark_organisation_id_tree_id_pk" PRIMARY KEY("organisation_id","tree_id")
);
--> statement-breakpoint
CREATE INDEX "map_change_place" ON "map_change" USING btree ("organisation_id","layer","place");--> statement-breakpoint
CREATE INDEX "tree_count_cell" ON "tree_count" USING btree ("organisation_id","level","cell","week","risk","seen");--> statement-breakpoint
CREATE INDEX "tree_mark_place" ON "tree_mark" USING btree ("organisation_id","place");--> statement-breakpoint
CREATE INDEX "tree_mark_due" ON "tree_mark" USING btree ("organisation_id","due_on");--> statement-breakpoint
-- What follows keeps tree_mark, tree_count and map_change in step with the records, whoever writes them, in their transaction.
-- Everything is set-based: once for each statement, however many rows it touches.

-- The squares of which a crowded tile shows the worst tree: enough of each row to narrow without the table.
CREATE INDEX "tree_mark_square12" ON "tree_mark" ("organisation_id","square12","rank","tree_id") INCLUDE ("risk","seen","due_on","site_id");--> statement-breakpoint
CREATE INDEX "tree_mark_square13" ON "tree_mark" ("organisation_id","square13","rank","tree_id") INCLUDE ("risk","seen","due_on","site_id");--> statement-breakpoint
CREATE INDEX "tree_mark_square14" ON "tree_mark" ("organisation_id","square14","rank","tree_id") INCLUDE ("risk","seen","due_on","site_id");--> statement-breakpoint
CREATE INDEX "tree_mark_square15" ON "tree_mark" ("organisation_id","square15","rank","tree_id") INCLUDE ("risk","seen","due_on","site_id");--> statement-breakpoint
-- Tiles from afar show the large zones only.
CREATE INDEX "zone_large" ON "zone" USING gist ("geometry") WHERE "area_m2" >= 1000;--> statement-breakpoint

-- Units of 2^-30 of the web's square projection, from its north-west corner.
CREATE FUNCTION map_x(longitude float8) RETURNS int LANGUAGE sql IMMUTABLE PARALLEL SAFE
AS $$ SELECT least(1073741823, greatest(0, floor((longitude + 180) / 360 * 1073741824)))::int $$;--> statement-breakpoint
CREATE FUNCTION map_y(latitude float8) RETURNS int LANGUAGE sql IMMUTABLE PARALLEL SAFE
AS $$ SELECT least(1073741823, greatest(0, floor((0.5 - ln(
  (1 + sind(least(85.051129, greatest(-85.051129, latitude)))) / (1 - sind(least(85.051129, greatest(-85.051129, latitude))))
  ) / (4 * pi())) * 1073741824)))::int $$;--> statement-breakpoint
CREATE FUNCTION map_spread(v bigint) RETURNS bigint LANGUAGE plpgsql IMMUTABLE PARALLEL SAFE AS $$
BEGIN
  v := (v | (v << 16)) & 281470681808895;
  v := (v | (v << 8)) & 71777214294589695;
  v := (v | (v << 4)) & 1085102592571150095;
  v := (v | (v << 2)) & 3689348814741910323;
  RETURN (v | (v << 1)) & 6148914691236517205;
END $$;--> statement-breakpoint
CREATE FUNCTION map_place(x int, y int) RETURNS bigint LANGUAGE sql IMMUTABLE PARALLEL SAFE
AS $$ SELECT map_spread(x) | (map_spread(y) << 1) $$;--> statement-breakpoint

CREATE VIEW "tree_mark_source" AS
  SELECT m.*, map_place(m.x, m.y) AS place FROM (
    SELECT t.organisation_id, t.id AS tree_id, map_x(ST_X(t.position)) AS x, map_y(ST_Y(t.position)) AS y, t.site_id, t.tag,
      lower(t.species || coalesce(' | ' || t.common_name, '')) AS names, t.status, t.stem_diameter_cm,
      coalesce(array_position(array['low', 'moderate', 'high', 'extreme'], s.risk), 0)::smallint AS risk,
      coalesce(s.seen, false) AS seen, coalesce(s.rating_open, false) AS rating_open, s.due_on
    FROM tree t LEFT JOIN tree_state s ON s.organisation_id = t.organisation_id AND s.tree_id = t.id
  ) m;--> statement-breakpoint

CREATE FUNCTION tree_mark_keep() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  id text := CASE TG_TABLE_NAME WHEN 'tree' THEN 'id' ELSE 'tree_id' END;
BEGIN
  IF TG_TABLE_NAME = 'tree' AND TG_OP = 'DELETE' THEN
    DELETE FROM tree_mark m USING was w WHERE m.organisation_id = w.organisation_id AND m.tree_id = w.id;
    RETURN NULL;
  END IF;
  EXECUTE format($sql$
    INSERT INTO tree_mark AS m
      (organisation_id, tree_id, x, y, place, site_id, tag, names, status, stem_diameter_cm, risk, seen, rating_open, due_on)
    SELECT s.organisation_id, s.tree_id, s.x, s.y, s.place, s.site_id, s.tag, s.names, s.status, s.stem_diameter_cm, s.risk,
      s.seen, s.rating_open, s.due_on
    FROM %I named JOIN tree_mark_source s ON s.organisation_id = named.organisation_id AND s.tree_id = named.%I
    ORDER BY s.place
    ON CONFLICT (organisation_id, tree_id) DO UPDATE SET
      x = excluded.x, y = excluded.y, place = excluded.place, site_id = excluded.site_id, tag = excluded.tag,
      names = excluded.names, status = excluded.status, stem_diameter_cm = excluded.stem_diameter_cm, risk = excluded.risk,
      seen = excluded.seen, rating_open = excluded.rating_open, due_on = excluded.due_on
    WHERE (m.place, m.site_id, m.tag, m.names, m.status, m.stem_diameter_cm, m.risk, m.seen, m.rating_open, m.due_on)
      IS DISTINCT FROM (excluded.place, excluded.site_id, excluded.tag, excluded.names, excluded.status,
        excluded.stem_diameter_cm, excluded.risk, excluded.seen, excluded.rating_open, excluded.due_on)
  $sql$, CASE TG_OP WHEN 'DELETE' THEN 'was' ELSE 'made' END, id);
  RETURN NULL;
END $$;--> statement-breakpoint

-- A changed mark changes its cell of the map, and the counts of the coarser ones.
CREATE FUNCTION tree_mark_count() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  one text := 'SELECT organisation_id, place, x, y, risk, seen, due_on, status, %s AS n FROM %s';
  rows text := CASE TG_OP
    WHEN 'INSERT' THEN format(one, 1, 'made')
    WHEN 'DELETE' THEN format(one, -1, 'was')
    ELSE format(one, 1, 'made') || ' UNION ALL ' || format(one, -1, 'was') END;
BEGIN
  EXECUTE format($sql$
    WITH fresh AS (
      SELECT DISTINCT organisation_id, (place >> 28) << 28 AS place FROM (%s) m
    ), held AS (
      SELECT c.ctid AS at FROM map_change c JOIN fresh f ON c.organisation_id = f.organisation_id AND c.place = f.place
      WHERE c.layer = 'trees' FOR UPDATE OF c SKIP LOCKED
    ), taken AS (
      DELETE FROM map_change c USING held WHERE c.ctid = held.at RETURNING c.organisation_id, c.place, c.n
    )
    INSERT INTO map_change (organisation_id, layer, level, place, n)
    SELECT organisation_id, 'trees', 16, place, sum(n)::int
    FROM (SELECT *, 1 AS n FROM fresh UNION ALL SELECT * FROM taken) added GROUP BY organisation_id, place
  $sql$, rows);
  EXECUTE format($sql$
    WITH fresh AS (
      SELECT organisation_id, level::smallint AS level, place >> (60 - 2 * level) AS cell, risk, seen,
        coalesce(day - (day + 3) %% 7, 0) AS week, sum(n)::int AS n, sum(n * x::bigint)::bigint AS sum_x,
        sum(n * y::bigint)::bigint AS sum_y
      FROM (SELECT *, due_on - date '1970-01-01' AS day FROM (%s) m WHERE status IN ('standing', 'pole')) standing,
        (VALUES (14), (11), (8)) levels(level)
      GROUP BY 1, 2, 3, 4, 5, 6 HAVING sum(n) <> 0 OR sum(n * x::bigint) <> 0 OR sum(n * y::bigint) <> 0
    ), held AS (
      SELECT c.ctid AS at FROM tree_count c JOIN fresh f ON c.organisation_id = f.organisation_id AND c.level = f.level
        AND c.cell = f.cell AND c.week = f.week AND c.risk = f.risk AND c.seen = f.seen
      FOR UPDATE OF c SKIP LOCKED
    ), taken AS (
      DELETE FROM tree_count c USING held WHERE c.ctid = held.at
      RETURNING c.organisation_id, c.level, c.cell, c.risk, c.seen, c.week, c.n, c.sum_x, c.sum_y
    )
    INSERT INTO tree_count (organisation_id, level, cell, risk, seen, week, n, sum_x, sum_y)
    SELECT organisation_id, level, cell, risk, seen, week, sum(n)::int, sum(sum_x)::bigint, sum(sum_y)::bigint
    FROM (SELECT * FROM fresh UNION ALL SELECT * FROM taken) added GROUP BY 1, 2, 3, 4, 5, 6
    HAVING sum(n) <> 0 OR sum(sum_x) <> 0 OR sum(sum_y) <> 0
  $sql$, rows);
  RETURN NULL;
END $$;--> statement-breakpoint

-- A changed area or line changes the cells that its box touches, of a size of which few cover it.
CREATE FUNCTION ground_change() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  one text := 'SELECT organisation_id, id, geometry, name, kind FROM %s';
  rows text := CASE TG_OP
    WHEN 'INSERT' THEN format(one, 'made')
    WHEN 'DELETE' THEN format(one, 'was')
    ELSE format('(%s EXCEPT %s) UNION ALL (%s EXCEPT %s)', format(one, 'made'), format(one, 'was'),
      format(one, 'was'), format(one, 'made')) END;
BEGIN
  EXECUTE format($sql$
    WITH boxes AS (
      SELECT organisation_id, map_x(ST_XMin(geometry)) AS west, map_x(ST_XMax(geometry)) AS east,
        map_y(ST_YMax(geometry)) AS north, map_y(ST_YMin(geometry)) AS south
      FROM (%s) changed
    ), levelled AS (
      SELECT *, 30 - least(30, greatest(14, ceil(log(2, greatest(1, east - west, south - north)))::int)) AS level FROM boxes
    ), fresh AS (
      SELECT DISTINCT organisation_id, level::smallint AS level, map_place(cx << (30 - level), cy << (30 - level)) AS place
      FROM levelled, generate_series(west >> (30 - level), east >> (30 - level)) cx,
        generate_series(north >> (30 - level), south >> (30 - level)) cy
    ), held AS (
      SELECT c.ctid AS at FROM map_change c JOIN fresh f
        ON c.organisation_id = f.organisation_id AND c.place = f.place AND c.level = f.level
      WHERE c.layer = 'ground' FOR UPDATE OF c SKIP LOCKED
    ), taken AS (
      DELETE FROM map_change c USING held WHERE c.ctid = held.at RETURNING c.organisation_id, c.level, c.place, c.n
    )
    INSERT INTO map_change (organisation_id, layer, level, place, n)
    SELECT organisation_id, 'ground', level, place, sum(n)::int
    FROM (SELECT *, 1 AS n FROM fresh UNION ALL SELECT * FROM taken) added GROUP BY organisation_id, level, place
  $sql$, rows);
  RETURN NULL;
END $$;--> statement-breakpoint
CREATE TRIGGER tree_mark_keep_insert AFTER INSERT ON "tree" REFERENCING NEW TABLE AS made FOR EACH STATEMENT EXECUTE FUNCTION tree_mark_keep();--> statement-breakpoint
CREATE TRIGGER tree_mark_keep_update AFTER UPDATE ON "tree" REFERENCING OLD TABLE AS was NEW TABLE AS made FOR EACH STATEMENT EXECUTE FUNCTION tree_mark_keep();--> statement-breakpoint
CREATE TRIGGER tree_mark_keep_delete AFTER DELETE ON "tree" REFERENCING OLD TABLE AS was FOR EACH STATEMENT EXECUTE FUNCTION tree_mark_keep();--> statement-breakpoint
CREATE TRIGGER tree_mark_keep_insert AFTER INSERT ON "tree_state" REFERENCING NEW TABLE AS made FOR EACH STATEMENT EXECUTE FUNCTION tree_mark_keep();--> statement-breakpoint
CREATE TRIGGER tree_mark_keep_update AFTER UPDATE ON "tree_state" REFERENCING OLD TABLE AS was NEW TABLE AS made FOR EACH STATEMENT EXECUTE FUNCTION tree_mark_keep();--> statement-breakpoint
CREATE TRIGGER tree_mark_keep_delete AFTER DELETE ON "tree_state" REFERENCING OLD TABLE AS was FOR EACH STATEMENT EXECUTE FUNCTION tree_mark_keep();--> statement-breakpoint
CREATE TRIGGER tree_mark_count_insert AFTER INSERT ON "tree_mark" REFERENCING NEW TABLE AS made FOR EACH STATEMENT EXECUTE FUNCTION tree_mark_count();--> statement-breakpoint
CREATE TRIGGER tree_mark_count_update AFTER UPDATE ON "tree_mark" REFERENCING OLD TABLE AS was NEW TABLE AS made FOR EACH STATEMENT EXECUTE FUNCTION tree_mark_count();--> statement-breakpoint
CREATE TRIGGER tree_mark_count_delete AFTER DELETE ON "tree_mark" REFERENCING OLD TABLE AS was FOR EACH STATEMENT EXECUTE FUNCTION tree_mark_count();--> statement-breakpoint
CREATE TRIGGER ground_change_insert AFTER INSERT ON "zone" REFERENCING NEW TABLE AS made FOR EACH STATEMENT EXECUTE FUNCTION ground_change();--> statement-breakpoint
CREATE TRIGGER ground_change_update AFTER UPDATE ON "zone" REFERENCING OLD TABLE AS was NEW TABLE AS made FOR EACH STATEMENT EXECUTE FUNCTION ground_change();--> statement-breakpoint
CREATE TRIGGER ground_change_delete AFTER DELETE ON "zone" REFERENCING OLD TABLE AS was FOR EACH STATEMENT EXECUTE FUNCTION ground_change();--> statement-breakpoint
CREATE TRIGGER ground_change_insert AFTER INSERT ON "ground_feature" REFERENCING NEW TABLE AS made FOR EACH STATEMENT EXECUTE FUNCTION ground_change();--> statement-breakpoint
CREATE TRIGGER ground_change_update AFTER UPDATE ON "ground_feature" REFERENCING OLD TABLE AS was NEW TABLE AS made FOR EACH STATEMENT EXECUTE FUNCTION ground_change();--> statement-breakpoint
CREATE TRIGGER ground_change_delete AFTER DELETE ON "ground_feature" REFERENCING OLD TABLE AS was FOR EACH STATEMENT EXECUTE FUNCTION ground_change();--> statement-breakpoint

-- All marks of an organisation anew: for records that were written while the triggers were off.
CREATE FUNCTION remake_tree_marks(organisation uuid) RETURNS void LANGUAGE sql AS $$
  DELETE FROM tree_mark WHERE organisation_id = organisation;
  INSERT INTO tree_mark
    (organisation_id, tree_id, x, y, place, site_id, tag, names, status, stem_diameter_cm, risk, seen, rating_open, due_on)
  SELECT organisation_id, tree_id, x, y, place, site_id, tag, names, status, stem_diameter_cm, risk, seen, rating_open, due_on
  FROM tree_mark_source WHERE organisation_id = organisation ORDER BY place
$$;--> statement-breakpoint
SELECT remake_tree_marks(id) FROM organisation;
