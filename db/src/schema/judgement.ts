import type { ChangeWord, Rating, RiskWord, ScenarioPart, Work, WorkKind, WorkState } from '@underbough/model'
import { sql } from 'drizzle-orm'
import {
  bigint,
  boolean,
  date,
  doublePrecision,
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
import { geometry, instant, organisationId, words } from './columns.ts'
import { tree } from './tree.ts'
import { visit } from './visit.ts'

export const rating = pgTable(
  'rating',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    treeId: uuid('tree_id').notNull(),
    visitId: uuid('visit_id').notNull(),
    personId: text('person_id').notNull(),
    ratedAt: instant('rated_at').notNull(),
    timeFrameYears: integer('time_frame_years').notNull(),
    changeRate: words<ChangeWord>('change_rate').notNull(),
    scenarios: jsonb('scenarios').$type<Rating['scenarios']>().notNull(),
    worst: jsonb('worst').$type<Rating['worst']>().notNull(),
    computedRisk: words<RiskWord>('computed_risk').notNull(),
    overrideRisk: words<RiskWord>('override_risk'),
    overrideReason: text('override_reason').notNull(),
    risk: words<RiskWord>('risk').notNull(),
    residualRisk: words<RiskWord>('residual_risk'),
    matricesEdition: text('matrices_edition').notNull(),
    policyEdition: text('policy_edition').notNull(),
    methodVersion: text('method_version').notNull(),
    reopenedBecause: text('reopened_because'),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    foreignKey({ columns: [t.organisationId, t.visitId], foreignColumns: [visit.organisationId, visit.id] }),
    index('rating_tree').on(t.organisationId, t.treeId, t.ratedAt),
    index('rating_visit').on(t.organisationId, t.visitId),
    /** Ratings that name a zone as a target. */
    index('rating_targets').using('gin', sql`${t.scenarios} jsonb_path_ops`),
  ],
)

export const work = pgTable(
  'work',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    treeId: uuid('tree_id').notNull(),
    visitId: uuid('visit_id'),
    kind: words<WorkKind>('kind').notNull(),
    description: text('description').notNull(),
    dueOn: date('due_on'),
    cost: doublePrecision('cost'),
    residualRisk: words<RiskWord>('residual_risk'),
    state: words<WorkState>('state').notNull(),
    doneOn: date('done_on'),
    doneBy: text('done_by'),
    decision: jsonb('decision').$type<Work['decision']>(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    foreignKey({ columns: [t.organisationId, t.treeId], foreignColumns: [tree.organisationId, tree.id] }),
    index('work_tree').on(t.organisationId, t.treeId),
  ],
)

export const urgentNote = pgTable(
  'urgent_note',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    treeId: uuid('tree_id').notNull(),
    visitId: uuid('visit_id'),
    personId: text('person_id').notNull(),
    writtenAt: instant('written_at').notNull(),
    keptOut: boolean('kept_out').notNull(),
    toldWhom: text('told_whom').notNull(),
    toldHow: text('told_how').notNull(),
    toldAt: instant('told_at').notNull(),
    interimClosure: text('interim_closure').notNull(),
    acknowledgedBy: text('acknowledged_by'),
    acknowledgedAt: instant('acknowledged_at'),
    whatWasDone: text('what_was_done'),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    foreignKey({ columns: [t.organisationId, t.treeId], foreignColumns: [tree.organisationId, tree.id] }),
  ],
)

export const failure = pgTable(
  'failure',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    treeId: uuid('tree_id'),
    place: geometry('place', { kind: 'Point' }),
    on: date('on').notNull(),
    part: words<ScenarioPart>('part').notNull(),
    gustMps: real('gust_mps'),
    hit: text('hit').notNull(),
    nearMiss: boolean('near_miss').notNull(),
    note: text('note').notNull(),
  },
  (t) => [primaryKey({ columns: [t.organisationId, t.id] })],
)

/** Figures of one target, all given that the tree fails. Chances, and mean numbers of people within the outline. */
const figures = () => ({
  pTouch: real('p_touch').notNull().default(0),
  pTouchLeast: real('p_touch_least').notNull().default(0),
  pTouchMost: real('p_touch_most').notNull().default(0),
  people: real('people').notNull().default(0),
  peopleLeast: real('people_least').notNull().default(0),
  peopleMost: real('people_most').notNull().default(0),
  peopleStem: real('people_stem').notNull().default(0),
  peopleCrown: real('people_crown').notNull().default(0),
  peopleScatter: real('people_scatter').notNull().default(0),
  pAny: real('p_any').notNull().default(0),
  pAnyLeast: real('p_any_least').notNull().default(0),
  pAnyMost: real('p_any_most').notNull().default(0),
})

/**
 * Who is under a tree if it fails, all its zones together: one row for each tree that could fall. What it was computed from is
 * read again from the records where somebody asks; the digest says whether they are still the same. No foreign keys here nor
 * below: a check a row takes longer than the row, and locks the trees it names. A zone's rows go with it (zones/queries.ts).
 */
export const exposure = pgTable(
  'exposure',
  {
    organisationId: organisationId(),
    treeId: uuid('tree_id').notNull(),
    reachM: real('reach_m').notNull(),
    ...figures(),
    /** Bit set of the kernel's flags, of the tree and its zones. */
    flags: integer('flags').notNull().default(0),
    /** The first 128 bits of the SHA-256 of everything the figures follow from. */
    inputsDigest: uuid('inputs_digest').notNull(),
    policyEdition: integer('policy_edition').notNull().default(0),
    methodVersion: text('method_version').notNull(),
    computedAt: instant('computed_at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.organisationId, t.treeId] })],
)

/** One row for each zone that a tree's fall may touch. */
export const exposureZone = pgTable(
  'exposure_zone',
  {
    organisationId: organisationId(),
    treeId: uuid('tree_id').notNull(),
    zoneId: uuid('zone_id').notNull(),
    ...figures(),
    /** Mean share of the zone's ground within the outline. */
    groundStem: real('ground_stem').notNull().default(0),
    groundCrown: real('ground_crown').notNull().default(0),
    /** Bit set of the kernel's flags that concern this zone. */
    flags: integer('flags').notNull().default(0),
    /** Bearings of fall that overlap the zone, degrees clockwise from true north: from, to, from, to … */
    touching: real('touching').array().notNull(),
  },
  (t) => [
    // By zone first: rows come tile by tile, and a tile's zones are few.
    primaryKey({ columns: [t.organisationId, t.zoneId, t.treeId] }),
    index('exposure_zone_tree').on(t.organisationId, t.treeId),
  ],
)

/**
 * What is left to do of a pass over all trees: squares of the map that any process may claim. `place` is the square's number
 * among those of its level, as in tree_mark.
 */
export const exposureTile = pgTable(
  'exposure_tile',
  {
    organisationId: organisationId(),
    jobId: uuid('job_id').notNull(),
    level: integer('level').notNull(),
    place: bigint('place', { mode: 'number' }).notNull(),
    trees: integer('trees').notNull(),
    state: words<'waiting' | 'working' | 'done'>('state').notNull().default('waiting'),
    claimedBy: uuid('claimed_by'),
    claimedAt: instant('claimed_at'),
    /** Trees whose figures had to be computed anew. */
    changed: integer('changed').notNull().default(0),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.jobId, t.level, t.place] }),
    index('exposure_tile_open').on(t.state),
  ],
)
