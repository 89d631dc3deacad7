import type { Protection, RiskWord, Tree, TreeStatus } from '@underbough/model'
import { sql } from 'drizzle-orm'
import {
  boolean,
  date,
  foreignKey,
  index,
  integer,
  jsonb,
  pgTable,
  primaryKey,
  real,
  text,
  uniqueIndex,
  uuid,
} from 'drizzle-orm/pg-core'
import { geometry, instant, organisationId, stamped, words } from './columns.ts'

export const tree = pgTable(
  'tree',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    siteId: uuid('site_id'),
    tag: text('tag').notNull(),
    species: text('species').notNull(),
    commonName: text('common_name'),
    position: geometry('position', { kind: 'Point' }).notNull(),
    positionAccuracyM: real('position_accuracy_m'),
    stems: jsonb('stems').$type<Tree['stems']>().notNull(),
    /** Combined diameter √Σd² of the stems, or null while none is known. */
    stemDiameterCm: real('stem_diameter_cm'),
    group: jsonb('group').$type<Tree['group']>(),
    heightM: real('height_m'),
    crownBaseHeightM: real('crown_base_height_m'),
    crownRadiiM: jsonb('crown_radii_m').$type<Tree['crownRadiiM']>(),
    lean: jsonb('lean').$type<Tree['lean']>(),
    clearingBearingDeg: real('clearing_bearing_deg'),
    slope: jsonb('slope').$type<Tree['slope']>(),
    deadOrBrittle: boolean('dead_or_brittle').notNull().default(false),
    owner: text('owner'),
    protections: jsonb('protections').$type<Protection[]>().notNull().default([]),
    powerLinesNear: boolean('power_lines_near').notNull().default(false),
    status: words<TreeStatus>('status').notNull().default('standing'),
    goneOn: date('gone_on'),
    plantedYear: integer('planted_year'),
    note: text('note').notNull().default(''),
    sourceKey: text('source_key'),
    /** Civil date on which the record came in: the anchor of the baseline ramp. */
    enteredOn: date('entered_on').notNull(),
    ...stamped(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    index('tree_position').using('gist', t.position),
    index('tree_position_geodesic').using('gist', sql`((${t.position})::geography)`),
    index('tree_tag').on(t.organisationId, t.tag),
    uniqueIndex('tree_source_key').on(t.organisationId, t.sourceKey),
  ],
)

/** What follows from all records of one tree today: recomputed by the `due` job, never edited. */
export const treeState = pgTable(
  'tree_state',
  {
    organisationId: organisationId(),
    treeId: uuid('tree_id').notNull(),
    risk: words<RiskWord>('risk'),
    seen: boolean('seen').notNull().default(false),
    lastVisitOn: date('last_visit_on'),
    ratingOpen: boolean('rating_open').notNull().default(false),
    dueOn: date('due_on'),
    dueKind: words<'look' | 'work' | 'baseline'>('due_kind'),
    dueLevel: integer('due_level').$type<1 | 2 | 3>(),
    dueReason: text('due_reason'),
    lookOn: date('look_on'),
    outOfSeason: boolean('out_of_season').notNull().default(false),
    dueParts: jsonb('due_parts'),
    /** Place among the trees of its import and use that nobody has seen, near 0 for the largest stem, 1 for the last. */
    baselineShare: real('baseline_share'),
    policyEdition: text('policy_edition'),
    computedAt: instant('computed_at').notNull().default(sql`now()`),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.treeId] }),
    foreignKey({
      columns: [t.organisationId, t.treeId],
      foreignColumns: [tree.organisationId, tree.id],
    }).onDelete('cascade'),
    index('tree_state_due').on(t.organisationId, t.dueOn),
  ],
)

/** Something that asks for an earlier look: a gust over a limit, digging in the root zone, a failure nearby, a complaint, a changed zone. */
export const treeEvent = pgTable(
  'tree_event',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    treeId: uuid('tree_id').notNull(),
    kind: text('kind').notNull(),
    on: date('on').notNull(),
    lookWithinDays: integer('look_within_days').notNull(),
    note: text('note').notNull().default(''),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    foreignKey({ columns: [t.organisationId, t.treeId], foreignColumns: [tree.organisationId, tree.id] }),
    index('tree_event_tree').on(t.organisationId, t.treeId),
  ],
)
