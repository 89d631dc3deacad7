import type { Change, Refusal, TreeMapping, Verdict, ZoneMapping } from '@underbough/model'
import { sql } from 'drizzle-orm'
import {
  date,
  foreignKey,
  index,
  integer,
  jsonb,
  pgTable,
  primaryKey,
  real,
  text,
  uuid,
} from 'drizzle-orm/pg-core'
import { bytes, instant, organisationId, words } from './columns.ts'
import { crew } from './place.ts'
import { tree } from './tree.ts'

export type PlanState = 'making' | 'draft' | 'published'
export const plan = pgTable(
  'plan',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    number: integer('number').notNull(),
    state: words<PlanState>('state').notNull(),
    asked: jsonb('asked').notNull(),
    cost: jsonb('cost'),
    /** Cost of going in order of urgency to the nearest next tree, on the same input. */
    peerCost: jsonb('peer_cost'),
    methodVersion: text('method_version'),
    madeBy: text('made_by').notNull(),
    madeAt: instant('made_at').notNull().default(sql`now()`),
  },
  (t) => [primaryKey({ columns: [t.organisationId, t.id] })],
)

export const daySheet = pgTable(
  'day_sheet',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    planId: uuid('plan_id').notNull(),
    crewId: uuid('crew_id').notNull(),
    date: date('date').notNull(),
    startMinute: integer('start_minute').notNull(),
    endMinute: integer('end_minute').notNull(),
    travelMinutes: real('travel_minutes').notNull(),
    travelM: real('travel_m').notNull(),
    serviceMinutes: real('service_minutes').notNull(),
    publishedAt: instant('published_at'),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    foreignKey({
      columns: [t.organisationId, t.planId],
      foreignColumns: [plan.organisationId, plan.id],
    }).onDelete('cascade'),
    foreignKey({ columns: [t.organisationId, t.crewId], foreignColumns: [crew.organisationId, crew.id] }),
    index('day_sheet_date').on(t.organisationId, t.date),
  ],
)

export const stop = pgTable(
  'stop',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    daySheetId: uuid('day_sheet_id').notNull(),
    treeId: uuid('tree_id').notNull(),
    order: integer('order').notNull(),
    level: integer('level').$type<1 | 2 | 3>().notNull(),
    arriveMinute: real('arrive_minute').notNull(),
    startMinute: real('start_minute').notNull(),
    leaveMinute: real('leave_minute').notNull(),
    travelM: real('travel_m').notNull(),
    doneVisitId: uuid('done_visit_id'),
    skippedBecause: text('skipped_because'),
    /** Why the crew put it on the day itself; null for what the plan put there. */
    addedBecause: text('added_because'),
    /** The crew it was handed over by. */
    fromCrewId: uuid('from_crew_id'),
    handedBecause: text('handed_because'),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    foreignKey({
      columns: [t.organisationId, t.daySheetId],
      foreignColumns: [daySheet.organisationId, daySheet.id],
    }).onDelete('cascade'),
    foreignKey({ columns: [t.organisationId, t.treeId], foreignColumns: [tree.organisationId, tree.id] }),
    index('stop_sheet').on(t.organisationId, t.daySheetId),
  ],
)

/** A tree that a plan left over, and why. */
export const unplaced = pgTable(
  'unplaced',
  {
    organisationId: organisationId(),
    planId: uuid('plan_id').notNull(),
    treeId: uuid('tree_id').notNull(),
    code: text('code').notNull(),
    message: text('message').notNull(),
    addedCost: real('added_cost'),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.planId, t.treeId] }),
    foreignKey({
      columns: [t.organisationId, t.planId],
      foreignColumns: [plan.organisationId, plan.id],
    }).onDelete('cascade'),
  ],
)

export type ImportKind = 'trees' | 'zones' | 'ground'
export type ImportState = 'mapping' | 'reading' | 'ready' | 'writing' | 'done' | 'cancelled' | 'failed'
export const importBatch = pgTable(
  'import_batch',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    kind: words<ImportKind>('kind').notNull(),
    fileName: text('file_name').notNull(),
    file: bytes('file'),
    /** Names of the file's columns in their order. */
    columns: jsonb('columns').$type<string[]>().notNull().default([]),
    mapping: jsonb('mapping').$type<TreeMapping | ZoneMapping>(),
    state: words<ImportState>('state').notNull(),
    counts: jsonb('counts').$type<Record<string, number>>().notNull().default({}),
    /** What holds for the file as a whole. */
    notes: jsonb('notes').$type<Refusal[]>().notNull().default([]),
    refusal: jsonb('refusal').$type<Refusal>(),
    madeBy: text('made_by').notNull(),
    madeAt: instant('made_at').notNull().default(sql`now()`),
  },
  (t) => [primaryKey({ columns: [t.organisationId, t.id] })],
)

export const importRow = pgTable(
  'import_row',
  {
    organisationId: organisationId(),
    batchId: uuid('batch_id').notNull(),
    line: integer('line').notNull(),
    verdict: words<Verdict>('verdict').notNull(),
    notes: jsonb('notes').$type<Refusal[]>().notNull(),
    raw: jsonb('raw').$type<Record<string, string>>().notNull(),
    record: jsonb('record'),
    sourceKey: text('source_key'),
    change: words<Change>('change'),
    differences: jsonb('differences').$type<[string, unknown, unknown][]>(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.batchId, t.line] }),
    foreignKey({
      columns: [t.organisationId, t.batchId],
      foreignColumns: [importBatch.organisationId, importBatch.id],
    }).onDelete('cascade'),
  ],
)

export type JobState = 'waiting' | 'working' | 'done' | 'cancelled' | 'failed'
/** What a person sees of a job. The queue itself is pg-boss's; this row is written by the worker as it goes. */
export const job = pgTable(
  'job',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    kind: text('kind').notNull(),
    subjectId: uuid('subject_id'),
    state: words<JobState>('state').notNull(),
    done: integer('done').notNull().default(0),
    total: integer('total').notNull().default(0),
    message: text('message').notNull().default(''),
    input: jsonb('input').notNull(),
    startedBy: text('started_by').notNull(),
    startedAt: instant('started_at').notNull().default(sql`now()`),
    /** Set every few seconds by the process at work; a job whose mark is old is taken up again. */
    markedAt: instant('marked_at'),
    endedAt: instant('ended_at'),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    index('job_state').on(t.organisationId, t.state),
  ],
)

/** Rises with each change to what tiles show, so that a tile's address changes when its content does. */
export const mapVersion = pgTable('map_version', {
  organisationId: organisationId().primaryKey(),
  trees: integer('trees').notNull().default(1),
  ground: integer('ground').notNull().default(1),
})
