import * as fc from 'fast-check'
import { drain } from '../drain.ts'
import type { KeptEntry } from '../entry.ts'
import { MemoryOffice } from './office.ts'
import { Phone } from './phone.ts'
import { type Fault, faultyWay, Killed, Life } from './way.ts'

/**
 * Phones, people, one office, and everything that can go wrong between them. The faults and the ending (heal, wait, every queue empty,
 * both sides equal) are those of published tests of syncing stores; see the spec beside this folder.
 */
export type Action =
  | { do: 'enter'; phone: number; what: What; at: number; bad: boolean; poison: boolean }
  | { do: 'pass'; phone: number; fault: Fault; eager: boolean }
  | { do: 'wait'; minutes: number }
  | { do: 'deliver'; which: number }
  | { do: 'restart'; phone: number }
  | { do: 'change-person'; phone: number; person: number }
  | { do: 'copy' }
  | { do: 'set-back' }
type What = (typeof whats)[number]
const whats = [
  'draft',
  'finding',
  'closing',
  'note',
  'reading',
  'borders',
  'photo',
  'tree',
  'found',
  'stop',
] as const

const phones = 3
const people = ['sand', 'orrin'] as const
const treeIds = ['tree-0', 'tree-1', 'tree-2']
const pieceBytes = 16
const dayMs = 86_400_000

const index = (most: number) => fc.nat({ max: most - 1 })
const after = fc.nat({ max: 8 })
const fault: fc.Arbitrary<Fault> = fc.oneof(
  { weight: 3, arbitrary: fc.constant<Fault>({ kind: 'none' }) },
  fc.record({ kind: fc.constantFrom('out', 'in', 'twice', 'late', 'signed-out'), after }),
  fc.record({ kind: fc.constant('part' as const), after, most: fc.nat({ max: 4 }) }),
  fc.record({ kind: fc.constant('kill' as const), after: fc.nat({ max: 25 }), done: fc.boolean() }),
)
const rarely = fc.nat({ max: 9 }).map((n) => n === 0)
export const actions: fc.Arbitrary<Action[]> = fc.array(
  fc.oneof(
    {
      weight: 9,
      arbitrary: fc.record({
        do: fc.constant('enter' as const),
        phone: index(phones),
        what: fc.constantFrom(...whats),
        at: fc.nat({ max: 999 }),
        bad: rarely,
        poison: rarely,
      }),
    },
    {
      weight: 5,
      arbitrary: fc.record({
        do: fc.constant('pass' as const),
        phone: index(phones),
        fault,
        eager: fc.boolean(),
      }),
    },
    { weight: 2, arbitrary: fc.record({ do: fc.constant('wait' as const), minutes: fc.nat({ max: 400 }) }) },
    { weight: 2, arbitrary: fc.record({ do: fc.constant('deliver' as const), which: fc.nat({ max: 9 }) }) },
    { weight: 1, arbitrary: fc.record({ do: fc.constant('restart' as const), phone: index(phones) }) },
    {
      weight: 1,
      arbitrary: fc.record({
        do: fc.constant('change-person' as const),
        phone: index(phones),
        person: index(people.length),
      }),
    },
    { weight: 1, arbitrary: fc.constant<Action>({ do: 'copy' }) },
    { weight: 1, arbitrary: fc.constant<Action>({ do: 'set-back' }) },
  ),
  { minLength: 20, maxLength: 120 },
)

/** What went wrong in one run; all empty when nothing did. */
export interface Faults {
  /** Entries that never reached a verdict though nothing stood in their way any more. */
  wedged: string[]
  /** Records of the office that are not what people entered. */
  divergent: string[]
  /** Entries that changed the records not exactly once. */
  notOnce: string[]
}

/** Runs one story to its end: everything heals, every person signs in, and both sides are compared. */
export async function runStory(story: readonly Action[]): Promise<Faults> {
  const world = new World()
  for (const action of story) await world.step(action)
  await world.heal()
  return world.compare()
}

/** `count` stories that depend on nothing but the seed; gives the faults of each story that had any. */
export async function runStories(count: number, seed: number): Promise<{ story: number; faults: Faults }[]> {
  const out: { story: number; faults: Faults }[] = []
  let story = 0
  for (const one of fc.sample(actions, { numRuns: count, seed })) {
    const faults = await runStory(one)
    if (Object.values(faults).some((list) => list.length > 0)) out.push({ story, faults })
    story += 1
  }
  return out
}

interface Open {
  id: string
  treeId: string
  phone: number
  authorId: string
  findings: { id: string }[]
  isClosed: boolean
}

