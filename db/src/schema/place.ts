import type {
  Contact,
  Crew,
  GroundFeatureKind,
  OccupancyProfile,
  OccupancyWord,
  Position,
  SeasonWeek,
  ShelterClass,
  ZoneInput,
  ZoneKind,
} from '@underbough/model'
import { sql } from 'drizzle-orm'
import {
  boolean,
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
import { geometry, organisationId, stamped, words } from './columns.ts'

export const site = pgTable(
  'site',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    name: text('name').notNull(),
    outline: geometry('outline', { kind: 'Geometry' }).notNull(),
    timeZone: text('time_zone'),
    windRose: jsonb('wind_rose').$type<number[]>(),
    detourFactor: real('detour_factor').notNull().default(1.3),
    contacts: jsonb('contacts').$type<Contact[]>().notNull().default([]),
    ...stamped(),
  },
  (t) => [primaryKey({ columns: [t.organisationId, t.id] })],
)

export const groundFeature = pgTable(
  'ground_feature',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    siteId: uuid('site_id'),
    kind: words<GroundFeatureKind>('kind').notNull(),
    name: text('name'),
    geometry: geometry('geometry', { kind: 'Geometry' }).notNull(),
    sourceKey: text('source_key'),
    ...stamped(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    index('ground_feature_geometry').using('gist', t.geometry),
  ],
)

export const zone = pgTable(
  'zone',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    siteId: uuid('site_id'),
    name: text('name').notNull(),
    kind: words<ZoneKind>('kind').notNull(),
    geometry: geometry('geometry', { kind: 'Geometry' }).notNull(),
    fromLine: jsonb('from_line').$type<ZoneInput['fromLine']>(),
    areaM2: doublePrecision('area_m2').notNull(),
    occupancyWord: words<OccupancyWord>('occupancy_word').notNull(),
    occupancy: jsonb('occupancy').$type<OccupancyProfile>().notNull(),
    seasons: jsonb('seasons').$type<SeasonWeek[]>().notNull().default([]),
    groupSize: real('group_size'),
    staticTarget: boolean('static_target').notNull(),
    shelterHeightM: real('shelter_height_m'),
    shelterClass: words<ShelterClass>('shelter_class'),
    valueAtStake: doublePrecision('value_at_stake'),
    partOf: uuid('part_of'),
    note: text('note').notNull().default(''),
    sourceKey: text('source_key'),
    ...stamped(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    foreignKey({ columns: [t.organisationId, t.partOf], foreignColumns: [t.organisationId, t.id] }),
    index('zone_geometry').using('gist', t.geometry),
    index('zone_geodesic').using('gist', sql`((${t.geometry})::geography)`),
    uniqueIndex('zone_source_key').on(t.organisationId, t.sourceKey),
  ],
)

export const crew = pgTable(
  'crew',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    name: text('name').notNull(),
    letter: text('letter').notNull(),
    level: integer('level').$type<1 | 2 | 3>().notNull(),
    equipment: jsonb('equipment').$type<string[]>().notNull(),
    memberIds: jsonb('member_ids').$type<string[]>().notNull(),
    start: jsonb('start').$type<Position>().notNull(),
    end: jsonb('end').$type<Position>().notNull(),
    hours: jsonb('hours').$type<Crew['hours']>().notNull(),
    breakMinutes: integer('break_minutes').notNull(),
    daysOff: jsonb('days_off').$type<string[]>().notNull(),
    ...stamped(),
  },
  (t) => [primaryKey({ columns: [t.organisationId, t.id] })],
)
