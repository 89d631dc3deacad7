import type {
  Assignment,
  LeafState,
  LookingStep,
  Photo,
  ProbeInput,
  ProbeKind,
  StepAnswer,
  VisitLevel,
  WalkOverInput,
  WoodSegment,
} from '@underbough/model'
import { sql } from 'drizzle-orm'
import {
  bigserial,
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
  uniqueIndex,
  uuid,
} from 'drizzle-orm/pg-core'
import { bytes, instant, organisationId, words } from './columns.ts'
import { zone } from './place.ts'
import { tree } from './tree.ts'

export const visit = pgTable(
  'visit',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    treeId: uuid('tree_id').notNull(),
    personId: text('person_id').notNull(),
    level: integer('level').$type<VisitLevel>().notNull(),
    stage: words<'draft' | 'closed'>('stage').notNull(),
    startedAt: instant('started_at').notNull(),
    endedAt: instant('ended_at'),
    /** When the server stored the closed visit; `endedAt` is the device's word. Both are kept. */
    closedAt: instant('closed_at'),
    weather: text('weather').notNull(),
    leafState: words<LeafState>('leaf_state').notNull(),
    assignment: jsonb('assignment').$type<Assignment>(),
    steps: jsonb('steps').$type<StepAnswer[]>().notNull(),
    couldNotSee: text('could_not_see').notNull(),
    positionAccuracyM: real('position_accuracy_m'),
    /** Office minus device when it came; the times above are put right by it. */
    clockOffsetMs: doublePrecision('clock_offset_ms'),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    foreignKey({ columns: [t.organisationId, t.treeId], foreignColumns: [tree.organisationId, tree.id] }),
    index('visit_tree').on(t.organisationId, t.treeId, t.startedAt),
  ],
)

export const finding = pgTable(
  'finding',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    visitId: uuid('visit_id').notNull(),
    treeId: uuid('tree_id').notNull(),
    step: words<LookingStep>('step').notNull(),
    kind: text('kind').notNull(),
    heightM: real('height_m'),
    bearingDeg: real('bearing_deg'),
    extent: text('extent').notNull(),
    note: text('note').notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    foreignKey({ columns: [t.organisationId, t.visitId], foreignColumns: [visit.organisationId, visit.id] }),
    index('finding_tree').on(t.organisationId, t.treeId),
  ],
)

export const walkOver = pgTable(
  'walk_over',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    zoneId: uuid('zone_id').notNull(),
    personId: text('person_id').notNull(),
    on: date('on').notNull(),
    /** Every tree looked at: which ones they were must not change with the zone's outline. */
    treeIds: uuid('tree_ids').array().notNull().default(sql`'{}'`),
    notes: jsonb('notes').$type<WalkOverInput['notes']>().notNull(),
    remark: text('remark').notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    index('walk_over_tree').using('gin', t.treeIds),
    foreignKey({ columns: [t.organisationId, t.zoneId], foreignColumns: [zone.organisationId, zone.id] }),
  ],
)

/** A reading into wood, kept as it was entered. Figures are stored to the last digit: the same reading sent again must compare equal. */
export const probe = pgTable(
  'probe',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    visitId: uuid('visit_id').notNull(),
    kind: words<ProbeKind>('kind').notNull(),
    label: text('label').notNull().default(''),
    heightM: doublePrecision('height_m').notNull(),
    /** Where the instrument entered and pointed; null for what has no one entry. */
    entryBearingDeg: doublePrecision('entry_bearing_deg'),
    directionDeg: doublePrecision('direction_deg'),
    tiltDeg: doublePrecision('tilt_deg'),
    instrument: text('instrument').notNull(),
    instrumentCondition: text('instrument_condition').notNull().default(''),
    operator: text('operator').notNull().default(''),
    disinfected: boolean('disinfected'),
    reason: text('reason').notNull().default(''),
    reading: jsonb('reading').$type<ProbeInput['reading']>().notNull(),
    note: text('note').notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    foreignKey({ columns: [t.organisationId, t.visitId], foreignColumns: [visit.organisationId, visit.id] }),
    index('probe_visit').on(t.organisationId, t.visitId),
  ],
)

/** Borders of a trace that a person stands by. Rows are only ever added; `entry` keeps their order, the last one counts. */
export const probeBorders = pgTable(
  'probe_borders',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    probeId: uuid('probe_id').notNull(),
    entry: bigserial('entry', { mode: 'number' }).notNull(),
    barkCm: doublePrecision('bark_cm').notNull(),
    segments: jsonb('segments').$type<WoodSegment[]>().notNull(),
    moved: boolean('moved').notNull(),
    note: text('note').notNull(),
    personId: text('person_id').notNull(),
    at: instant('at').notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    foreignKey({
      name: 'probe_borders_probe_fk',
      columns: [t.organisationId, t.probeId],
      foreignColumns: [probe.organisationId, probe.id],
    }),
    index('probe_borders_probe').on(t.organisationId, t.probeId),
  ],
)

/** The original bytes lie in `photoBytes`, once for each digest; this is what they are a photo of. */
export const photo = pgTable(
  'photo',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    ownerKind: words<Photo['ownerKind']>('owner_kind').notNull(),
    ownerId: uuid('owner_id').notNull(),
    sha256: text('sha256').notNull(),
    bytes: integer('bytes').notNull(),
    mediaType: text('media_type').notNull(),
    takenAt: instant('taken_at'),
    position: jsonb('position').$type<Photo['position']>(),
    caption: text('caption').notNull(),
    copyOf: uuid('copy_of'),
    copyKind: words<NonNullable<Photo['copyKind']>>('copy_kind'),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    index('photo_owner').on(t.organisationId, t.ownerId),
  ],
)

export const photoBytes = pgTable(
  'photo_bytes',
  { organisationId: organisationId(), sha256: text('sha256').notNull(), content: bytes('content').notNull() },
  (t) => [uniqueIndex('photo_bytes_digest').on(t.organisationId, t.sha256)],
)
