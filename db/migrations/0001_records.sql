CREATE TABLE "day_sheet" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"plan_id" uuid NOT NULL,
	"crew_id" uuid NOT NULL,
	"date" date NOT NULL,
	"start_minute" integer NOT NULL,
	"end_minute" integer NOT NULL,
	"travel_minutes" real NOT NULL,
	"travel_m" real NOT NULL,
	"service_minutes" real NOT NULL,
	"published_at" timestamp with time zone,
	CONSTRAINT "day_sheet_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "import_batch" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"kind" text NOT NULL,
	"file_name" text NOT NULL,
	"file" "bytea",
	"columns" jsonb DEFAULT '[]'::jsonb NOT NULL,
	"mapping" jsonb,
	"state" text NOT NULL,
	"counts" jsonb DEFAULT '{}'::jsonb NOT NULL,
	"notes" jsonb DEFAULT '[]'::jsonb NOT NULL,
	"refusal" jsonb,
	"made_by" text NOT NULL,
	"made_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "import_batch_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "import_row" (
	"organisation_id" uuid NOT NULL,
	"batch_id" uuid NOT NULL,
	"line" integer NOT NULL,
	"verdict" text NOT NULL,
	"notes" jsonb NOT NULL,
	"raw" jsonb NOT NULL,
	"record" jsonb,
	"source_key" text,
	"change" text,
	"differences" jsonb,
	CONSTRAINT "import_row_organisation_id_batch_id_line_pk" PRIMARY KEY("organisation_id","batch_id","line")
);
--> statement-breakpoint
CREATE TABLE "job" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"kind" text NOT NULL,
	"subject_id" uuid,
	"state" text NOT NULL,
	"done" integer DEFAULT 0 NOT NULL,
	"total" integer DEFAULT 0 NOT NULL,
	"message" text DEFAULT '' NOT NULL,
	"input" jsonb NOT NULL,
	"started_by" text NOT NULL,
	"started_at" timestamp with time zone DEFAULT now() NOT NULL,
	"marked_at" timestamp with time zone,
	"ended_at" timestamp with time zone,
	CONSTRAINT "job_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "map_version" (
	"organisation_id" uuid PRIMARY KEY NOT NULL,
	"trees" integer DEFAULT 1 NOT NULL,
	"ground" integer DEFAULT 1 NOT NULL
);
--> statement-breakpoint
CREATE TABLE "plan" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"number" integer NOT NULL,
	"state" text NOT NULL,
	"asked" jsonb NOT NULL,
	"cost" jsonb,
	"peer_cost" jsonb,
	"method_version" text,
	"made_by" text NOT NULL,
	"made_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "plan_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "stop" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"day_sheet_id" uuid NOT NULL,
	"tree_id" uuid NOT NULL,
	"order" integer NOT NULL,
	"level" integer NOT NULL,
	"arrive_minute" real NOT NULL,
	"start_minute" real NOT NULL,
	"leave_minute" real NOT NULL,
	"travel_m" real NOT NULL,
	"done_visit_id" uuid,
	"skipped_because" text,
	CONSTRAINT "stop_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "unplaced" (
	"organisation_id" uuid NOT NULL,
	"plan_id" uuid NOT NULL,
	"tree_id" uuid NOT NULL,
	"code" text NOT NULL,
	"message" text NOT NULL,
	"added_cost" real,
	CONSTRAINT "unplaced_organisation_id_plan_id_tree_id_pk" PRIMARY KEY("organisation_id","plan_id","tree_id")
);
--> statement-breakpoint
CREATE TABLE "exposure" (
	"organisation_id" uuid NOT NULL,
	"tree_id" uuid NOT NULL,
	"reach_m" real NOT NULL,
	"joint" jsonb NOT NULL,
	"density" jsonb NOT NULL,
	"flags" jsonb NOT NULL,
	"inputs" jsonb NOT NULL,
	"method_version" text NOT NULL,
	"computed_at" timestamp with time zone NOT NULL,
	CONSTRAINT "exposure_organisation_id_tree_id_pk" PRIMARY KEY("organisation_id","tree_id")
);
--> statement-breakpoint
CREATE TABLE "exposure_zone" (
	"organisation_id" uuid NOT NULL,
	"tree_id" uuid NOT NULL,
	"zone_id" uuid NOT NULL,
	"p_touch" double precision NOT NULL,
	"p_touch_least" double precision NOT NULL,
	"p_touch_most" double precision NOT NULL,
	"people" double precision NOT NULL,
	"people_least" double precision NOT NULL,
	"people_most" double precision NOT NULL,
	"people_stem" double precision NOT NULL,
	"people_crown" double precision NOT NULL,
	"p_any" double precision NOT NULL,
	"touching" jsonb NOT NULL,
	CONSTRAINT "exposure_zone_organisation_id_tree_id_zone_id_pk" PRIMARY KEY("organisation_id","tree_id","zone_id")
);
--> statement-breakpoint
CREATE TABLE "failure" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"tree_id" uuid,
	"place" geometry(Point,4326),
	"on" date NOT NULL,
	"part" text NOT NULL,
	"gust_mps" real,
	"hit" text NOT NULL,
	"near_miss" boolean NOT NULL,
	"note" text NOT NULL,
	CONSTRAINT "failure_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "rating" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"tree_id" uuid NOT NULL,
	"visit_id" uuid NOT NULL,
	"person_id" text NOT NULL,
	"rated_at" timestamp with time zone NOT NULL,
	"time_frame_years" integer NOT NULL,
	"change_rate" text NOT NULL,
	"scenarios" jsonb NOT NULL,
	"worst" jsonb NOT NULL,
	"computed_risk" text NOT NULL,
	"override_risk" text,
	"override_reason" text NOT NULL,
	"risk" text NOT NULL,
	"residual_risk" text,
	"matrices_edition" text NOT NULL,
	"policy_edition" text NOT NULL,
	"method_version" text NOT NULL,
	"reopened_because" text,
	CONSTRAINT "rating_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "urgent_note" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"tree_id" uuid NOT NULL,
	"visit_id" uuid,
	"person_id" text NOT NULL,
	"written_at" timestamp with time zone NOT NULL,
	"kept_out" boolean NOT NULL,
	"told_whom" text NOT NULL,
	"told_how" text NOT NULL,
	"told_at" timestamp with time zone NOT NULL,
	"interim_closure" text NOT NULL,
	"acknowledged_by" text,
	"acknowledged_at" timestamp with time zone,
	CONSTRAINT "urgent_note_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "work" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"tree_id" uuid NOT NULL,
	"visit_id" uuid,
	"kind" text NOT NULL,
	"description" text NOT NULL,
	"due_on" date,
	"cost" double precision,
	"residual_risk" text,
	"state" text NOT NULL,
	"done_on" date,
	"done_by" text,
	"decision" jsonb,
	CONSTRAINT "work_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "auth_account" (
	"id" text PRIMARY KEY NOT NULL,
	"account_id" text NOT NULL,
	"provider_id" text NOT NULL,
	"user_id" text NOT NULL,
	"access_token" text,
	"refresh_token" text,
	"id_token" text,
	"access_token_expires_at" timestamp with time zone,
	"refresh_token_expires_at" timestamp with time zone,
	"scope" text,
	"password" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "auth_session" (
	"id" text PRIMARY KEY NOT NULL,
	"expires_at" timestamp with time zone DEFAULT now() NOT NULL,
	"token" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	"ip_address" text,
	"user_agent" text,
	"user_id" text NOT NULL,
	CONSTRAINT "auth_session_token_unique" UNIQUE("token")
);
--> statement-breakpoint
CREATE TABLE "auth_user" (
	"id" text PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"email" text NOT NULL,
	"email_verified" boolean DEFAULT false NOT NULL,
	"image" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "auth_user_email_unique" UNIQUE("email")
);
--> statement-breakpoint
CREATE TABLE "auth_verification" (
	"id" text PRIMARY KEY NOT NULL,
	"identifier" text NOT NULL,
	"value" text NOT NULL,
	"expires_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "membership" (
	"organisation_id" uuid NOT NULL,
	"person_id" text NOT NULL,
	"role" text NOT NULL,
	"qualification" text,
	"qualification_expires_on" date,
	CONSTRAINT "membership_organisation_id_person_id_pk" PRIMARY KEY("organisation_id","person_id")
);
--> statement-breakpoint
CREATE TABLE "organisation" (
	"id" uuid PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"time_zone" text NOT NULL,
	"hemisphere" text NOT NULL,
	"stem_height_m" real NOT NULL,
	"units" text NOT NULL,
	"failure_time_frame_years" real NOT NULL,
	"demo" boolean DEFAULT false NOT NULL
);
--> statement-breakpoint
CREATE TABLE "policy" (
	"organisation_id" uuid NOT NULL,
	"edition" text NOT NULL,
	"content" jsonb NOT NULL,
	"made_by" text NOT NULL,
	"made_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "policy_organisation_id_edition_pk" PRIMARY KEY("organisation_id","edition")
);
--> statement-breakpoint
CREATE TABLE "crew" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"name" text NOT NULL,
	"letter" text NOT NULL,
	"level" integer NOT NULL,
	"equipment" jsonb NOT NULL,
	"member_ids" jsonb NOT NULL,
	"start" jsonb NOT NULL,
	"end" jsonb NOT NULL,
	"hours" jsonb NOT NULL,
	"break_minutes" integer NOT NULL,
	"days_off" jsonb NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "crew_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "ground_feature" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"site_id" uuid,
	"kind" text NOT NULL,
	"name" text,
	"geometry" geometry(Geometry,4326) NOT NULL,
	"source_key" text,
	"version" integer DEFAULT 1 NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "ground_feature_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "site" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"name" text NOT NULL,
	"outline" geometry(Geometry,4326) NOT NULL,
	"time_zone" text,
	"wind_rose" jsonb,
	"detour_factor" real DEFAULT 1.3 NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "site_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "zone" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"site_id" uuid,
	"name" text NOT NULL,
	"kind" text NOT NULL,
	"geometry" geometry(Geometry,4326) NOT NULL,
	"from_line" jsonb,
	"area_m2" double precision NOT NULL,
	"occupancy_word" text NOT NULL,
	"occupancy" jsonb NOT NULL,
	"static_target" boolean NOT NULL,
	"shelter_height_m" real,
	"shelter_class" text,
	"value_at_stake" double precision,
	"part_of" uuid,
	"note" text DEFAULT '' NOT NULL,
	"source_key" text,
	"version" integer DEFAULT 1 NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "zone_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "tree" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"site_id" uuid,
	"tag" text NOT NULL,
	"species" text NOT NULL,
	"common_name" text,
	"position" geometry(Point,4326) NOT NULL,
	"position_accuracy_m" real,
	"stems" jsonb NOT NULL,
	"stem_diameter_cm" real,
	"group" jsonb,
	"height_m" real,
	"crown_base_height_m" real,
	"crown_radii_m" jsonb,
	"lean" jsonb,
	"clearing_bearing_deg" real,
	"dead_or_brittle" boolean DEFAULT false NOT NULL,
	"owner" text,
	"protections" jsonb DEFAULT '[]'::jsonb NOT NULL,
	"power_lines_near" boolean DEFAULT false NOT NULL,
	"status" text DEFAULT 'standing' NOT NULL,
	"gone_on" date,
	"planted_year" integer,
	"note" text DEFAULT '' NOT NULL,
	"source_key" text,
	"entered_on" date NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "tree_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "tree_event" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"tree_id" uuid NOT NULL,
	"kind" text NOT NULL,
	"on" date NOT NULL,
	"look_within_days" integer NOT NULL,
	"note" text DEFAULT '' NOT NULL,
	CONSTRAINT "tree_event_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "tree_state" (
	"organisation_id" uuid NOT NULL,
	"tree_id" uuid NOT NULL,
	"risk" text,
	"seen" boolean DEFAULT false NOT NULL,
	"last_visit_on" date,
	"rating_open" boolean DEFAULT false NOT NULL,
	"due_on" date,
	"due_kind" text,
	"due_level" integer,
	"due_reason" text,
	"look_on" date,
	"out_of_season" boolean DEFAULT false NOT NULL,
	"due_parts" jsonb,
	"baseline_share" real,
	"policy_edition" text,
	"computed_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "tree_state_organisation_id_tree_id_pk" PRIMARY KEY("organisation_id","tree_id")
);
--> statement-breakpoint
CREATE TABLE "finding" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"visit_id" uuid NOT NULL,
	"tree_id" uuid NOT NULL,
	"step" text NOT NULL,
	"kind" text NOT NULL,
	"height_m" real,
	"bearing_deg" real,
	"extent" text NOT NULL,
	"note" text NOT NULL,
	CONSTRAINT "finding_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "photo" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"owner_kind" text NOT NULL,
	"owner_id" uuid NOT NULL,
	"sha256" text NOT NULL,
	"bytes" integer NOT NULL,
	"media_type" text NOT NULL,
	"taken_at" timestamp with time zone,
	"position" jsonb,
	"caption" text NOT NULL,
	CONSTRAINT "photo_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "photo_bytes" (
	"organisation_id" uuid NOT NULL,
	"sha256" text NOT NULL,
	"content" "bytea" NOT NULL
);
--> statement-breakpoint
CREATE TABLE "probe" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"visit_id" uuid NOT NULL,
	"kind" text NOT NULL,
	"height_m" real NOT NULL,
	"entry_bearing_deg" real NOT NULL,
	"direction_deg" real NOT NULL,
	"instrument" text NOT NULL,
	"reason" text NOT NULL,
	"reading" jsonb NOT NULL,
	"note" text NOT NULL,
	CONSTRAINT "probe_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "visit" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"tree_id" uuid NOT NULL,
	"person_id" text NOT NULL,
	"level" integer NOT NULL,
	"stage" text NOT NULL,
	"started_at" timestamp with time zone NOT NULL,
	"ended_at" timestamp with time zone,
	"closed_at" timestamp with time zone,
	"weather" text NOT NULL,
	"leaf_state" text NOT NULL,
	"assignment" jsonb,
	"steps" jsonb NOT NULL,
	"could_not_see" text NOT NULL,
	"position_accuracy_m" real,
	CONSTRAINT "visit_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
