import {
  type Closer,
  type Contribution,
  type ContributionInput,
  circleOfM,
  type ExposureFlagCode,
  exposureFlagSentences,
  type ShelterFacts,
} from '@underbough/exposure'
import type { Tree } from '@underbough/model'
import type { Spread, TreeExposureView } from '../api/index.ts'
import { sayPeople } from '../look/index.ts'
import type { FallView } from './falls.ts'

/** What moves the figures of a tree, as far as this device has it. */
export type CloserKnown = Closer | 'working' | 'not-at-hand'

/** Of a hundred falls; never a bare nought for a small chance, nor a hundred for one that is not certain. */
export const outOf100 = (share: number) =>
  share > 0 && share < 0.005
    ? 'under 1'
    : share < 1 && share > 0.995
      ? 'over 99'
      : String(Math.round(share * 100))

const joined = (low: string, high: string) =>
  low === high ? low : `${low.replace(/^under .*/, '0')} to ${high}`
/** A range of people in words; one figure where both ends read alike. */
export const sayRange = ({ least, most }: Pick<Spread, 'least' | 'most'>) =>
  joined(sayPeople(least), sayPeople(most))
/** A range of chances, of a hundred falls. */
export const sayShares = ({ least, most }: Pick<Spread, 'least' | 'most'>) =>
  joined(outOf100(least), outOf100(most))

/** A sum of money to two figures: what lies within an outline is no estimate of damage. */
export function sayValue(value: number): string {
  if (value < 1) return value > 0 ? 'under 1' : '0'
  return Number(value.toPrecision(2)).toLocaleString('en-GB')
}

/** A zone is named where its chance moves by more than this with the tree's place. */
const WORTH_SAYING = 0.05

