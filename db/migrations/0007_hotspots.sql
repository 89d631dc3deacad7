CREATE TABLE "hotspot" (
	"organisation_id" uuid NOT NULL,
	"spot" text NOT NULL,
	"zone_id" uuid,
	"cell_x" integer,
	"cell_y" integer,
	"people" double precision NOT NULL,
	"people_least" double precision NOT NULL,
	"people_most" double precision NOT NULL,
	"sum_moderate" double precision NOT NULL,
	"trees" integer NOT NULL,
	"trees_moderate" integer NOT NULL,
	"trees_high" integer NOT NULL,
	"trees_extreme" integer NOT NULL,
	CONSTRAINT "hotspot_organisation_id_spot_pk" PRIMARY KEY("organisation_id","spot")
);
--> statement-breakpoint
CREATE TABLE "hotspot_month" (
	"organisation_id" uuid NOT NULL,
	"spot" text NOT NULL,
	"month" date NOT NULL,
	"name" text,
	"kind" text,
	"people" double precision NOT NULL,
	"people_least" double precision NOT NULL,
	"people_most" double precision NOT NULL,
	"sum_moderate" double precision NOT NULL,
	"trees" integer NOT NULL,
	"trees_moderate" integer NOT NULL,
	"trees_high" integer NOT NULL,
	"trees_extreme" integer NOT NULL,
	CONSTRAINT "hotspot_month_organisation_id_spot_month_pk" PRIMARY KEY("organisation_id","spot","month")
);
--> statement-breakpoint
CREATE TABLE "hotspot_touched" (
	"organisation_id" uuid NOT NULL,
	"zone_id" uuid,
	"cell_x" integer,
	"cell_y" integer
);
--> statement-breakpoint
ALTER TABLE "hotspot" ADD CONSTRAINT "hotspot_organisation_id_zone_id_zone_organisation_id_id_fk" FOREIGN KEY ("organisation_id","zone_id") REFERENCES "public"."zone"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "hotspot_people" ON "hotspot" USING btree ("organisation_id","people");--> statement-breakpoint
CREATE INDEX "hotspot_sum" ON "hotspot" USING btree ("organisation_id","sum_moderate");--> statement-breakpoint
CREATE INDEX "hotspot_rating" ON "hotspot" USING btree ("organisation_id","trees_extreme","trees_high","trees_moderate","people");--> statement-breakpoint
CREATE INDEX "hotspot_zone" ON "hotspot" USING btree ("organisation_id","zone_id");--> statement-breakpoint
CREATE INDEX "hotspot_month_month" ON "hotspot_month" USING btree ("organisation_id","month","trees");--> statement-breakpoint
CREATE FUNCTION hotspot_cell_x(place geometry) RETURNS integer LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
  SELECT least(262143, greatest(0, floor((ST_X(place) + 180) / 360 * 262144)::int)) $$;--> statement-breakpoint
CREATE FUNCTION hotspot_cell_y(place geometry) RETURNS integer LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
  SELECT least(262143, greatest(0, floor((1 - asinh(tan(radians(least(85.05, greatest(-85.05, ST_Y(place)))))) / pi()) / 2 * 262144)::int)) $$;--> statement-breakpoint
CREATE FUNCTION hotspot_touch_zones() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO hotspot_touched (organisation_id, zone_id) SELECT DISTINCT organisation_id, zone_id FROM changed;
  RETURN NULL;
END $$;--> statement-breakpoint
CREATE FUNCTION hotspot_touch_cells() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO hotspot_touched (organisation_id, cell_x, cell_y)
    SELECT DISTINCT t.organisation_id, hotspot_cell_x(t.position), hotspot_cell_y(t.position)
    FROM changed c JOIN tree t ON t.organisation_id = c.organisation_id AND t.id = c.tree_id;
  RETURN NULL;
END $$;--> statement-breakpoint
CREATE FUNCTION hotspot_touch_rated() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO hotspot_touched (organisation_id, zone_id)
    SELECT DISTINCT e.organisation_id, e.zone_id
    FROM changed c JOIN exposure_zone e ON e.organisation_id = c.organisation_id AND e.tree_id = c.tree_id
    WHERE c.risk IS NOT NULL;
  INSERT INTO hotspot_touched (organisation_id, cell_x, cell_y)
    SELECT DISTINCT t.organisation_id, hotspot_cell_x(t.position), hotspot_cell_y(t.position)
    FROM changed c JOIN tree t ON t.organisation_id = c.organisation_id AND t.id = c.tree_id
    WHERE c.risk IS NOT NULL;
  RETURN NULL;
