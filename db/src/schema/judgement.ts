import type { ChangeWord, Rating, RiskWord, ScenarioPart, Work, WorkKind, WorkState } from '@underbough/model'
import {
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
import { zone } from './place.ts'
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

/** Who is under a tree if it fails: one row a tree, with everything the reasons and pictures need. */
export const exposure = pgTable(
  'exposure',
  {
    organisationId: organisationId(),
    treeId: uuid('tree_id').notNull(),
    reachM: real('reach_m').notNull(),
    joint: jsonb('joint').notNull(),
    density: jsonb('density').$type<number[]>().notNull(),
    flags: jsonb('flags').notNull(),
    inputs: jsonb('inputs').notNull(),
    methodVersion: text('method_version').notNull(),
    computedAt: instant('computed_at').notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.treeId] }),
    foreignKey({
      columns: [t.organisationId, t.treeId],
      foreignColumns: [tree.organisationId, tree.id],
    }).onDelete('cascade'),
  ],
)

/** One row for each zone within a tree's reach. `people` are mean numbers within the outline, given that it fails. */
export const exposureZone = pgTable(
  'exposure_zone',
  {
    organisationId: organisationId(),
    treeId: uuid('tree_id').notNull(),
    zoneId: uuid('zone_id').notNull(),
    pTouch: doublePrecision('p_touch').notNull(),
    pTouchLeast: doublePrecision('p_touch_least').notNull(),
    pTouchMost: doublePrecision('p_touch_most').notNull(),
    people: doublePrecision('people').notNull(),
    peopleLeast: doublePrecision('people_least').notNull(),
    peopleMost: doublePrecision('people_most').notNull(),
    peopleStem: doublePrecision('people_stem').notNull(),
    peopleCrown: doublePrecision('people_crown').notNull(),
    pAny: doublePrecision('p_any').notNull(),
    touching: jsonb('touching').$type<[number, number][]>().notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.treeId, t.zoneId] }),
    foreignKey({
      columns: [t.organisationId, t.treeId],
      foreignColumns: [tree.organisationId, tree.id],
    }).onDelete('cascade'),
    foreignKey({
      columns: [t.organisationId, t.zoneId],
      foreignColumns: [zone.organisationId, zone.id],
    }).onDelete('cascade'),
    index('exposure_zone_zone').on(t.organisationId, t.zoneId),
  ],
)
