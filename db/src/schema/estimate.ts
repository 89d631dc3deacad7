import { sql } from 'drizzle-orm'
import {
  boolean,
  foreignKey,
  index,
  integer,
  jsonb,
  pgTable,
  primaryKey,
  text,
  uuid,
} from 'drizzle-orm/pg-core'
import { instant, organisationId } from './columns.ts'
import { tree } from './tree.ts'

/** What the organisation decided in writing about figures of what is expected per year. The newest counts; none is ever changed. */
export const estimateDecision = pgTable(
  'estimate_decision',
  {
    organisationId: organisationId(),
    number: integer('number').notNull(),
    switchedOn: boolean('switched_on').notNull(),
    text: text('text').notNull(),
    /** Bands, vulnerability, named users, and how the bands stood against the failures on record. */
    content: jsonb('content').notNull(),
    madeBy: text('made_by').notNull(),
    madeAt: instant('made_at').notNull().default(sql`now()`),
  },
  (t) => [primaryKey({ columns: [t.organisationId, t.number] })],
)

/** People under a scenario that is not the whole tree any way it falls; made when asked for, anew when the digest is no longer the tree's. */
export const scenarioExposure = pgTable(
  'scenario_exposure',
  {
    organisationId: organisationId(),
    scenarioId: uuid('scenario_id').notNull(),
    treeId: uuid('tree_id').notNull(),
    zones: jsonb('zones').$type<{ zoneId: string; mean: number; least: number; most: number }[]>().notNull(),
    /** What the tree's exposure followed from when these were made. */
    inputsDigest: uuid('inputs_digest').notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.scenarioId] }),
    foreignKey({
      columns: [t.organisationId, t.treeId],
      foreignColumns: [tree.organisationId, tree.id],
    }).onDelete('cascade'),
    index('scenario_exposure_tree').on(t.organisationId, t.treeId),
  ],
)
