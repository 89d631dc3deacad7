CREATE TABLE "probe_borders" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"probe_id" uuid NOT NULL,
	"entry" bigserial NOT NULL,
	"bark_cm" double precision NOT NULL,
	"segments" jsonb NOT NULL,
	"moved" boolean NOT NULL,
	"note" text NOT NULL,
	"person_id" text NOT NULL,
	"at" timestamp with time zone NOT NULL,
	CONSTRAINT "probe_borders_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
ALTER TABLE "probe" ALTER COLUMN "height_m" SET DATA TYPE double precision USING "height_m"::text::double precision;--> statement-breakpoint
ALTER TABLE "probe" ALTER COLUMN "entry_bearing_deg" SET DATA TYPE double precision USING "entry_bearing_deg"::text::double precision;--> statement-breakpoint
ALTER TABLE "probe" ALTER COLUMN "entry_bearing_deg" DROP NOT NULL;--> statement-breakpoint
ALTER TABLE "probe" ALTER COLUMN "direction_deg" SET DATA TYPE double precision USING "direction_deg"::text::double precision;--> statement-breakpoint
ALTER TABLE "probe" ALTER COLUMN "direction_deg" DROP NOT NULL;--> statement-breakpoint
ALTER TABLE "probe" ALTER COLUMN "reason" SET DEFAULT '';--> statement-breakpoint
ALTER TABLE "probe" ADD COLUMN "label" text DEFAULT '' NOT NULL;--> statement-breakpoint
ALTER TABLE "probe" ADD COLUMN "tilt_deg" double precision;--> statement-breakpoint
UPDATE "probe" SET "tilt_deg" = 0 WHERE "kind" IN ('core', 'drill-trace', 'fracture-test');--> statement-breakpoint
ALTER TABLE "probe" ADD COLUMN "instrument_condition" text DEFAULT '' NOT NULL;--> statement-breakpoint
ALTER TABLE "probe" ADD COLUMN "operator" text DEFAULT '' NOT NULL;--> statement-breakpoint
ALTER TABLE "probe" ADD COLUMN "disinfected" boolean;--> statement-breakpoint
ALTER TABLE "probe_borders" ADD CONSTRAINT "probe_borders_probe_fk" FOREIGN KEY ("organisation_id","probe_id") REFERENCES "public"."probe"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "probe_borders_probe" ON "probe_borders" USING btree ("organisation_id","probe_id");--> statement-breakpoint
CREATE INDEX "probe_visit" ON "probe" USING btree ("organisation_id","visit_id");