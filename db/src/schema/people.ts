import type { Organisation, Role } from '@underbough/model'
import { sql } from 'drizzle-orm'
import {
  boolean,
  date,
  integer,
  jsonb,
  pgTable,
  primaryKey,
  real,
  text,
  timestamp,
  uuid,
} from 'drizzle-orm/pg-core'
import { instant, organisationId, words } from './columns.ts'

export const organisation = pgTable('organisation', {
  id: uuid('id').primaryKey(),
  name: text('name').notNull(),
  timeZone: text('time_zone').notNull(),
  hemisphere: words<Organisation['hemisphere']>('hemisphere').notNull(),
  stemHeightM: real('stem_height_m').notNull(),
  units: words<Organisation['units']>('units').notNull(),
  failureTimeFrameYears: real('failure_time_frame_years').notNull(),
  demo: boolean('demo').notNull().default(false),
})

export const membership = pgTable(
  'membership',
  {
    organisationId: organisationId().references(() => organisation.id),
    personId: text('person_id').notNull(),
    role: words<Role>('role').notNull(),
    qualification: text('qualification'),
    qualificationExpiresOn: date('qualification_expires_on'),
    /** The day the person left; their name stays on what they made. */
    endedOn: date('ended_on'),
  },
  (t) => [primaryKey({ columns: [t.organisationId, t.personId] })],
)

/** Editions of the policy; the newest counts, the old ones stay so that an old due date can be explained. */
export const policy = pgTable(
  'policy',
  {
    organisationId: organisationId(),
    edition: text('edition').notNull(),
    content: jsonb('content').notNull(),
    madeBy: text('made_by').notNull(),
    madeAt: instant('made_at').notNull().default(sql`now()`),
  },
  (t) => [primaryKey({ columns: [t.organisationId, t.edition] })],
)

/** Editions of the figures that exposure assumes; the highest counts, none stored is the starting one, edition 0. */
export const exposurePolicy = pgTable(
  'exposure_policy',
  {
    organisationId: organisationId(),
    edition: integer('edition').notNull(),
    content: jsonb('content').notNull(),
    reason: text('reason').notNull(),
    madeBy: text('made_by').notNull(),
    madeAt: instant('made_at').notNull().default(sql`now()`),
  },
  (t) => [primaryKey({ columns: [t.organisationId, t.edition] })],
)

const authTime = (name: string) => timestamp(name, { withTimezone: true, mode: 'date' })

// Sign-in: the tables that better-auth keeps, under its own column names.
export const authUser = pgTable('auth_user', {
  id: text('id').primaryKey(),
  name: text('name').notNull(),
  email: text('email').notNull().unique(),
  emailVerified: boolean('email_verified').notNull().default(false),
  image: text('image'),
  createdAt: authTime('created_at').notNull().defaultNow(),
  updatedAt: authTime('updated_at').notNull().defaultNow(),
})
export const authSession = pgTable('auth_session', {
  id: text('id').primaryKey(),
  expiresAt: authTime('expires_at').notNull().defaultNow(),
  token: text('token').notNull().unique(),
  createdAt: authTime('created_at').notNull().defaultNow(),
  updatedAt: authTime('updated_at').notNull().defaultNow(),
  ipAddress: text('ip_address'),
  userAgent: text('user_agent'),
  userId: text('user_id')
    .notNull()
    .references(() => authUser.id, { onDelete: 'cascade' }),
})
export const authAccount = pgTable('auth_account', {
  id: text('id').primaryKey(),
  accountId: text('account_id').notNull(),
  providerId: text('provider_id').notNull(),
  userId: text('user_id')
    .notNull()
    .references(() => authUser.id, { onDelete: 'cascade' }),
  accessToken: text('access_token'),
  refreshToken: text('refresh_token'),
  idToken: text('id_token'),
  accessTokenExpiresAt: authTime('access_token_expires_at'),
  refreshTokenExpiresAt: authTime('refresh_token_expires_at'),
  scope: text('scope'),
  password: text('password'),
  createdAt: authTime('created_at').notNull().defaultNow(),
  updatedAt: authTime('updated_at').notNull().defaultNow(),
})
export const authVerification = pgTable('auth_verification', {
  id: text('id').primaryKey(),
  identifier: text('identifier').notNull(),
  value: text('value').notNull(),
  expiresAt: authTime('expires_at').notNull().defaultNow(),
  createdAt: authTime('created_at').notNull().defaultNow(),
  updatedAt: authTime('updated_at').notNull().defaultNow(),
})
