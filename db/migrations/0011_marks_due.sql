-- The trees due in the week that is now are counted one by one for each tile from afar: enough of each row to do so without the table.
DROP INDEX "tree_mark_due";--> statement-breakpoint
CREATE INDEX "tree_mark_due" ON "tree_mark" ("organisation_id","due_on") INCLUDE ("place","x","y","risk","seen","status","site_id");
