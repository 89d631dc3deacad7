CREATE TABLE "exposure_policy" (
	"organisation_id" uuid NOT NULL,
	"edition" integer NOT NULL,
	"content" jsonb NOT NULL,
	"reason" text NOT NULL,
	"made_by" text NOT NULL,
	"made_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "exposure_policy_organisation_id_edition_pk" PRIMARY KEY("organisation_id","edition")
);
--> statement-breakpoint
ALTER TABLE "zone" ADD COLUMN "seasons" jsonb DEFAULT '[]'::jsonb NOT NULL;--> statement-breakpoint
ALTER TABLE "zone" ADD COLUMN "group_size" real;--> statement-breakpoint
ALTER TABLE "tree" ADD COLUMN "slope" jsonb;