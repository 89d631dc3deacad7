DELETE FROM "scenario_exposure";--> statement-breakpoint
ALTER TABLE "scenario_exposure" ADD COLUMN "inputs_digest" uuid NOT NULL;