-- What nothing is due for comes last in its risk: the least of nothing and a number is the number.
ALTER TABLE "tree_mark" drop column "rank";--> statement-breakpoint
ALTER TABLE "tree_mark" ADD COLUMN "rank" integer GENERATED ALWAYS AS ((case when status in ('standing', 'pole') then 0 else 8 end + 4 - risk) * 1048576
          + case when due_on is null then 1048575 else least(greatest(due_on - date '1970-01-01', 0), 1048574) end) STORED NOT NULL;--> statement-breakpoint
CREATE INDEX "tree_mark_square12" ON "tree_mark" ("organisation_id","square12","rank","tree_id") INCLUDE ("risk","seen","due_on","site_id");--> statement-breakpoint
CREATE INDEX "tree_mark_square13" ON "tree_mark" ("organisation_id","square13","rank","tree_id") INCLUDE ("risk","seen","due_on","site_id");--> statement-breakpoint
CREATE INDEX "tree_mark_square14" ON "tree_mark" ("organisation_id","square14","rank","tree_id") INCLUDE ("risk","seen","due_on","site_id");--> statement-breakpoint
CREATE INDEX "tree_mark_square15" ON "tree_mark" ("organisation_id","square15","rank","tree_id") INCLUDE ("risk","seen","due_on","site_id");
