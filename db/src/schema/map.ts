import type { TreeStatus } from '@underbough/model'
import { sql } from 'drizzle-orm'
import {
  bigint,
  boolean,
  date,
  index,
  integer,
  pgTable,
  primaryKey,
  real,
  smallint,
  text,
  uuid,
} from 'drizzle-orm/pg-core'
import { organisationId, words } from './columns.ts'

const place = () => bigint('place', { mode: 'number' })

/**
 * What tiles show of one tree, kept by triggers on `tree` and `tree_state` (see the migration), never written by hand.
 * `x` and `y` count 2^30 units across the web's square projection from its north-west corner; `place` interleaves their
 * bits, so that each tile of each zoom is one range of it, and each square within a tile one number.
 */
export const treeMark = pgTable(
  'tree_mark',
  {
    organisationId: organisationId(),
    treeId: uuid('tree_id').notNull(),
    x: integer('x').notNull(),
    y: integer('y').notNull(),
    place: place().notNull(),
    siteId: uuid('site_id'),
    tag: text('tag').notNull(),
    /** Species and common name in small letters, for narrowing by a part of either. */
    names: text('names').notNull(),
    status: words<TreeStatus>('status').notNull(),
    stemDiameterCm: real('stem_diameter_cm'),
    /** 0 not yet rated, 1 low to 4 extreme. */
    risk: smallint('risk').notNull(),
    seen: boolean('seen').notNull(),
    ratingOpen: boolean('rating_open').notNull(),
    dueOn: date('due_on'),
    /** Worst first: standing, then the highest risk, then due first. */
    rank: integer('rank')
      .notNull()
      .generatedAlwaysAs(
        sql`(case when status in ('standing', 'pole') then 0 else 8 end + 4 - risk) * 1048576
          + case when due_on is null then 1048575 else least(greatest(due_on - date '1970-01-01', 0), 1048574) end`,
      ),
    /** The squares of which a crowded tile of zoom 12 to 15 shows the worst tree: 32 along each side of the tile. */
    square12: bigint('square12', { mode: 'number' }).notNull().generatedAlwaysAs(sql`place >> 26`),
    square13: bigint('square13', { mode: 'number' }).notNull().generatedAlwaysAs(sql`place >> 24`),
    square14: bigint('square14', { mode: 'number' }).notNull().generatedAlwaysAs(sql`place >> 22`),
    square15: bigint('square15', { mode: 'number' }).notNull().generatedAlwaysAs(sql`place >> 20`),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.treeId] }),
    index('tree_mark_place').on(t.organisationId, t.place),
    index('tree_mark_due').on(t.organisationId, t.dueOn),
  ],
)

/**
 * How many standing trees of each kind lie in each cell of a coarse grid. Rows are added, never changed: the count of a cell
 * is the sum of its rows. A row that nobody else holds is taken up into the next, so that few lie side by side.
 */
export const treeCount = pgTable(
  'tree_count',
  {
    organisationId: organisationId(),
    /** The zoom whose tiles are the cells: 14, 11 or 8. */
    level: smallint('level').notNull(),
    cell: bigint('cell', { mode: 'number' }).notNull(),
    risk: smallint('risk').notNull(),
    seen: boolean('seen').notNull(),
    /** Day number of the Monday of the week it is due in; 0, which is a Thursday, where nothing is due. */
    week: integer('week').notNull(),
    n: integer('n').notNull(),
    /** Sums of the trees' `x` and `y`, for the middle of them. */
    sumX: bigint('sum_x', { mode: 'number' }).notNull(),
    sumY: bigint('sum_y', { mode: 'number' }).notNull(),
  },
  (t) => [index('tree_count_cell').on(t.organisationId, t.level, t.cell, t.week, t.risk, t.seen)],
)

/**
 * How often what a tile shows has changed, by cell of the map. As with `tree_count`, rows are added and summed, so that
 * nobody waits for another's transaction and the sum over an area rises with each one that changed it.
 */
export const mapChange = pgTable(
  'map_change',
  {
    organisationId: organisationId(),
    layer: words<'trees' | 'ground'>('layer').notNull(),
    /** The zoom whose tile the cell is: 16 for trees; for an area one at which few cells cover it. */
    level: smallint('level').notNull(),
    /** The cell's first `place`. */
    place: place().notNull(),
    n: integer('n').notNull(),
  },
  (t) => [index('map_change_place').on(t.organisationId, t.layer, t.place)],
)
