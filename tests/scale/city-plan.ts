/**
 * A seeded city that never was: blocks of streets, denser towards the middle. Rows come block by block, so that a million trees
 * never lie in memory at once.
 */
import { type Position, planeAt, seededNumbers } from '@underbough/model'
import { closed, planarArea, type Ring } from '../published/exposure-slow.ts'

export interface CitySize {
  seed: number
  trees: number
  zones: number
  /** Side of a block, metres: the smaller, the more zones within a tree's reach. */
  blockM: number
}

export interface CityTree {
  id: string
  site: number
  position: Position
  species: string
  stemDiameterCm: number | null
  heightM: number | null
  crownBaseHeightM: number | null
  crownRadiiM: { n: number; e: number; s: number; w: number } | null
  lean: { bearingDeg: number; angleDeg: number } | null
  clearingBearingDeg: number | null
  deadOrBrittle: boolean
  status: 'standing' | 'pole' | 'stump' | 'gone'
  risk: 'low' | 'moderate' | 'high' | 'extreme' | null
  /** Days from the city's day; null for what is gone. */
  dueInDays: number | null
}
export interface CityZone {
  id: string
  site: number
  name: string
  kind: 'building' | 'road' | 'footpath' | 'play' | 'seating' | 'parking'
  ring: Position[]
  areaM2: number
  use: number
}
export interface CityUse {
  word: 'rare' | 'occasional' | 'frequent' | 'constant'
  /** The occupancy of a zone, as its record holds it. */
  profile: object
}

const MIDDLE: Position = [-8.25, -31.67]
/** Districts along each side of the city; each is a site. */
export const DISTRICTS = 4
const ZONES_IN_BLOCK = 16
const USES_OF_KIND = 12
const kinds = ['building', 'road', 'footpath', 'play', 'seating', 'parking'] as const
const species = [
  'Tilia cordata',
  'Platanus × hispanica',
  'Acer platanoides',
  'Quercus robur',
  'Fraxinus excelsior',
  'Aesculus hippocastanum',
  'Betula pendula',
  'Pinus nigra',
  'Robinia pseudoacacia',
  'Prunus avium',
  'Fagus sylvatica',
  'Ulmus minor',
]

/** A few dozen weeks, each of at most twelve different hours: the uses that a city's zones share. */
export function cityUses(seed: number): CityUse[] {
  const random = seededNumbers(seed ^ 0x5eed)
  const words = ['rare', 'occasional', 'frequent', 'constant'] as const
  return kinds.flatMap((kind) =>
    Array.from({ length: USES_OF_KIND }, (_, i): CityUse => {
      const word = words[Math.min(3, Math.floor(random() * 2 + i / 5))]!
      if (i % 3 === 2)
        return { word, profile: { kind: 'class', word, peopleWhenPresent: Math.round(1 + 6 * random()) } }
      return { word, profile: profileOf(kind, random) }
    }),
  )
}

function profileOf(kind: CityZone['kind'], random: () => number): object {
  const most = 2 + 60 * random() ** 2
  // Five steps on workdays, five on the two other days, and none at night.
  const week = Array.from({ length: 168 }, (_, hour) => {
    const ofDay = hour % 24
    if (ofDay < 6 || ofDay >= 22) return 0
    const step = Math.abs(Math.floor((ofDay - 6) / 3.2) - 2)
    return Math.round(most * (hour < 120 ? 1 : 0.6) * (1 - 0.22 * step) * 10) / 10
  })
  if (kind === 'building') return { kind: 'building', peopleInside: week }
  if (kind === 'road')
    return {
      kind: 'vehicles',
      flowPerHour: week.map((flow) => flow * 10),
      speedKmh: 50,
      lengthM: 90,
      peoplePerVehicle: 1.3,
    }
  if (kind === 'footpath')
    return { kind: 'through', flowPerHour: week.map((flow) => flow * 4), speedMps: 1.4, lengthM: 60 }
  return { kind: 'standing', arrivalsPerHour: week, minutesEach: Math.round(5 + 40 * random()) }
}

/** The city block by block, each with its zones and its trees. */
export function* cityBlocks({
  seed,
  trees,
  zones,
  blockM,
}: CitySize): Generator<{ zones: CityZone[]; trees: CityTree[] }> {
  const random = seededNumbers(seed)
  const side = Math.max(1, Math.round(Math.sqrt(zones / ZONES_IN_BLOCK)))
  const weights = Array.from({ length: side * side }, (_, i) => {
    const [east, north] = [(i % side) / side - 0.5, Math.floor(i / side) / side - 0.5]
    return (0.45 + 1.1 * Math.exp(-10 * (east * east + north * north))) * (0.7 + 0.6 * random())
  })
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const city = planeAt(...MIDDLE)
  let passed = 0
  let [zonesMade, treesMade] = [0, 0]
  for (let i = 0; i < weights.length; i++) {
    passed += weights[i]!
    const column = i % side
    const row = Math.floor(i / side)
    const corner = city.toDegrees((column - side / 2) * blockM, (row - side / 2) * blockM)
    const site = Math.floor((row * DISTRICTS) / side) * DISTRICTS + Math.floor((column * DISTRICTS) / side)
    const last = i === weights.length - 1
    const upTo = (all: number) => (last ? all : Math.round((all * passed) / total))
    const here = { random, blockM, plane: planeAt(...corner), site }
    const block = {
      zones: Array.from({ length: upTo(zones) - zonesMade }, (_, place) =>
        zoneIn(here, place, zonesMade + place),
      ),
      trees: Array.from({ length: upTo(trees) - treesMade }, () => treeIn(here)),
    }
    zonesMade += block.zones.length
    treesMade += block.trees.length
    yield block
  }
}