/** What people entered is written down apart from what the phones keep: the comparison must not ask the code under test. */
class World {
  private nowMs = Date.UTC(2026, 10, 25, 8)
  private count = 0
  private seed = 1
  private readonly office = new MemoryOffice(treeIds)
  private readonly phones = Array.from(
    { length: phones },
    // One clock is a day behind, one a day ahead.
    (_, i) => new Phone(`phone-${i}`, (i - 1) * dayMs, people[i % people.length]!),
  )
  private readonly held: (() => void)[] = []
  private copies: { at: number; state: MemoryOffice['state'] }[] = []
  private readonly visits: Open[] = []
  private readonly readings: { id: string; phone: number; authorId: string }[] = []
  private readonly found: { id: string; phone: number }[] = []
  private readonly said = {
    visits: new Map<string, { stage: string; word: string }>(),
    readings: new Map<string, string>(),
    borders: new Map<string, string>(),
    notes: new Map<string, string>(),
    trees: new Map<string, string>(),
    photos: new Map<string, number[]>(),
    stops: new Map<string, string>(),
  }

  private word = () => `w${++this.count}`
  private chance = () => {
    this.seed = (Math.imul(this.seed, 1664525) + 1013904223) >>> 0
    return this.seed / 4294967296
  }

  async step(action: Action): Promise<void> {
    this.nowMs += 1000
    switch (action.do) {
      case 'enter':
        return this.enter(action)
      case 'pass':
        return this.pass(this.phones[action.phone]!, action.fault, action.eager)
      case 'wait':
        this.nowMs += action.minutes * 60_000
        return
      case 'deliver':
        this.held.splice(action.which % Math.max(1, this.held.length), 1)[0]?.()
        return
      case 'restart':
        this.phones[action.phone]!.asks = true
        return
      case 'change-person':
        this.phones[action.phone]!.authorId = people[action.person]!
        return
      case 'copy':
        this.copies.push({ at: this.nowMs, state: this.office.copy() })
        return
      case 'set-back': {
        // A copy older than the time that phones keep what was sent is out of what is promised.
        this.copies = this.copies.filter(({ at }) => this.nowMs - at < dayMs)
        const copy = this.copies.pop()
        if (copy) this.office.state = structuredClone(copy.state)
      }
    }
  }

  /** Long because each kind of entry is made in its own way. */
  private enter({ phone: place, what, at, bad, poison }: Action & { do: 'enter' }): void {
    const phone = this.phones[place]!
    const word = this.word()
    const key = `key-${this.count}`
    const mine = this.visits.filter((v) => v.phone === place && v.authorId === phone.authorId)
    const open = mine.filter((v) => !v.isClosed)
    const put = (kind: KeptEntry['kind'], subject: string, body: object) =>
      phone.enter(kind, subject, { ...body, word, bad, poison }, key, this.nowMs)
    const draft = (visit: Open) => {
      this.said.visits.set(visit.id, { stage: 'draft', word })
      put('visit-draft', visit.id, { id: visit.id, treeId: visit.treeId, findings: [...visit.findings] })
    }
    switch (what) {
      case 'draft':
      case 'finding': {
        const known = [...treeIds, ...this.found.filter((t) => t.phone === place).map((t) => t.id)]
        let visit = open[at % Math.max(1, open.length)]
        if (!visit || (what === 'draft' && at % 3 === 0)) {
          visit = {
            id: `visit-${this.count}`,
            treeId: known[at % known.length]!,
            phone: place,
            authorId: phone.authorId,
            findings: [],
            isClosed: false,
          }
          this.visits.push(visit)
        }
        if (what === 'finding') visit.findings.push({ id: `finding-${this.count}` })
        draft(visit)
        return
      }
      case 'closing': {
        const visit = open[at % Math.max(1, open.length)]
        if (!visit) return
        visit.isClosed = true
        this.said.visits.set(visit.id, { stage: 'closed', word })
        put('closing', visit.id, {
          visit: { id: visit.id, treeId: visit.treeId, word, findings: [...visit.findings] },
        })
        return
      }
      case 'note': {
        const visit = open[at % Math.max(1, open.length)]
        if (!visit) return
        draft(visit)
        const id = `note-${this.count}`
        this.said.notes.set(id, word)
        phone.enter('urgent-note', id, { id, visitId: visit.id, word, bad, poison }, `${key}-n`, this.nowMs)
        return
      }
      case 'reading': {
        const visit = mine[at % Math.max(1, mine.length)]
        if (!visit) return
        const id = `reading-${this.count}`
        this.readings.push({ id, phone: place, authorId: phone.authorId })
        this.said.readings.set(id, word)
        put('reading', id, { id, visitId: visit.id })
        return
      }
      case 'borders': {
        const list = this.readings.filter((r) => r.phone === place && r.authorId === phone.authorId)
        const reading = list[at % Math.max(1, list.length)]
        if (!reading) return
        this.said.borders.set(reading.id, word)
        put('borders', reading.id, { probeId: reading.id })
        return
      }
      case 'photo': {
        const owners = [
          ...mine.map(({ id }) => id),
          ...mine.flatMap(({ findings }) => findings.map(({ id }) => id)),
          ...this.readings.filter((r) => r.phone === place).map(({ id }) => id),
        ]
        const ownerId = owners[at % Math.max(1, owners.length)]
        if (!ownerId) return
        const bytes = Uint8Array.from({ length: 1 + (at % 100) }, (_, i) => (i * 31 + this.count) % 256)
        const id = `photo-${this.count}`
        phone.files.set(`sha-${this.count}`, { bytes, keptAt: this.nowMs + phone.clockOffMs })
        this.said.photos.set(id, [...bytes])
        put('photo', id, { id, ownerId, sha256: `sha-${this.count}`, copyKind: at % 2 ? 'screen' : null })
        return
      }
      case 'tree': {
        const treeId = treeIds[at % treeIds.length]!
        this.said.trees.set(word, treeId)
        put('tree-change', treeId, { treeId, version: 1 + (at % 3) })
        return
      }
      case 'found': {
        const id = `found-${this.count}`
        this.found.push({ id, phone: place })
        this.said.trees.set(word, id)
        put('found-tree', id, { id })
        return
      }
      case 'stop':
        this.said.stops.set(word, `stop-${at % 4}`)
        put('stop-end', `stop-${at % 4}`, { stopId: `stop-${at % 4}` })
    }
  }

