ALTER TABLE "walk_over" ADD COLUMN "tree_ids" uuid[] DEFAULT '{}' NOT NULL;--> statement-breakpoint
CREATE INDEX "walk_over_tree" ON "walk_over" USING gin ("tree_ids");