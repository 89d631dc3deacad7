import type { EntryKind, EntryVerdict, TreeInput } from '@underbough/model'
import {
  bigserial,
  doublePrecision,
  index,
  integer,
  jsonb,
  pgTable,
  primaryKey,
  text,
  uuid,
} from 'drizzle-orm/pg-core'
import { bytes, instant, organisationId, words } from './columns.ts'

/** Entries that devices sent and the office took, once for each key: the same key again is answered from here. */
export const receivedEntry = pgTable(
  'received_entry',
  {
    organisationId: organisationId(),
    key: uuid('key').notNull(),
    /** Rises with each one taken; a device that has seen a higher one knows that the office was restored from a copy. */
    mark: bigserial('mark', { mode: 'number' }).notNull(),
    kind: words<EntryKind>('kind').notNull(),
    /** Of the kind and the body as they came: another content under one key is refused. */
    digest: text('digest').notNull(),
    verdict: words<EntryVerdict>('verdict').notNull(),
    answer: jsonb('answer'),
    authorId: text('author_id').notNull(),
    sentBy: text('sent_by').notNull(),
    deviceId: uuid('device_id').notNull(),
    format: integer('format').notNull(),
    madeAt: instant('made_at').notNull(),
    clockOffsetMs: doublePrecision('clock_offset_ms').notNull(),
    receivedAt: instant('received_at').notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.key] }),
    index('received_entry_mark').on(t.organisationId, t.mark),
  ],
)

/** Pieces of files on their way, until the whole is here and its digest agrees. */
export const uploadPiece = pgTable(
  'upload_piece',
  {
    organisationId: organisationId(),
    sha256: text('sha256').notNull(),
    fromByte: integer('from_byte').notNull(),
    content: bytes('content').notNull(),
    receivedAt: instant('received_at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.organisationId, t.sha256, t.fromByte] })],
)

/** A version of a record that came after somebody else had changed it: kept beside the stored one until the office chooses. */
export const secondVersion = pgTable(
  'second_version',
  {
    organisationId: organisationId(),
    id: uuid('id').notNull(),
    kind: words<'tree'>('kind').notNull(),
    subjectId: uuid('subject_id').notNull(),
    fromVersion: integer('from_version').notNull(),
    offered: jsonb('offered').$type<TreeInput>().notNull(),
    personId: text('person_id').notNull(),
    madeAt: instant('made_at').notNull(),
    receivedAt: instant('received_at').notNull(),
    state: words<'open' | 'chosen'>('state').notNull(),
    chosenBy: text('chosen_by'),
    chosenAt: instant('chosen_at'),
    /** What the record was before the choice, so that neither version is lost. */
    replaced: jsonb('replaced').$type<TreeInput>(),
  },
  (t) => [
    primaryKey({ columns: [t.organisationId, t.id] }),
    index('second_version_subject').on(t.organisationId, t.subjectId),
  ],
)