END $$;--> statement-breakpoint
CREATE FUNCTION hotspot_touch_rated_anew() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO hotspot_touched (organisation_id, zone_id)
    SELECT DISTINCT e.organisation_id, e.zone_id
    FROM changed c
    JOIN former f ON f.organisation_id = c.organisation_id AND f.tree_id = c.tree_id AND f.risk IS DISTINCT FROM c.risk
    JOIN exposure_zone e ON e.organisation_id = c.organisation_id AND e.tree_id = c.tree_id;
  INSERT INTO hotspot_touched (organisation_id, cell_x, cell_y)
    SELECT DISTINCT t.organisation_id, hotspot_cell_x(t.position), hotspot_cell_y(t.position)
    FROM changed c
    JOIN former f ON f.organisation_id = c.organisation_id AND f.tree_id = c.tree_id AND f.risk IS DISTINCT FROM c.risk
    JOIN tree t ON t.organisation_id = c.organisation_id AND t.id = c.tree_id;
  RETURN NULL;
END $$;--> statement-breakpoint
CREATE FUNCTION hotspot_touch_moved() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO hotspot_touched (organisation_id, cell_x, cell_y)
    SELECT DISTINCT both_places.organisation_id, hotspot_cell_x(place), hotspot_cell_y(place)
    FROM changed c
    JOIN former f ON f.organisation_id = c.organisation_id AND f.id = c.id
      AND (f.status <> c.status OR NOT ST_Equals(f.position, c.position))
    CROSS JOIN LATERAL (VALUES (c.organisation_id, c.position), (f.organisation_id, f.position)) AS both_places(organisation_id, place);
  INSERT INTO hotspot_touched (organisation_id, zone_id)
    SELECT DISTINCT e.organisation_id, e.zone_id
    FROM changed c
    JOIN former f ON f.organisation_id = c.organisation_id AND f.id = c.id AND f.status <> c.status
    JOIN exposure_zone e ON e.organisation_id = c.organisation_id AND e.tree_id = c.id;
  RETURN NULL;
END $$;--> statement-breakpoint
CREATE TRIGGER hotspot_zone_added AFTER INSERT ON exposure_zone REFERENCING NEW TABLE AS changed FOR EACH STATEMENT EXECUTE FUNCTION hotspot_touch_zones();--> statement-breakpoint
CREATE TRIGGER hotspot_zone_changed AFTER UPDATE ON exposure_zone REFERENCING NEW TABLE AS changed FOR EACH STATEMENT EXECUTE FUNCTION hotspot_touch_zones();--> statement-breakpoint
CREATE TRIGGER hotspot_zone_gone AFTER DELETE ON exposure_zone REFERENCING OLD TABLE AS changed FOR EACH STATEMENT EXECUTE FUNCTION hotspot_touch_zones();--> statement-breakpoint
CREATE TRIGGER hotspot_cell_added AFTER INSERT ON exposure REFERENCING NEW TABLE AS changed FOR EACH STATEMENT EXECUTE FUNCTION hotspot_touch_cells();--> statement-breakpoint
CREATE TRIGGER hotspot_cell_changed AFTER UPDATE ON exposure REFERENCING NEW TABLE AS changed FOR EACH STATEMENT EXECUTE FUNCTION hotspot_touch_cells();--> statement-breakpoint
CREATE TRIGGER hotspot_cell_gone AFTER DELETE ON exposure REFERENCING OLD TABLE AS changed FOR EACH STATEMENT EXECUTE FUNCTION hotspot_touch_cells();--> statement-breakpoint
CREATE TRIGGER hotspot_rated AFTER INSERT ON tree_state REFERENCING NEW TABLE AS changed FOR EACH STATEMENT EXECUTE FUNCTION hotspot_touch_rated();--> statement-breakpoint
CREATE TRIGGER hotspot_rated_anew AFTER UPDATE ON tree_state REFERENCING OLD TABLE AS former NEW TABLE AS changed FOR EACH STATEMENT EXECUTE FUNCTION hotspot_touch_rated_anew();--> statement-breakpoint
CREATE TRIGGER hotspot_moved AFTER UPDATE ON tree REFERENCING OLD TABLE AS former NEW TABLE AS changed FOR EACH STATEMENT EXECUTE FUNCTION hotspot_touch_moved();--> statement-breakpoint
INSERT INTO hotspot_touched (organisation_id, zone_id) SELECT DISTINCT organisation_id, zone_id FROM exposure_zone;--> statement-breakpoint
INSERT INTO hotspot_touched (organisation_id, cell_x, cell_y)
  SELECT DISTINCT t.organisation_id, hotspot_cell_x(t.position), hotspot_cell_y(t.position)
  FROM exposure e JOIN tree t ON t.organisation_id = e.organisation_id AND t.id = e.tree_id;