const metres = (m: number) => `${Number(m.toFixed(1))} m`
const shelterClassNames = { masonry: 'masonry', frame: 'a frame building', light: 'a light roof' } as const
const list = (names: readonly string[]) =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`

function shelterSentence(
  { does, heightM, class: kind, nearM, overhangM, carriesCm }: ShelterFacts,
  name: string,
) {
  const what = `${name}, ${heightM ? `${metres(heightM)} high, ` : ''}${kind ? `${shelterClassNames[kind]}, ` : ''}${metres(nearM)} away`
  if (does === 'stops') return `${what}: would stop the whole length of the stem.`
  if (does === 'overhangs')
    return `${what}: would stop the stem; up to ${metres(overhangM)} of it would hang over beyond.`
  if (does === 'too-thick' && carriesCm === 0)
    return `${what}: counts as stopping nothing; it is taken to carry no stem.`
  if (does === 'too-thick')
    return `${what}: counts as stopping nothing; the stem is thicker than the ${carriesCm} cm it is taken to carry.`
  return `${what}: counts as stopping nothing; its height, what it is made of or the stem’s diameter is not on record.`
}

/** What bears on the figures besides the tree itself, each with a name: for a list. `fall` is the one that is shown. */
export function bearings(
  tree: Pick<Tree, 'slope' | 'deadOrBrittle' | 'positionAccuracyM'>,
  exposure: TreeExposureView,
  fall: FallView,
  closer: CloserKnown,
): [string, string[]][] {
  const { under } = exposure
  if (!under) return []
  const nameOf = new Map(under.named.map(({ id, name }) => [id, name]))
  const name = (id: string) => nameOf.get(id) ?? 'A zone'
  const { scatter } = under.whole.inputs.policy
  const shown = new Set(fall.zones.map(({ id }) => id))
  const facts = under.zones.filter(({ id }) => shown.has(id))
  const rows: [string, string[]][] = []
  const add = (title: string, ...sentences: (string | null)[]) => {
    const said = sentences.filter((one) => one !== null)
    if (said.length > 0) rows.push([title, said])
  }
  const wholeMean = under.whole.joint.people.mean
  const bare = under.peopleUnsheltered
  add(
    'Shelter',
    ...under.shelters.map((facts) => shelterSentence(facts, name(facts.zoneId))),
    fall.key === 'whole' && bare !== null && sayPeople(bare) !== sayPeople(wholeMean)
      ? `If nothing stopped it: ${sayPeople(bare)} people within the outline in place of ${sayPeople(wholeMean)}.`
      : null,
  )
  add(
    'Roads',
    ...fall.roads.map(
      ({ zoneId, under: beneath, runsInto, blockedM, stoppingM }) =>
        `${name(zoneId)}, if it falls across: ${metres(blockedM)} lie blocked. Under it: a vehicle in ${outOf100(beneath.atLeastOne)} of 100 falls. Drives into it, with ${metres(stoppingM)} to stop: at least one in ${outOf100(runsInto.atLeastOne)} of 100, at most the first of each lane.`,
    ),
    fall.roads.length > 0
      ? 'The two are kept apart; people in vehicles are counted above only where they are under it.'
      : null,
  )
  add(
    'Brittle wood',
    tree.deadOrBrittle
      ? `Dead or brittle: pieces are thrown up to ${metres(fall.reachM * scatter.beyond)}, ${scatter.beyond} times its reach, within ${scatter.halfAngleDeg}° to either side of the fall.`
      : null,
  )
  add(
    'Ground',
    tree.slope && tree.slope.angleDeg > 0
      ? `Falls ${tree.slope.angleDeg}° towards ${Math.round(tree.slope.downhillBearingDeg)}°: what lies along it shows shorter in plan, and may slide or roll on, which no figure here holds.`
      : null,
  )
  const peopled = facts.filter(({ meanPeople }) => meanPeople > 0)
  const alone = peopled.filter(({ groupSize }) => groupSize === null).map(({ id }) => name(id))
  add(
    'Groups',
    ...peopled
      .filter(({ groupSize }) => groupSize !== null && groupSize > 1)
      .map(({ id, groupSize }) => `${name(id)}: people come ${Number(groupSize!.toFixed(1))} at a time.`),
    alone.length > 0
      ? `“Somebody there” is an upper figure at ${alone.length > 3 ? `${alone.length} zones` : list(alone)}: nobody said whether people come in groups.`
      : null,
  )
  add(
    'Counted once',
    ...facts
      .filter(({ partOf }) => partOf !== null)
      .map(({ id, partOf }) => `${name(id)} is part of ${name(partOf!)}.`),
  )
  if (fall.key === 'whole') add('Position', ...positionSentences(tree, closer, shown, name))
  return rows
}

function positionSentences(
  tree: Pick<Tree, 'positionAccuracyM'>,
  closer: CloserKnown,
  shown: ReadonlySet<string>,
  name: (id: string) => string,
): string[] {
  const known = tree.positionAccuracyM
  if (known === null) return ['Its accuracy is not on record; the figures hold for the place on the map.']
  const radiusM = circleOfM(tree)
  if (radiusM === 0)
    return known < 1 ? [] : [`Known only to ${metres(known)}: the figures hold for the place on the map.`]
  if (closer === 'working') return [`Known to ${metres(radiusM)}. Working out how much that matters …`]
  const circle = closer === 'not-at-hand' ? null : closer.overCircle
  if (!circle)
    return [
      `Known to ${metres(radiusM)}: the figures hold for the place on the map. How much that matters is not at hand now.`,
    ]
  const touching = `${outOf100(circle.joint.mean)} of 100 falls touch a zone`
  return [
    sayShares(circle.joint).includes(' to ')
      ? `Known to ${metres(circle.radiusM)}: standing anywhere within that, ${touching} on average, ${sayShares(circle.joint)} by where it stands.`
      : `Known to ${metres(circle.radiusM)}: wherever within that it stands, ${touching}.`,
    ...circle.zones
      .filter(({ id, least, most }) => shown.has(id) && most - least > WORTH_SAYING)
      .map((zone) => `${name(zone.id)}: ${sayShares(zone)} of 100 by where it stands.`),
  ]
}

const inputNames: Record<ContributionInput, string> = {
  height: 'its height',
  'crown-radii': 'its crown’s width',
  'crown-base': 'its crown’s base',
  'stem-diameter': 'its stem',
  'body-half-width': 'a person’s width',
  directions: 'what turns it',
  'lean-concentration': 'how close it keeps to its lean',
  people: 'how many people there are',
  'group-size': 'whether they come in groups',
  position: 'where exactly it stands',
  'shelter-residual': 'what a shelter leaves',
  scatter: 'what it throws',
}
const MOST_NAMED = 4

/** What moves the mean number of people most, each input alone over what is plausible; null where nothing does. */
export function sayMoves(closer: CloserKnown): string | null {
  if (closer === 'working') return 'Working out what moves the people within its outline most …'
  if (closer === 'not-at-hand') return 'What moves the people within its outline most is not at hand now.'
  return sayContributions(closer.contributions)
}

function sayContributions(contributions: readonly Contribution[]): string | null {
  const moving = contributions
    .filter(({ people }) => sayRange(people).includes(' to '))
    .slice(0, MOST_NAMED)
    .map(({ input, people }) => `${inputNames[input]} (${sayRange(people)})`)
  return moving.length > 0
    ? `What moves the people within its outline most, each alone over what is plausible: ${list(moving)}.`
    : null
}

/** Flags in words, each kind once, with the zones it is about. */
export function flagSentences(fall: FallView, exposure: TreeExposureView): string[] {
  const named = exposure.under?.named ?? exposure.zones.map((zone) => ({ id: zone.zoneId, name: zone.name }))
  const names = new Map(named.map((zone) => [zone.id, zone.name]))
  const about = new Map<string, Set<string>>()
  for (const { code, zoneIds } of fall.flags) {
    const set = about.get(code) ?? new Set<string>()
    for (const id of zoneIds) if (names.has(id)) set.add(names.get(id)!)
    about.set(code, set)
  }
  return [...about].map(([code, zones]) => {
    const sentence = exposureFlagSentences[code as ExposureFlagCode] ?? code
    return zones.size > 0 ? `${sentence} Here: ${[...zones].join(', ')}.` : sentence
  })
}
