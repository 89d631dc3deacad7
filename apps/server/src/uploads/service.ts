import type { Session } from '@underbough/db'
import { refusal } from '@underbough/model'
import type { Deps, Person } from '../http/context.ts'
import { Refused, refuse } from '../http/problem.ts'
import { mostPhotoBytes, pictureType, unknownPicture } from '../photos/picture.ts'
import * as queries from './queries.ts'

/** How much of a file is here. `received` bytes stand without a gap from the first on; the next piece starts there. */
export interface Progress {
  received: number
  whole: boolean
}
/** Pieces of a file that nobody went on with are kept for so long. */
const keptDays = 30

export async function progressOf(deps: Deps, person: Person, sha256: string): Promise<Progress> {
  return progress(deps.database.db, person.organisation.id, sha256)
}

async function progress(session: Session, organisationId: string, sha256: string): Promise<Progress> {
  const whole = await queries.wholeLength(session, organisationId, sha256)
  return whole === null
    ? { received: await queries.receivedLength(session, organisationId, sha256), whole: false }
    : { received: whole, whole: true }
}

/**
 * Keeps a piece of a file; with the last one the whole is checked against its digest and kept. A piece that is here already changes
 * nothing. Refused: `conflict` with the true `received` for a piece that starts elsewhere; `digest-differs` and
 * `file-not-this-format`, with every piece dropped, for a whole that is not what it was said to be.
 */
export async function keepPiece(
  deps: Deps,
  person: Person,
  piece: { sha256: string; from: number; of: number; content: Uint8Array },
): Promise<Progress> {
  const organisationId = person.organisation.id
  const { sha256, from, of, content } = piece
  checkSizes(piece)
  const now = deps.now()
  const outcome = await deps.database.transaction(async (tx) => {
    await queries.lockUpload(tx, organisationId, sha256)
    const before = await progress(tx, organisationId, sha256)
    if (before.whole) return before
    if (from !== before.received) {
      const there = await queries.pieceAt(tx, organisationId, sha256, from)
      return there && Buffer.from(there).equals(content) ? before : elsewhere(before)
    }
    const abandoned = new Date(now.getTime() - keptDays * 86_400_000).toISOString()
    if (from === 0) await queries.dropAbandoned(tx, organisationId, abandoned)
    await queries.insertPiece(tx, {
      organisationId,
      sha256,
      fromByte: from,
      content,
      receivedAt: now.toISOString(),
    })
    const received = from + content.length
    return received < of ? { received, whole: false } : complete(tx, organisationId, sha256, received)
  })
  // Refused after the commit: what is wrong with a whole drops its pieces.
  if (outcome instanceof Refused) throw outcome
  return outcome
}

function checkSizes({ from, of, content }: { from: number; of: number; content: Uint8Array }) {
  if (of > mostPhotoBytes)
    refuse('too-large', 'of', 'A photo may hold at most 40 MiB.', { value: of, limit: 'at most 40 MiB' })
  if (content.length === 0) refuse('file-empty', '', 'This piece holds nothing.')
  if (from + content.length > of)
    refuse('malformed', 'of', 'The piece ends after the file that it is said to be part of.', { value: of })
}

function elsewhere({ received }: Progress) {
  return new Refused(
    [
      refusal('conflict', 'from', {
        value: received,
        message: `The next piece starts at byte ${received}. What was received is kept.`,
      }),
    ],
    { received },
  )
}

async function complete(
  tx: Session,
  organisationId: string,
  sha256: string,
  received: number,
): Promise<Progress | Refused> {
  const whole = await queries.joined(tx, organisationId, sha256)
  const wrong =
    whole.sha256 !== sha256
      ? refusal('digest-differs', 'sha256', {
          message:
            'The bytes changed on their way: their digest is another. Send the file again from the start.',
        })
      : pictureType(whole.head) === null
        ? unknownPicture('')
        : null
  if (!wrong) await queries.keepWhole(tx, organisationId, sha256)
  await queries.dropPieces(tx, organisationId, sha256)
  return wrong ? new Refused([wrong]) : { received, whole: true }
}