interface Block {
  random: () => number
  blockM: number
  plane: ReturnType<typeof planeAt>
  site: number
}

const ROAD_M = 7
const WALK_M = 2.5

/** The first four of a block are its two streets and the ways beside them; the rest lie anywhere between. */
function zoneIn({ random, blockM, plane, site }: Block, place: number, number: number): CityZone {
  const across = (from: number, wide: number): Ring => [
    [0, from],
    [blockM, from],
    [blockM, from + wide],
    [0, from + wide],
  ]
  const along = (from: number, wide: number): Ring => across(from, wide).map(([east, north]) => [north, east])
  const streets: [CityZone['kind'], () => Ring][] = [
    ['road', () => across(0, ROAD_M)],
    ['footpath', () => across(ROAD_M + 2, WALK_M)],
    ['road', () => along(0, ROAD_M)],
    ['footpath', () => along(ROAD_M + 2, WALK_M)],
  ]
  const kind = streets[place]?.[0] ?? kinds[Math.floor(random() ** 1.3 * kinds.length)]!
  const ring = streets[place]?.[1]() ?? somewhere(random, kind, blockM)
  return {
    id: uuid(random),
    site,
    name: `${kind} ${number + 1}`,
    kind,
    ring: closed(ring).map(([east, north]) => plane.toDegrees(east!, north!)),
    areaM2: planarArea([ring]),
    use: kinds.indexOf(kind) * USES_OF_KIND + Math.floor(random() * USES_OF_KIND),
  }
}

const sizesM: Record<CityZone['kind'], [long: [number, number], wide: [number, number]]> = {
  building: [
    [8, 26],
    [7, 14],
  ],
  road: [
    [20, 60],
    [5, 8],
  ],
  footpath: [
    [15, 50],
    [2, 3.5],
  ],
  play: [
    [12, 30],
    [10, 20],
  ],
  seating: [
    [2, 6],
    [1.5, 4],
  ],
  parking: [
    [12, 40],
    [5, 15],
  ],
}

/** A convex outline of four to eight corners, turned any way. */
function somewhere(random: () => number, kind: CityZone['kind'], blockM: number): Ring {
  const within = ([least, most]: [number, number]) => least + (most - least) * random()
  const [long, wide] = [within(sizesM[kind][0]), within(sizesM[kind][1])]
  const [x, y] = [12 + (blockM - 12) * random(), 12 + (blockM - 12) * random()]
  const corners = 4 + Math.floor(5 * random())
  const turn = Math.PI * random()
  const grow = corners === 4 ? Math.SQRT1_2 : 0.55
  return Array.from({ length: corners }, (_, k) => {
    const angle = (2 * Math.PI * (k + 0.5)) / corners
    const [u, v] = [long * grow * Math.cos(angle), wide * grow * Math.sin(angle)]
    return [x + u * Math.cos(turn) - v * Math.sin(turn), y + u * Math.sin(turn) + v * Math.cos(turn)]
  })
}

/** Four in ten stand in a row beside one of the streets. */
function treeIn({ random, blockM, plane, site }: Block): CityTree {
  const maybe = <T>(chance: number, value: () => T) => (random() < chance ? value() : null)
  const street = random()
  const along = blockM * random()
  const beside = ROAD_M + 1 + 0.8 * (random() - 0.5)
  const spot =
    street < 0.2
      ? ([along, beside] as const)
      : street < 0.4
        ? ([beside, along] as const)
        : ([along, blockM * random()] as const)
  const heightM = tenths(4 + 20 * random() ** 1.4)
  const radius = () => tenths(heightM * (0.1 + 0.18 * random()))
  const stemDiameterCm = Math.round(heightM * (1.4 + 2 * random()))
  const state = random()
  const status = state < 0.97 ? 'standing' : state < 0.98 ? 'pole' : state < 0.99 ? 'stump' : 'gone'
  const known = random()
  return {
    id: uuid(random),
    site,
    position: plane.toDegrees(...spot),
    species: species[Math.floor(random() ** 1.6 * species.length)]!,
    stemDiameterCm: known < 0.95 ? stemDiameterCm : null,
    heightM: known > 0.25 ? heightM : null,
    crownBaseHeightM: maybe(0.5, () => tenths(heightM * (0.1 + 0.3 * random()))),
    crownRadiiM: maybe(0.7, () => ({ n: radius(), e: radius(), s: radius(), w: radius() })),
    lean: maybe(0.12, () => ({
      bearingDeg: Math.floor(360 * random()),
      angleDeg: tenths(1 + 14 * random()),
    })),
    clearingBearingDeg: maybe(0.15, () => Math.floor(360 * random())),
    deadOrBrittle: random() < 0.02,
    status,
    risk: riskOf(random()),
    dueInDays: status === 'gone' ? null : Math.floor(-90 + 1100 * random() ** 1.2),
  }
}

const riskOf = (chance: number): CityTree['risk'] =>
  chance < 0.6
    ? null
    : chance < 0.9
      ? 'low'
      : chance < 0.98
        ? 'moderate'
        : chance < 0.998
          ? 'high'
          : 'extreme'

const tenths = (value: number) => Math.round(value * 10) / 10

/** A random identifier (RFC 9562, version 4) from the seed. */
export function uuid(random: () => number): string {
  const part = (bits: number) => Math.floor(random() * 2 ** bits)
  const hex = (value: number, digits: number) => value.toString(16).padStart(digits, '0')
  return `${hex(part(32), 8)}-${hex(part(16), 4)}-4${hex(part(12), 3)}-${hex(0x8000 + part(14), 4)}-${hex(part(32), 8)}${hex(part(16), 4)}`
}