CREATE TABLE "walk_over" (
	"organisation_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"zone_id" uuid NOT NULL,
	"person_id" text NOT NULL,
	"on" date NOT NULL,
	"notes" jsonb NOT NULL,
	"remark" text NOT NULL,
	CONSTRAINT "walk_over_organisation_id_id_pk" PRIMARY KEY("organisation_id","id")
);
--> statement-breakpoint
ALTER TABLE "day_sheet" ADD CONSTRAINT "day_sheet_organisation_id_plan_id_plan_organisation_id_id_fk" FOREIGN KEY ("organisation_id","plan_id") REFERENCES "public"."plan"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "day_sheet" ADD CONSTRAINT "day_sheet_organisation_id_crew_id_crew_organisation_id_id_fk" FOREIGN KEY ("organisation_id","crew_id") REFERENCES "public"."crew"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "import_row" ADD CONSTRAINT "import_row_organisation_id_batch_id_import_batch_organisation_id_id_fk" FOREIGN KEY ("organisation_id","batch_id") REFERENCES "public"."import_batch"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "stop" ADD CONSTRAINT "stop_organisation_id_day_sheet_id_day_sheet_organisation_id_id_fk" FOREIGN KEY ("organisation_id","day_sheet_id") REFERENCES "public"."day_sheet"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "stop" ADD CONSTRAINT "stop_organisation_id_tree_id_tree_organisation_id_id_fk" FOREIGN KEY ("organisation_id","tree_id") REFERENCES "public"."tree"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "unplaced" ADD CONSTRAINT "unplaced_organisation_id_plan_id_plan_organisation_id_id_fk" FOREIGN KEY ("organisation_id","plan_id") REFERENCES "public"."plan"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "exposure" ADD CONSTRAINT "exposure_organisation_id_tree_id_tree_organisation_id_id_fk" FOREIGN KEY ("organisation_id","tree_id") REFERENCES "public"."tree"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "exposure_zone" ADD CONSTRAINT "exposure_zone_organisation_id_tree_id_tree_organisation_id_id_fk" FOREIGN KEY ("organisation_id","tree_id") REFERENCES "public"."tree"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "exposure_zone" ADD CONSTRAINT "exposure_zone_organisation_id_zone_id_zone_organisation_id_id_fk" FOREIGN KEY ("organisation_id","zone_id") REFERENCES "public"."zone"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "rating" ADD CONSTRAINT "rating_organisation_id_visit_id_visit_organisation_id_id_fk" FOREIGN KEY ("organisation_id","visit_id") REFERENCES "public"."visit"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "urgent_note" ADD CONSTRAINT "urgent_note_organisation_id_tree_id_tree_organisation_id_id_fk" FOREIGN KEY ("organisation_id","tree_id") REFERENCES "public"."tree"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "work" ADD CONSTRAINT "work_organisation_id_tree_id_tree_organisation_id_id_fk" FOREIGN KEY ("organisation_id","tree_id") REFERENCES "public"."tree"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "auth_account" ADD CONSTRAINT "auth_account_user_id_auth_user_id_fk" FOREIGN KEY ("user_id") REFERENCES "public"."auth_user"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "auth_session" ADD CONSTRAINT "auth_session_user_id_auth_user_id_fk" FOREIGN KEY ("user_id") REFERENCES "public"."auth_user"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "membership" ADD CONSTRAINT "membership_organisation_id_organisation_id_fk" FOREIGN KEY ("organisation_id") REFERENCES "public"."organisation"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "zone" ADD CONSTRAINT "zone_organisation_id_part_of_zone_organisation_id_id_fk" FOREIGN KEY ("organisation_id","part_of") REFERENCES "public"."zone"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "tree_event" ADD CONSTRAINT "tree_event_organisation_id_tree_id_tree_organisation_id_id_fk" FOREIGN KEY ("organisation_id","tree_id") REFERENCES "public"."tree"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "tree_state" ADD CONSTRAINT "tree_state_organisation_id_tree_id_tree_organisation_id_id_fk" FOREIGN KEY ("organisation_id","tree_id") REFERENCES "public"."tree"("organisation_id","id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "finding" ADD CONSTRAINT "finding_organisation_id_visit_id_visit_organisation_id_id_fk" FOREIGN KEY ("organisation_id","visit_id") REFERENCES "public"."visit"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "probe" ADD CONSTRAINT "probe_organisation_id_visit_id_visit_organisation_id_id_fk" FOREIGN KEY ("organisation_id","visit_id") REFERENCES "public"."visit"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "visit" ADD CONSTRAINT "visit_organisation_id_tree_id_tree_organisation_id_id_fk" FOREIGN KEY ("organisation_id","tree_id") REFERENCES "public"."tree"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "walk_over" ADD CONSTRAINT "walk_over_organisation_id_zone_id_zone_organisation_id_id_fk" FOREIGN KEY ("organisation_id","zone_id") REFERENCES "public"."zone"("organisation_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "day_sheet_date" ON "day_sheet" USING btree ("organisation_id","date");--> statement-breakpoint
CREATE INDEX "job_state" ON "job" USING btree ("organisation_id","state");--> statement-breakpoint
CREATE INDEX "stop_sheet" ON "stop" USING btree ("organisation_id","day_sheet_id");--> statement-breakpoint
CREATE INDEX "exposure_zone_zone" ON "exposure_zone" USING btree ("organisation_id","zone_id");--> statement-breakpoint
CREATE INDEX "rating_tree" ON "rating" USING btree ("organisation_id","tree_id","rated_at");--> statement-breakpoint
CREATE INDEX "rating_visit" ON "rating" USING btree ("organisation_id","visit_id");--> statement-breakpoint
CREATE INDEX "work_tree" ON "work" USING btree ("organisation_id","tree_id");--> statement-breakpoint
CREATE INDEX "ground_feature_geometry" ON "ground_feature" USING gist ("geometry");--> statement-breakpoint
CREATE INDEX "zone_geometry" ON "zone" USING gist ("geometry");--> statement-breakpoint
CREATE INDEX "zone_geodesic" ON "zone" USING gist ((("geometry")::geography));--> statement-breakpoint
CREATE UNIQUE INDEX "zone_source_key" ON "zone" USING btree ("organisation_id","source_key");--> statement-breakpoint
CREATE INDEX "tree_position" ON "tree" USING gist ("position");--> statement-breakpoint
CREATE INDEX "tree_position_geodesic" ON "tree" USING gist ((("position")::geography));--> statement-breakpoint
CREATE INDEX "tree_tag" ON "tree" USING btree ("organisation_id","tag");--> statement-breakpoint
CREATE UNIQUE INDEX "tree_source_key" ON "tree" USING btree ("organisation_id","source_key");--> statement-breakpoint
CREATE INDEX "tree_event_tree" ON "tree_event" USING btree ("organisation_id","tree_id");--> statement-breakpoint
CREATE INDEX "tree_state_due" ON "tree_state" USING btree ("organisation_id","due_on");--> statement-breakpoint
CREATE INDEX "finding_tree" ON "finding" USING btree ("organisation_id","tree_id");--> statement-breakpoint
CREATE INDEX "photo_owner" ON "photo" USING btree ("organisation_id","owner_id");--> statement-breakpoint
CREATE UNIQUE INDEX "photo_bytes_digest" ON "photo_bytes" USING btree ("organisation_id","sha256");--> statement-breakpoint
CREATE INDEX "visit_tree" ON "visit" USING btree ("organisation_id","tree_id","started_at");