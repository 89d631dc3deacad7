import type { BatchAnswer, BatchInput, EntryAnswer, EntryEnvelope } from '@underbough/model'
import { refusal } from '@underbough/model'
import type { Uploaded } from '../ports.ts'

/** One office in memory that follows the rules of receiving: once for each key, later for what is not here, beside on a conflict. */
interface State {
  mark: number
  received: Record<string, { text: string; answer: EntryAnswer }>
  /** How often an entry changed the records; more than once is a fault. */
  applied: Record<string, number>
  visits: Record<string, { stage: 'draft' | 'closed'; word: string; findings: string[]; madeAt: string }>
  trees: Record<string, { version: number; words: string[]; beside: string[] }>
  readings: Record<string, string>
  borders: Record<string, string>
  notes: Record<string, string>
  stops: Record<string, string[]>
  photos: Record<string, string>
  files: Record<string, number[]>
  pieces: Record<string, number[]>
}

export const emptyOffice = (treeIds: readonly string[]): State => ({
  mark: 0,
  received: {},
  applied: {},
  visits: {},
  trees: Object.fromEntries(treeIds.map((id) => [id, { version: 1, words: [], beside: [] }])),
  readings: {},
  borders: {},
  notes: {},
  stops: {},
  photos: {},
  files: {},
  pieces: {},
})

/** A body as the simulation makes it: enough of a record to tell one from another. */
interface Body {
  id: string
  treeId: string
  visitId: string
  probeId: string
  ownerId: string
  stopId: string
  sha256: string
  version: number
  word: string
  visit: { id: string; treeId: string; word: string; findings: { id: string }[] }
  findings: { id: string }[]
  bad?: boolean
  /** Answers `later` until the office is mended. */
  poison?: boolean
}
type Verdict = Pick<EntryAnswer, 'verdict' | 'refusals'>
const taken: Verdict = { verdict: 'taken', refusals: [] }
const later = (code: 'owner-missing' | 'bytes-missing' | 'internal-fault'): Verdict => ({
  verdict: 'later',
  refusals: [refusal(code)],
})

export class MemoryOffice {
  state: State
  broken = true
  constructor(treeIds: readonly string[]) {
    this.state = emptyOffice(treeIds)
  }
  copy = (): State => structuredClone(this.state)

  /** Takes the first `most` entries of a message; a kill in the middle leaves the rest untouched. */
  batch(input: BatchInput, nowMs: number, most = Number.POSITIVE_INFINITY): BatchAnswer {
    const answers = input.entries.slice(0, most).map((entry) => this.take(entry))
    return {
      officeNow: new Date(nowMs).toISOString(),
      clockOffsetMs: nowMs - Date.parse(input.sentAt),
      officeMark: this.state.mark,
      answers,
    }
  }

  known(keys: readonly string[]) {
    return { missing: keys.filter((key) => !this.state.received[key]), officeMark: this.state.mark }
  }

  uploaded(sha256: string): Uploaded {
    return this.state.files[sha256]
      ? { received: this.state.files[sha256].length, whole: true }
      : { received: this.state.pieces[sha256]?.length ?? 0, whole: false }
  }

  /** Null where the piece does not begin where the office stands. */
  upload(sha256: string, from: number, of: number, piece: Uint8Array): Uploaded | null {
    if (this.state.files[sha256]) return this.uploaded(sha256)
    this.state.pieces[sha256] ??= []
    const here = this.state.pieces[sha256]
    if (from !== here.length) return null
    here.push(...piece)
    if (here.length < of) return { received: here.length, whole: false }
    delete this.state.pieces[sha256]
    this.state.files[sha256] = here
    return { received: of, whole: true }
  }

  private take(entry: EntryEnvelope): EntryAnswer {
    const text = JSON.stringify([entry.kind, entry.body])
    const before = this.state.received[entry.key]
    const whole = (verdict: Verdict, again = false): EntryAnswer => ({
      key: entry.key,
      again,
      answer: null,
      ...verdict,
    })
    if (before)
      return before.text === text
        ? { ...before.answer, again: true }
        : whole({ verdict: 'refused', refusals: [refusal('entry-key-reused')] })
    const answer = whole(this.judge(entry))
    if (answer.verdict === 'taken' || answer.verdict === 'beside') {
      this.state.mark += 1
      this.state.received[entry.key] = { text, answer }
      this.state.applied[entry.key] = (this.state.applied[entry.key] ?? 0) + 1
    }
    return answer
  }

  /** Long because each kind has its own rule. */
  private judge(entry: EntryEnvelope): Verdict {
    const body = entry.body as Body
    const { visits, trees, readings, borders, notes, stops, photos, files } = this.state
    const knowsTree = (id: string) => trees[id] !== undefined
    if (body.poison && this.broken) return later('internal-fault')
    if (body.bad) return { verdict: 'refused', refusals: [refusal('out-of-range', 'word')] }
    switch (entry.kind) {
      case 'urgent-note':
        if (!visits[body.visitId]) return later('owner-missing')
        notes[body.id] = body.word
        return taken
      case 'found-tree':
        trees[body.id] = { version: 1, words: [body.word], beside: [] }
        return taken
      case 'tree-change': {
        const tree = trees[body.treeId]
        if (!tree) return later('owner-missing')
        if (tree.version !== body.version) {
          tree.beside.push(body.word)
          return { verdict: 'beside', refusals: [] }
        }
        tree.version += 1
        tree.words.push(body.word)
        return taken
      }
      case 'visit-draft': {
        if (!knowsTree(body.treeId)) return later('owner-missing')
        const here = visits[body.id]
        if (here?.stage === 'closed') return { verdict: 'refused', refusals: [refusal('visit-closed')] }
        // A message held up on its way must not put an older draft over a newer one.
        if (here && here.madeAt > entry.madeAt) return taken
        visits[body.id] = {
          stage: 'draft',
          word: body.word,
          findings: body.findings.map(({ id }) => id),
          madeAt: entry.madeAt,
        }
        return taken
      }
      case 'closing':
        if (!knowsTree(body.visit.treeId)) return later('owner-missing')
        visits[body.visit.id] = {
          stage: 'closed',
          word: body.visit.word,
          findings: body.visit.findings.map(({ id }) => id),
          madeAt: entry.madeAt,
        }
        return taken
      case 'reading':
        if (!visits[body.visitId]) return later('owner-missing')
        readings[body.id] = body.word
        return taken
      case 'borders':
        if (readings[body.probeId] === undefined) return later('owner-missing')
        borders[body.probeId] = body.word
        return taken
      case 'stop-end': {
        const list = stops[body.stopId] ?? []
        stops[body.stopId] = [...list, body.word]
        return taken
      }
      case 'photo': {
        if (!files[body.sha256]) return later('bytes-missing')
        const owner = body.ownerId
        const found =
          visits[owner] ||
          readings[owner] !== undefined ||
          notes[owner] !== undefined ||
          Object.values(visits).some(({ findings }) => findings.includes(owner))
        if (!found) return later('owner-missing')
        photos[body.id] = body.sha256
        return taken
      }
      default:
        return { verdict: 'refused', refusals: [refusal('entry-kind-unknown')] }
    }
  }
}
