import type { ZoneKind } from '@underbough/model'
import {
  date,
  doublePrecision,
  foreignKey,
  index,
  integer,
  pgTable,
  primaryKey,
  text,
  uuid,
} from 'drizzle-orm/pg-core'
import { organisationId, words } from './columns.ts'
import { zone } from './place.ts'

/** People are mean numbers within the outline of the tree that bears most, given that it fails; the sum is over trees rated moderate or more. */
const figures = () => ({
  people: doublePrecision('people').notNull(),
  peopleLeast: doublePrecision('people_least').notNull(),
  peopleMost: doublePrecision('people_most').notNull(),
  sumModerate: doublePrecision('sum_moderate').notNull(),
  trees: integer('trees').notNull(),
  treesModerate: integer('trees_moderate').notNull(),
  treesHigh: integer('trees_high').notNull(),
  treesExtreme: integer('trees_extreme').notNull(),
})

/**
 * What hangs over one zone, or stands in one cell of the grid: kept up to date from `hotspot_touched`, never edited. `spot`
 * is the zone's identifier, or the cell's column and row (`134217/91532`).
 */
export const hotspot = pgTable(
  'hotspot',
  {
    organisationId: organisationId(),
    spot: text('spot').notNull(),
    zoneId: uuid('zone_id'),
    cellX: integer('cell_x'),
    cellY: integer('cell_y'),
    ...figures(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.spot] }),
    foreignKey({
      columns: [t.organisationId, t.zoneId],
      foreignColumns: [zone.organisationId, zone.id],
    }).onDelete('cascade'),
    index('hotspot_people').on(t.organisationId, t.people),
    index('hotspot_sum').on(t.organisationId, t.sumModerate),
    index('hotspot_rating').on(t.organisationId, t.treesExtreme, t.treesHigh, t.treesModerate, t.people),
    index('hotspot_zone').on(t.organisationId, t.zoneId),
  ],
)

/** A spot as it stood when it last changed in a month: the newest row up to a month is how that month ended. */
export const hotspotMonth = pgTable(
  'hotspot_month',
  {
    organisationId: organisationId(),
    spot: text('spot').notNull(),
    /** First day of the month. */
    month: date('month').notNull(),
    /** Of a zone; kept, for a zone may leave the map. Null for cells. */
    name: text('name'),
    kind: words<ZoneKind>('kind'),
    ...figures(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.spot, t.month] }),
    index('hotspot_month_month').on(t.organisationId, t.month, t.trees),
  ],
)

/** Zones and cells whose figures may have changed since they were last reckoned: written by triggers, emptied by reading. */
export const hotspotTouched = pgTable('hotspot_touched', {
  organisationId: organisationId(),
  zoneId: uuid('zone_id'),
  cellX: integer('cell_x'),
  cellY: integer('cell_y'),
})
