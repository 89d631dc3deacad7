import type { ExposurePolicy, Under } from '@underbough/exposure'
import type {
  AreaGeometry,
  CivilDate,
  Crew,
  Due,
  FailureInput,
  OccupancyWord,
  Organisation,
  Photo,
  Position,
  Rating,
  RiskWord,
  Role,
  Tree,
  TreeStatus,
  UrgentNote,
  Visit,
  Work,
  Zone,
  ZoneKind,
} from '@underbough/model'

/** The signed-in person. */
export interface Me {
  personId: string
  name: string
  email: string
  role: Role
  qualification: string | null
  qualificationExpiresOn: CivilDate | null
  organisation: Organisation
}

export interface TreeRow {
  id: string
  tag: string
  species: string
  commonName: string | null
  position: Position
  status: TreeStatus
  risk: RiskWord | null
  due: Due | null
  overdueDays: number
  seen: boolean
  ratingOpen: boolean
  siteId: string | null
  heightM: number | null
  stemDiameterCm: number | null
}

/** A figure over everything that may turn a fall. */
export interface Spread {
  mean: number
  least: number
  most: number
}
export interface ZoneExposureView {
  zoneId: string
  name: string
  kind: ZoneKind
  geometry?: AreaGeometry
  pTouch: Spread
  people: Spread & { stem: number; crown: number }
  pAny: number
  /** Bearings of fall that overlap the zone. */
  touching: { fromDeg: number; toDeg: number }[]
}
export interface TreeExposureView {
  computedAt: string
  methodVersion: string
  reachM: number
  flags: { code: string; zoneIds: string[] }[]
  joint: { people: Spread & { stem: number; crown: number }; pTouch: Spread; pAny: number }
  /** The zones it may meet, the one that bears most first. */
  zones: ZoneExposureView[]
  /** Chance per degree of falling towards each of 72 bearings, north first. */
  density: number[]
  /** Where it lies if it falls on its likeliest bearing: a ring of longitude and latitude. */
  outline: Position[]
  outlineBearingDeg: number
  /** The whole of it from the records as they stand, with the parts of the rating; absent where an older answer is kept. */
  under?: UnderView | null
}

/** A zone as the page of a tree names it. */
export type ZoneNamed = Pick<
  Zone,
  'id' | 'name' | 'kind' | 'valueAtStake' | 'occupancyWord' | 'occupancy' | 'partOf'
>
export interface UnderView extends Under {
  policyEdition: number
  named: ZoneNamed[]
}

/** What exposure assumes in this organisation: edition 0 is the starting figures. */
export interface ExposureEditions {
  edition: number
  policy: ExposurePolicy
  editions: { edition: number; reason: string; madeBy: string; madeAt: string }[]
}

/** A tree near the way of a day, as a phone keeps it to be found without signal. */
export type TreeAlong = Pick<
  TreeRow,
  'id' | 'tag' | 'species' | 'commonName' | 'position' | 'status' | 'risk' | 'seen'
> & { dueOn: CivilDate | null }

export interface TreeWhole {
  tree: Tree
  due: Due | null
  /** The rules that made the date, in words. */
  dueParts: { rule: string; words: string }[]
  risk: RiskWord | null
  seen: boolean
  ratingOpen: boolean
  overdueDays: number
  rating: Rating | null
  ratings: Rating[]
  visits: Visit[]
  works: Work[]
  urgentNotes: UrgentNote[]
  failures: FailureInput[]
  photos: Photo[]
  events: { id: string; kind: string; on: CivilDate; lookWithinDays: number; note: string }[]
  walkOvers: {
    id: string
    on: CivilDate
    zoneId: string
    zoneName: string
    personName: string
    note: string
  }[]
  /** What its due date follows from besides these records. */
  dueBasis: { enteredOn: CivilDate; zoneUse: OccupancyWord | null; baselineShare: number | null }
  /** Met on the way: read from its entry on this device, because the office did not answer with it. */
  onlyHere?: true
}

export type ZoneRow = Omit<Zone, 'geometry'>
export interface TreeOverZone {
  id: string
  tag: string
  species: string
  commonName: string | null
  status: TreeStatus
  risk: RiskWord | null
  ratingOpen: boolean
  people: Spread
  pTouch: number
  pAny: number
}
export interface ZoneWhole {
  zone: Zone
  /** The 200 that bear most on it, the heaviest first. */
  trees: TreeOverZone[]
  treesTotal: number
}

/** Trees due in one week by rating. */
export type RiskCounts = Record<RiskWord | 'unrated', number>
export interface DueWeek {
  /** The week's Monday. */
  week: CivilDate
  due: RiskCounts
  /** Those of them that are overdue today. */
  late: RiskCounts
}
export interface DueStrip {
  today: CivilDate
  thisWeek: CivilDate
  weeks: DueWeek[]
  capacity: { week: CivilDate; visits: number }[]
  rounds: { crewId: string; letter: string; from: CivilDate; to: CivilDate }[]
}
export interface UrgentCall {
  note: UrgentNote
  tree: TreeRow
}

export interface MapView {
  bounds: [number, number, number, number]
  sites: { id: string; name: string; bounds: [number, number, number, number] }[]
  tilesVersion: { trees: string; ground: string }
  today: CivilDate
}

export interface Stop {
  id: string
  tree: TreeRow
  order: number
  arriveMinute: number
  startMinute: number
  leaveMinute: number
  travelM: number
  level: 1 | 2 | 3
  doneVisitId: string | null
  skippedBecause: string | null
  /** Why the crew put it on the day itself. */
  addedBecause: string | null
  /** Name of the crew it was handed over by, and why. */
  handedFrom: string | null
  handedBecause: string | null
}
export interface DaySheet {
  id: string
  crewId: string
  date: CivilDate
  startMinute: number
  endMinute: number
  travelMinutes: number
  travelM: number
  serviceMinutes: number
  stops: Stop[]
}
export interface PlanHead {
  id: string
  number: number
  state: 'making' | 'draft' | 'published'
  asked: {
    from: CivilDate
    days: number
    dueUntil: CivilDate
    crewIds: string[] | null
    siteId: string | null
    seed: number
  }
  cost: unknown
  peerCost: unknown
  savedShare: number | null
  methodVersion: string | null
  madeBy: string
  madeAt: string
}
export interface PlanWhole {
  plan: PlanHead
  daySheets: (DaySheet & { publishedAt: string | null })[]
  unplaced: { tree: TreeRow; code: string; message: string; addedCost: number | null }[]
}
/** The crew's issued day; `nextDate` is the next one that has been sent, where this day has none. */
export interface TodayWhole {
  date: CivilDate
  crew: Pick<Crew, 'id' | 'name' | 'letter' | 'level' | 'start' | 'end' | 'hours' | 'breakMinutes'> | null
  daySheet: (DaySheet & { publishedAt: string | null }) | null
  nextDate: CivilDate | null
  /** Whom open stops can be handed to. */
  otherCrews: Pick<Crew, 'id' | 'name' | 'letter' | 'level'>[]
  /** Way on the ground over straight line. */
  detourFactor: number
}
export interface Job {
  id: string
  kind: string
  state: 'waiting' | 'working' | 'done' | 'failed' | 'cancelled'
  done: number
  total: number
  message: string | null
}
export type { Crew, Due, Rating, Tree, UrgentNote, Visit, Work, Zone }
