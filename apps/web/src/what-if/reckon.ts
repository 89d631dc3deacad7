import {
  distanceToZoneM,
  type Exposure,
  type ExposurePolicy,
  exposureAround,
  type FallingTree,
  fallingTreeOn,
  hoursOfZones,
  likeliestOutline,
  peopleByHour,
  searchM,
  type ZoneOnGround,
} from '@underbough/exposure'
import {
  type AreaGeometry,
  type OccupancyProfile,
  type Position,
  planeAt,
  type SeasonWeek,
  type Tree,
} from '@underbough/model'

/** A figure over everything that may turn a fall. */
export interface Spread {
  mean: number
  least: number
  most: number
}
/** Three figures of one target, all given that the tree fails. */
export interface Figures {
  pTouch: Spread
  people: Spread
  pAny: Spread
}

const none = { mean: 0, least: 0, most: 0 }
/** Nothing falls, or nothing is met. */
export const nothing: Figures = { pTouch: none, people: none, pAny: none }

const figuresOf = ({ pTouch, people, pAny, pAnyRange }: Exposure): Figures => ({
  pTouch,
  people: { mean: people.mean, least: people.least, most: people.most },
  pAny: { mean: pAny, ...pAnyRange },
})

/** What shapes the fall of a tree. */
export type TreeFacts = Pick<
  Tree,
  | 'status'
  | 'position'
  | 'heightM'
  | 'stems'
  | 'crownBaseHeightM'
  | 'crownRadiiM'
  | 'lean'
  | 'clearingBearingDeg'
  | 'slope'
  | 'deadOrBrittle'
>

/** The size of a tree that pruning may change, metres. */
export interface Size {
  heightM: number
  crownBaseHeightM: number
  crownRadiiM: { n: number; e: number; s: number; w: number }
}

/** The size a tree is reckoned with, and what of it nobody measured; null where nothing stands that could fall. */
export function sizeOf(tree: TreeFacts, policy: ExposurePolicy): { size: Size; assumed: string[] } | null {
  const falling = fallingTreeOn(tree, null)
  if (!falling) return null
  const radius = falling.heightM * policy.crownRadiusShare
  const assumed = [
    falling.heightEstimated ? 'height' : '',
    tree.crownBaseHeightM === null ? 'crown base' : '',
    tree.crownRadiiM === null ? 'crown radii' : '',
  ].filter(Boolean)
  return {
    size: {
      heightM: falling.heightM,
      crownBaseHeightM: tree.crownBaseHeightM ?? falling.heightM * policy.crownBaseShare,
      crownRadiiM: tree.crownRadiiM ?? { n: radius, e: radius, s: radius, w: radius },
    },
    assumed,
  }
}

export interface TreeReckoned {
  joint: Figures
  zones: { id: string; figures: Figures }[]
  reachM: number
  outline: Position[]
  outlineBearingDeg: number
}

/** The kernel that the office uses, over the zones within reach as the office chooses them. */
function around(falling: FallingTree, at: Position, zones: readonly ZoneOnGround[], policy: ExposurePolicy) {
  const within = searchM(falling, policy)
  const near = zones.filter((zone) => distanceToZoneM(at, zone.geometry) <= within)
  return exposureAround(falling, at, near, hoursOfZones(near), policy)
}

/** Who would be under a tree; null where nothing stands that could fall. */
export function reckonTree(
  tree: TreeFacts,
  windRose: readonly number[] | null,
  zones: readonly ZoneOnGround[],
  policy: ExposurePolicy,
): TreeReckoned | null {
  const falling = fallingTreeOn(tree, windRose)
  if (!falling) return null
  const figure = around(falling, tree.position, zones, policy)
  return {
    joint: figuresOf(figure.joint),
    zones: figure.zones.map((zone) => ({ id: zone.id, figures: figuresOf(zone) })),
    reachM: figure.reachM,
    ...likeliestOutline(falling, tree.position, figure.densityPerDeg, policy),
  }
}

