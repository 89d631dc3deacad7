import { randomUUID } from 'node:crypto'
import { readFileSync } from 'node:fs'
import type { Ask } from '../server.ts'
import type { Ledger } from './ledger.ts'
import type { Picture } from './pictures.ts'

// What earlier versions wrote, word for word as they wrote it: nothing here follows today's forms.
export const steps = [
  'surroundings',
  'beyond-roots',
  'root-zone',
  'base',
  'stem',
  'main-branches',
  'twigs-leaves',
].map((step) => ({ step, result: 'nothing-found', notSeenBecause: null, seconds: 20 }))
export const assignment = {
  scope: 'One tree',
  level: 1,
  levelReason: 'Due',
  timeFrameYears: 3,
  targets: 'The path',
  limits: 'From the path, one side',
}
/** Thirty days ago, and so many minutes later: as long as a phone may lie in a drawer. */
const then = (minutes: number) => new Date(Date.now() - 30 * 86_400_000 + minutes * 60_000).toISOString()
const visitOf = (id: string, treeId: string, ended: boolean) => ({
  id,
  treeId,
  level: 1,
  startedAt: then(0),
  endedAt: ended ? then(20) : null,
  weather: 'dry',
  leafState: 'in-leaf',
  assignment,
  steps,
  findings: [],
  couldNotSee: '',
  positionAccuracyM: null,
})
const closingOf = (id: string, treeId: string) => ({
  visit: visitOf(id, treeId, true),
  rating: null,
  works: [],
  urgentNote: null,
})
export const metaOf = ({ sha256 }: Picture, visitId: string) => ({
  id: randomUUID(),
  ownerKind: 'visit',
  ownerId: visitId,
  takenAt: then(5),
  position: null,
  caption: 'Stem',
  sha256,
})

/** What a phone brings in the forms of the first versions: its single requests, and a batch. */
export interface Bringing {
  ledger: Ledger
  take(count: number): Picture[]
}

export interface Tree {
  id: string
  tag: string
}
async function must(ask: Ask, method: string, path: string, body: unknown) {
  const answer = await ask(method, path, body)
  if (answer.status >= 300)
    throw new Error(`${method} ${path}: ${answer.status} ${JSON.stringify(answer.body)}`)
  return answer.body
}

/** Draft, photo, closing and the end of the stop, each by its own request, and each twice, as a phone does that heard no answer. */
export async function bySingleRequests({ ledger, take }: Bringing, ask: Ask, tree: Tree) {
  const id = randomUUID()
  const { daySheet } = (await ask('GET', '/today')).body
  const stop = daySheet.stops.find((s: { tree: Tree }) => s.tree.id === tree.id)
  const [picture] = take(1)
  const meta = metaOf(picture!, id)
  await must(ask, 'PUT', `/visits/${id}`, visitOf(id, tree.id, false))
  await must(ask, 'PUT', `/visits/${id}`, visitOf(id, tree.id, false))
  for (let time = 0; time < 2; time++) {
    const form = new FormData()
    form.set('file', new File([readFileSync(picture!.path)], 'stem.jpg', { type: 'image/jpeg' }))
    form.set('meta', JSON.stringify(meta))
    await must(ask, 'POST', '/photos', form)
    await must(ask, 'POST', `/visits/${id}/close`, closingOf(id, tree.id))
    await must(ask, 'POST', `/stops/${stop.id}/end`, { visitId: id, skippedBecause: null })
  }
  ledger.visits.push({ tag: tree.tag, person: 'inspector' })
  ledger.photos.push(picture!.sha256)
}

/** A batch of the first form: no clock offset in its envelopes, no accuracy in its steps, no copies of photos. */
export async function byOldBatch({ ledger, take }: Bringing, ask: Ask, tree: Tree) {
  const id = randomUUID()
  const [picture] = take(1)
  const content = readFileSync(picture!.path)
  const entry = (kind: string, body: unknown) => ({
    key: randomUUID(),
    kind,
    authorId: 'inspector',
    madeAt: then(20),
    body,
  })
  const batch = {
    format: 1,
    deviceId: randomUUID(),
    sentAt: new Date().toISOString(),
    entries: [
      entry('visit-draft', visitOf(id, tree.id, false)),
      entry('closing', closingOf(id, tree.id)),
      entry('photo', { ...metaOf(picture!, id), bytes: content.length }),
    ],
  }
  const first = await must(ask, 'POST', '/entries', batch)
  const verdicts = first.answers.map((a: { verdict: string }) => a.verdict).join(' ')
  if (verdicts !== 'taken taken later')
    throw new Error(`A batch of the first form: ${JSON.stringify(first.answers)}`)
  await must(ask, 'PUT', `/uploads/${picture!.sha256}?from=0&of=${content.length}`, octets(content))
  const again = await must(ask, 'POST', '/entries', batch)
  if (again.answers.some((a: { verdict: string }) => a.verdict !== 'taken'))
    throw new Error(`The batch again: ${JSON.stringify(again.answers)}`)
  ledger.visits.push({ tag: tree.tag, person: 'inspector' })
  ledger.photos.push(picture!.sha256)
}

const octets = (content: Buffer) => new Blob([new Uint8Array(content)], { type: 'application/octet-stream' })
