CREATE TABLE "estimate_decision" (
	"organisation_id" uuid NOT NULL,
	"number" integer NOT NULL,
	"switched_on" boolean NOT NULL,
	"text" text NOT NULL,
	"content" jsonb NOT NULL,
	"made_by" text NOT NULL,
	"made_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "estimate_decision_organisation_id_number_pk" PRIMARY KEY("organisation_id","number")
);
--> statement-breakpoint
CREATE TABLE "scenario_exposure" (
	"organisation_id" uuid NOT NULL,
	"scenario_id" uuid NOT NULL,
	"tree_id" uuid NOT NULL,
	"zones" jsonb NOT NULL,
	"exposure_at" timestamp with time zone NOT NULL,
	CONSTRAINT "scenario_exposure_organisation_id_scenario_id_pk" PRIMARY KEY("organisation_id","scenario_id")
);
--> statement-breakpoint
CREATE TABLE "gust" (
	"organisation_id" uuid NOT NULL,
	"site_id" uuid NOT NULL,
	"on" date NOT NULL,
	"station" text NOT NULL,
	"gust_mps" real NOT NULL,
	"from_deg" real,
	"at" timestamp with time zone NOT NULL,
	"wind_file_id" uuid NOT NULL,
	CONSTRAINT "gust_organisation_id_site_id_on_station_pk" PRIMARY KEY("organisation_id","site_id","on","station")
);
--> statement-breakpoint
CREATE TABLE "wind_file" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"site_id" uuid NOT NULL,
	"file_name" text NOT NULL,
	"digest" text NOT NULL,
	"request" jsonb NOT NULL,
	"summary" jsonb NOT NULL,
	"rose" jsonb,
	"replaced" jsonb,
	"made_by" text NOT NULL,
	"made_at" timestamp with time zone DEFAULT now() NOT NULL,
	"accepted_by" text,
	"accepted_at" timestamp with time zone,
	CONSTRAINT "wind_file_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
ALTER TABLE "scenario_exposure" ADD CONSTRAINT "scenario_exposure_organisation_id_tree_id_tree_organisation_id_id_fk" FOREIGN KEY ("organisation_id","tree_id") REFERENCES "public"."tree"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "gust" ADD CONSTRAINT "gust_organisation_id_wind_file_id_wind_file_organisation_id_id_fk" FOREIGN KEY ("organisation_id","wind_file_id") REFERENCES "public"."wind_file"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "wind_file" ADD CONSTRAINT "wind_file_organisation_id_site_id_site_organisation_id_id_fk" FOREIGN KEY ("organisation_id","site_id") REFERENCES "public"."site"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "scenario_exposure_tree" ON "scenario_exposure" USING btree ("organisation_id","tree_id");--> statement-breakpoint
CREATE INDEX "gust_on" ON "gust" USING btree ("organisation_id","on");--> statement-breakpoint
CREATE INDEX "wind_file_site" ON "wind_file" USING btree ("organisation_id","site_id");