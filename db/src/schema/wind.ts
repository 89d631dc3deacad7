import type { WindRequest, WindSummary } from '@underbough/model'
import { sql } from 'drizzle-orm'
import { date, foreignKey, index, jsonb, pgTable, primaryKey, real, text, uuid } from 'drizzle-orm/pg-core'
import { instant, organisationId } from './columns.ts'
import { site } from './place.ts'

/** A file of hourly weather read for a site: what was said of it, what became of its rows, and the rose it gives. */
export const windFile = pgTable(
  'wind_file',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    siteId: uuid('site_id').notNull(),
    fileName: text('file_name').notNull(),
    /** SHA-256 of the file's bytes, hexadecimal. */
    digest: text('digest').notNull(),
    request: jsonb('request').$type<WindRequest>().notNull(),
    summary: jsonb('summary').$type<WindSummary>().notNull(),
    rose: jsonb('rose').$type<number[]>(),
    /** The rose the site had before this one was taken. */
    replaced: jsonb('replaced').$type<number[]>(),
    madeBy: text('made_by').notNull(),
    madeAt: instant('made_at').notNull().default(sql`now()`),
    acceptedBy: text('accepted_by'),
    acceptedAt: instant('accepted_at'),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    foreignKey({ columns: [t.organisationId, t.siteId], foreignColumns: [site.organisationId, site.id] }),
    index('wind_file_site').on(t.organisationId, t.siteId),
  ],
)

/** The strongest gust of each day at a site as a station measured it; civil date at the site. */
export const gust = pgTable(
  'gust',
  {
    organisationId: organisationId(),
    siteId: uuid('site_id').notNull(),
    on: date('on').notNull(),
    station: text('station').notNull(),
    gustMps: real('gust_mps').notNull(),
    fromDeg: real('from_deg'),
    at: instant('at').notNull(),
    windFileId: uuid('wind_file_id').notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.siteId, t.on, t.station] }),
    foreignKey({
      columns: [t.organisationId, t.windFileId],
      foreignColumns: [windFile.organisationId, windFile.id],
    }),
    index('gust_on').on(t.organisationId, t.on),
  ],
)