/** The figures of one zone under one tree. `others` are what it is part of, its parts, and buildings that may stop a stem. */
export function reckonZone(
  tree: TreeFacts,
  windRose: readonly number[] | null,
  zone: ZoneOnGround,
  others: readonly ZoneOnGround[],
  policy: ExposurePolicy,
): Figures {
  const falling = fallingTreeOn(tree, windRose)
  if (!falling || distanceToZoneM(tree.position, zone.geometry) > searchM(falling, policy)) return nothing
  const figure = around(falling, tree.position, [zone, ...others], policy)
  const own = figure.zones.find(({ id }) => id === zone.id)
  return own ? figuresOf(own) : nothing
}

/** An area carried over the ground as it is, metres east and north. Planar about its first corner. */
export function carried(geometry: AreaGeometry, eastM: number, northM: number): AreaGeometry {
  if (eastM === 0 && northM === 0) return geometry
  const [lon, lat] = firstCorner(geometry)
  const from = planeAt(lon, lat)
  const [toLon, toLat] = from.toDegrees(eastM, northM)
  const to = planeAt(toLon, toLat)
  const ring = (points: readonly Position[]) =>
    points.map(([x, y]): Position => to.toDegrees(...from.toMetres(x, y)))
  return geometry.type === 'Polygon'
    ? { ...geometry, coordinates: geometry.coordinates.map(ring) }
    : { ...geometry, coordinates: geometry.coordinates.map((polygon) => polygon.map(ring)) }
}

/** The corner that says how far an area was carried. */
export const firstCorner = (geometry: AreaGeometry): Position =>
  (geometry.type === 'Polygon' ? geometry.coordinates[0]![0]! : geometry.coordinates[0]![0]![0]!) as Position

/** How far one area lies from another of the same shape, metres east and north, by their first corners. */
export function carryBetween(from: AreaGeometry, to: AreaGeometry): [eastM: number, northM: number] {
  const [lon, lat] = firstCorner(from)
  return planeAt(lon, lat).toMetres(...firstCorner(to))
}

/** Nobody is let in while gusts are warned of: `share` of the falls that may come would come while it is shut. Exact for people and chance; what falls still falls on it. */
export function shutInGusts({ pTouch, people, pAny }: Figures, share: number): Figures {
  const left = ({ mean, least, most }: Spread) => ({
    mean: mean * (1 - share),
    least: least * (1 - share),
    most: most * (1 - share),
  })
  return { pTouch, people: left(people), pAny: left(pAny) }
}

/** Hours at which a zone is shut: from and to on the 24-hour clock, to may lie past midnight; days counted from 0 Monday. */
export interface ShutHours {
  fromHour: number
  toHour: number
  days: 'every' | 'working' | 'weekend'
}

const daysOf = { every: [0, 1, 2, 3, 4, 5, 6], working: [0, 1, 2, 3, 4], weekend: [5, 6] } as const

/** The 168 hours of a week, true while shut. The hours after midnight belong to the day before. */
export function shutWeek({ fromHour, toHour, days }: ShutHours): boolean[] {
  const shut = new Array<boolean>(168).fill(false)
  const length = (toHour - fromHour + 24) % 24 || 24
  for (const day of daysOf[days])
    for (let i = 0; i < length; i++) shut[(day * 24 + fromHour + i) % 168] = true
  return shut
}

/** A profile with nobody there in the shut hours. */
export function shutProfile(profile: OccupancyProfile, shut: readonly boolean[]): OccupancyProfile {
  const open = (values: readonly number[]) => values.map((value, hour) => (shut[hour] ? 0 : value))
  switch (profile.kind) {
    case 'class':
      return { kind: 'standing', arrivalsPerHour: open(peopleByHour(profile)), minutesEach: 60 }
    case 'standing':
      return { ...profile, arrivalsPerHour: open(profile.arrivalsPerHour) }
    case 'building':
      return { ...profile, peopleInside: open(profile.peopleInside) }
    case 'through':
    case 'vehicles':
      return { ...profile, flowPerHour: open(profile.flowPerHour) }
  }
}

/** A zone with its hours changed, in every season. */
export function shutZone<Z extends ZoneOnGround>(zone: Z, hours: ShutHours): Z {
  const shut = shutWeek(hours)
  return {
    ...zone,
    occupancy: shutProfile(zone.occupancy, shut),
    seasons: zone.seasons?.map(
      (season): SeasonWeek => ({ ...season, occupancy: shutProfile(season.occupancy, shut) }),
    ),
  }
}