  private async pass(phone: Phone, fault: Fault, eager: boolean): Promise<void> {
    const life = new Life(fault)
    const way = faultyWay(this.office, fault, life, () => this.nowMs, this.held)
    const now = { ms: () => this.nowMs + phone.clockOffMs, chance: this.chance }
    try {
      const done = await drain(phone.keep(life), way, now, {
        authorIds: [phone.authorId],
        eager,
        askKnown: phone.asks,
        silences: phone.silences,
        pieceBytes,
      })
      phone.silences = done.ended === 'silent' ? phone.silences + 1 : 0
      if (done.asked) {
        phone.asks = false
        phone.clear(this.nowMs)
      }
    } catch (error) {
      if (!(error instanceof Killed)) throw error
      phone.asks = true
      phone.silences = 0
    }
  }

  /** The faults end; people mend what was refused; everyone signs in on every phone and time passes. */
  async heal(): Promise<void> {
    this.office.broken = false
    while (this.held.length > 0) this.held.pop()!()
    for (const phone of this.phones) phone.asks = true
    for (let round = 0; round < 12; round++)
      for (const phone of this.phones)
        for (const person of people) {
          phone.authorId = person
          this.nowMs += 301_000 * 1.25
          await this.pass(phone, { kind: 'none' }, false)
          this.mend(phone)
        }
  }

  private mend(phone: Phone): void {
    for (const entry of phone.entries.filter((e) => e.state === 'refused' && e.authorId === phone.authorId)) {
      const body = { ...(entry.body as object), bad: false }
      phone.entries = phone.entries.filter(({ key }) => key !== entry.key)
      phone.enter(entry.kind, entry.subjectId, body, `${entry.key}-mended`, this.nowMs)
    }
  }

  compare(): Faults {
    const { state } = this.office
    const wedged = this.phones.flatMap(({ id, entries }) =>
      entries
        .filter((entry) => entry.state !== 'sent')
        .map((e) => `${id} ${e.kind} ${e.key} ${e.state} ${e.refusals.map(({ code }) => code).join()}`),
    )
    const divergent: string[] = []
    const differ = (what: string, is: unknown, should: unknown) => {
      if (JSON.stringify(is) !== JSON.stringify(should))
        divergent.push(`${what}: ${JSON.stringify(is)} and not ${JSON.stringify(should)}`)
    }
    for (const [id, { stage, word }] of this.said.visits)
      differ(id, [state.visits[id]?.stage, state.visits[id]?.word], [stage, word])
    for (const [id, word] of this.said.readings) differ(id, state.readings[id], word)
    for (const [id, word] of this.said.borders) differ(`borders ${id}`, state.borders[id], word)
    for (const [id, word] of this.said.notes) differ(id, state.notes[id], word)
    for (const [id, bytes] of this.said.photos) differ(id, state.files[state.photos[id] ?? ''], bytes)
    for (const [word, id] of this.said.trees) {
      const tree = state.trees[id]
      const times = [...(tree?.words ?? []), ...(tree?.beside ?? [])].filter((one) => one === word).length
      differ(`${id} ${word}`, times, 1)
    }
    for (const [word, id] of this.said.stops)
      differ(`${id} ${word}`, state.stops[id]?.filter((one) => one === word).length, 1)
    return {
      wedged,
      divergent,
      notOnce: Object.entries(state.applied)
        .filter(([, times]) => times !== 1)
        .map(([key, times]) => `${key} ${times} times`),
    }
  }
}
