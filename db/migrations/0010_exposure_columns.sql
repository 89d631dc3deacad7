-- The figures are computed anew: what they were kept as cannot be turned into columns with the same meaning.
INSERT INTO "job" ("organisation_id", "id", "kind", "state", "input", "started_by")
  SELECT "organisation_id", gen_random_uuid(), 'exposure', 'waiting', '{"treeIds": null}', ''
  FROM (SELECT DISTINCT "organisation_id" FROM "exposure") computed;--> statement-breakpoint
DELETE FROM "exposure_zone";--> statement-breakpoint
DELETE FROM "exposure";--> statement-breakpoint
CREATE TABLE "exposure_tile" (
	"organisation_id" uuid NOT NULL,
	"job_id" uuid NOT NULL,
	"level" integer NOT NULL,
	"place" bigint NOT NULL,
	"trees" integer NOT NULL,
	"state" text DEFAULT 'waiting' NOT NULL,
	"claimed_by" uuid,
	"claimed_at" timestamp with time zone,
	"changed" integer DEFAULT 0 NOT NULL,
	CONSTRAINT "exposure_tile_organisation_id_job_id_level_place_pk" PRIMARY KEY("organisation_id","job_id","level","place")
);
--> statement-breakpoint
ALTER TABLE "exposure" DROP CONSTRAINT "exposure_organisation_id_tree_id_tree_organisation_id_id_fk";
--> statement-breakpoint
ALTER TABLE "exposure_zone" DROP CONSTRAINT "exposure_zone_organisation_id_tree_id_tree_organisation_id_id_fk";
--> statement-breakpoint
ALTER TABLE "exposure_zone" DROP CONSTRAINT "exposure_zone_organisation_id_zone_id_zone_organisation_id_id_fk";
--> statement-breakpoint
DROP INDEX "exposure_zone_zone";--> statement-breakpoint
ALTER TABLE "exposure_zone" DROP CONSTRAINT "exposure_zone_organisation_id_tree_id_zone_id_pk";--> statement-breakpoint
ALTER TABLE "exposure" DROP COLUMN "flags";--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "flags" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure_zone" ALTER COLUMN "p_touch" SET DATA TYPE real;--> statement-breakpoint
ALTER TABLE "exposure_zone" ALTER COLUMN "p_touch_least" SET DATA TYPE real;--> statement-breakpoint
ALTER TABLE "exposure_zone" ALTER COLUMN "p_touch_most" SET DATA TYPE real;--> statement-breakpoint
ALTER TABLE "exposure_zone" ALTER COLUMN "people" SET DATA TYPE real;--> statement-breakpoint
ALTER TABLE "exposure_zone" ALTER COLUMN "people_least" SET DATA TYPE real;--> statement-breakpoint
ALTER TABLE "exposure_zone" ALTER COLUMN "people_most" SET DATA TYPE real;--> statement-breakpoint
ALTER TABLE "exposure_zone" ALTER COLUMN "people_stem" SET DATA TYPE real;--> statement-breakpoint
ALTER TABLE "exposure_zone" ALTER COLUMN "people_crown" SET DATA TYPE real;--> statement-breakpoint
ALTER TABLE "exposure_zone" ALTER COLUMN "p_any" SET DATA TYPE real;--> statement-breakpoint
ALTER TABLE "exposure_zone" DROP COLUMN "touching";--> statement-breakpoint
ALTER TABLE "exposure_zone" ADD COLUMN "touching" real[] NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure_zone" ADD CONSTRAINT "exposure_zone_organisation_id_zone_id_tree_id_pk" PRIMARY KEY("organisation_id","zone_id","tree_id");--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "p_touch" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "p_touch_least" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "p_touch_most" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "people" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "people_least" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "people_most" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "people_stem" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "people_crown" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "people_scatter" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "p_any" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "p_any_least" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "p_any_most" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "inputs_digest" uuid NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure" ADD COLUMN "policy_edition" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure_zone" ADD COLUMN "people_scatter" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure_zone" ADD COLUMN "p_any_least" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure_zone" ADD COLUMN "p_any_most" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure_zone" ADD COLUMN "ground_stem" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure_zone" ADD COLUMN "ground_crown" real DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "exposure_zone" ADD COLUMN "flags" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
CREATE INDEX "exposure_tile_open" ON "exposure_tile" USING btree ("state");--> statement-breakpoint
CREATE INDEX "exposure_zone_tree" ON "exposure_zone" USING btree ("organisation_id","tree_id");--> statement-breakpoint
CREATE INDEX "rating_targets" ON "rating" USING gin ("scenarios" jsonb_path_ops);--> statement-breakpoint
ALTER TABLE "exposure" DROP COLUMN "joint";--> statement-breakpoint
ALTER TABLE "exposure" DROP COLUMN "density";--> statement-breakpoint
ALTER TABLE "exposure" DROP COLUMN "inputs";