CREATE TABLE "received_entry" (
	"organisation_id" uuid NOT NULL,
	"key" uuid NOT NULL,
	"mark" bigserial NOT NULL,
	"kind" text NOT NULL,
	"digest" text NOT NULL,
	"verdict" text NOT NULL,
	"answer" jsonb,
	"author_id" text NOT NULL,
	"sent_by" text NOT NULL,
	"device_id" uuid NOT NULL,
	"format" integer NOT NULL,
	"made_at" timestamp with time zone NOT NULL,
	"clock_offset_ms" double precision NOT NULL,
	"received_at" timestamp with time zone NOT NULL,
	CONSTRAINT "received_entry_organisation_id_key_pk" PRIMARY KEY("organisation_id","key")
);
--> statement-breakpoint
CREATE TABLE "second_version" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"kind" text NOT NULL,
	"subject_id" uuid NOT NULL,
	"from_version" integer NOT NULL,
	"offered" jsonb NOT NULL,
	"person_id" text NOT NULL,
	"made_at" timestamp with time zone NOT NULL,
	"received_at" timestamp with time zone NOT NULL,
	"state" text NOT NULL,
	"chosen_by" text,
	"chosen_at" timestamp with time zone,
	"replaced" jsonb,
	CONSTRAINT "second_version_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "upload_piece" (
	"organisation_id" uuid NOT NULL,
	"sha256" text NOT NULL,
	"from_byte" integer NOT NULL,
	"content" "bytea" NOT NULL,
	"received_at" timestamp with time zone NOT NULL,
	CONSTRAINT "upload_piece_organisation_id_sha256_from_byte_pk" PRIMARY KEY("organisation_id","sha256","from_byte")
);
--> statement-breakpoint
ALTER TABLE "stop" ADD COLUMN "added_because" text;--> statement-breakpoint
ALTER TABLE "stop" ADD COLUMN "from_crew_id" uuid;--> statement-breakpoint
ALTER TABLE "stop" ADD COLUMN "handed_because" text;--> statement-breakpoint
ALTER TABLE "membership" ADD COLUMN "ended_on" date;--> statement-breakpoint
ALTER TABLE "site" ADD COLUMN "contacts" jsonb DEFAULT '[]'::jsonb NOT NULL;--> statement-breakpoint
ALTER TABLE "photo" ADD COLUMN "copy_of" uuid;--> statement-breakpoint
ALTER TABLE "photo" ADD COLUMN "copy_kind" text;--> statement-breakpoint
ALTER TABLE "visit" ADD COLUMN "clock_offset_ms" double precision;--> statement-breakpoint
CREATE INDEX "received_entry_mark" ON "received_entry" USING btree ("organisation_id","mark");--> statement-breakpoint
CREATE INDEX "second_version_subject" ON "second_version" USING btree ("organisation_id","subject_id");