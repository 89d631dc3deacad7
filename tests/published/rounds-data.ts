import { readFileSync } from 'node:fs'
import { type Crew, matrixTravel, type RoundInput, type RoundVisit } from '@underbough/rounds'

/** Published routing problems as rounds: one unit of length is one second on the way. */

const monday = '2026-11-23'

/** TSPLIB95, burma14 (Zaw Win), degrees and minutes as DDD.MM: latitude, longitude. */
export const burma14: readonly (readonly [number, number])[] = [
  [16.47, 96.1],
  [16.47, 94.44],
  [20.09, 92.54],
  [22.39, 93.37],
  [25.23, 97.24],
  [22.0, 96.05],
  [20.47, 97.02],
  [17.2, 96.29],
  [16.3, 97.38],
  [14.05, 98.12],
  [16.53, 97.38],
  [21.52, 95.59],
  [19.41, 97.13],
  [20.09, 94.55],
]

/** TSPLIB95, berlin52 (Groetschel), plane coordinates. */
export const berlin52: readonly (readonly [number, number])[] = [
  [565, 575],
  [25, 185],
  [345, 750],
  [945, 685],
  [845, 655],
  [880, 660],
  [25, 230],
  [525, 1000],
  [580, 1175],
  [650, 1130],
  [1605, 620],
  [1220, 580],
  [1465, 200],
  [1530, 5],
  [845, 680],
  [725, 370],
  [145, 665],
  [415, 635],
  [510, 875],
  [560, 365],
  [300, 465],
  [520, 585],
  [480, 415],
  [835, 625],
  [975, 580],
  [1215, 245],
  [1320, 315],
  [1250, 400],
  [660, 180],
  [410, 250],
  [420, 555],
  [575, 665],
  [1150, 1160],
  [700, 580],
  [685, 595],
  [685, 610],
  [770, 610],
  [795, 645],
  [720, 635],
  [760, 650],
  [475, 960],
  [95, 260],
  [875, 920],
  [700, 500],
  [555, 815],
  [830, 485],
  [1170, 65],
  [830, 610],
  [605, 625],
  [595, 360],
  [1340, 725],
  [1740, 245],
]

/** GEO distance of TSPLIB95 (Reinelt 1995, section 2.4): whole kilometres on an idealised sphere. */
export function geoDistance(a: readonly [number, number], b: readonly [number, number]): number {
  const radians = (value: number) => {
    const degrees = Math.trunc(value)
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: the published rule cuts the number here.
    return (3.141592 * (degrees + (5 * (value - degrees)) / 3)) / 180
  }
  const [latA, lonA, latB, lonB] = [a[0], a[1], b[0], b[1]].map(radians)
  const q1 = Math.cos(lonA - lonB)
  const q2 = Math.cos(latA - latB)
  const q3 = Math.cos(latA + latB)
  return Math.trunc(6378.388 * Math.acos(0.5 * ((1 + q1) * q2 - (1 - q1) * q3)) + 1)
}

/** EUC_2D distance of TSPLIB95: rounded to the nearest whole number. */
export function planeDistance(a: readonly [number, number], b: readonly [number, number]): number {
  return Math.round(Math.hypot(a[0] - b[0], a[1] - b[1]))
}

/** Coordinates of a TSPLIB95 file with a NODE_COORD_SECTION. */
export function readTour(path: string): [number, number][] {
  const text = readFileSync(path, 'utf8')
  const rows = text.slice(text.indexOf('NODE_COORD_SECTION')).split('\n').slice(1)
  const numbers = rows
    .map((row) => row.trim().split(/\s+/).map(Number))
    .filter((row) => row.length === 3 && row.every(Number.isFinite))
  return numbers.map(([, x, y]) => [x, y])
}

const none = { equipment: [], riskWeight: 0, dueOn: '2027-01-01', level: 1 } as const

function crewFrom(id: string, start: readonly [number, number], toMinute: number): Crew {
  const hours = { fromMinute: 0, toMinute }
  return {
    id,
    name: id,
    level: 1,
    equipment: [],
    members: [],
    start,
    end: start,
    hours: Array(7).fill(hours),
    daysOff: [],
  }
}

/** A closed tour as one crew's day: it starts and ends in the first city; every way comes from the matrix. */
export function tourInput(
  cities: readonly (readonly [number, number])[],
  distance: typeof planeDistance,
): RoundInput {
  const spot = placeOnMap(cities)
  const table = cities.flatMap((a) => cities.map((b) => (a === b ? 0 : distance(a, b))))
  const keys = cities.map((_, i) => (i === 0 ? 'start:crew' : `visit:${i}`))
  const visits: RoundVisit[] = cities.slice(1).map((city, i) => {
    const [longitude, latitude] = spot(city)
    return { id: `${i + 1}`, longitude, latitude, serviceMinutes: 0, priceUnserved: 1e6, ...none }
  })
  const travel = matrixTravel({
    keys,
    seconds: table,
    metres: table,
    source: 'TSPLIB95',
    asOf: null,
    sameAs: { 'end:crew': 'start:crew' },
  })
  return { visits, crews: [crewFrom('crew', spot(cities[0]), 1440)], from: monday, days: 1, travel }
}

function placeOnMap(
  cities: readonly (readonly [number, number])[],
): (city: readonly [number, number]) => [number, number] {
  const largest = Math.max(...cities.flat().map(Math.abs))
  return ([x, y]) => [x / largest, y / largest]
}

/** One row of a Solomon file. */
export interface SolomonRow {
  x: number
  y: number
  demand: number
  ready: number
  due: number
  service: number
}

/** Rows of a file in the format of Solomon (1987); the first is the depot. */
export function readSolomon(path: string): { vehicles: number; capacity: number; rows: SolomonRow[] } {
  const numbers = readFileSync(path, 'utf8')
    .split('\n')
    .map((row) => row.trim().split(/\s+/).map(Number))
    .filter((row) => row.length >= 2 && row.every(Number.isFinite))
  const [[vehicles, capacity], ...rest] = numbers
  const rows = rest
    .filter((row) => row.length >= 7)
    .map(([, x, y, demand, ready, due, service]) => ({ x, y, demand, ready, due, service }))
  return { vehicles, capacity, rows }
}

/** A Solomon problem without its capacities as crews on one day; a tenth of its unit is one second, distances cut to a tenth as published. */
export function solomonInput(problem: ReturnType<typeof readSolomon>): RoundInput {
  const { rows, vehicles } = problem
  const table = rows.flatMap((a) => rows.map((b) => Math.floor(Math.hypot(a.x - b.x, a.y - b.y) * 10 + 1e-9)))
  const minutes = (units: number) => (units * 10) / 60
  const visits: RoundVisit[] = rows.slice(1).map((row, i) => ({
    id: `${i + 1}`,
    longitude: row.x / 1000,
    latitude: row.y / 1000,
    serviceMinutes: minutes(row.service),
    windows: [{ fromMinute: minutes(row.ready), toMinute: minutes(row.due + row.service) }],
    priceUnserved: 1e6,
    ...none,
  }))
  const crews = Array.from({ length: vehicles }, (_, i) =>
    crewFrom(`crew-${i}`, [rows[0].x / 1000, rows[0].y / 1000], minutes(rows[0].due)),
  )
  const keys = rows.map((_, i) => (i === 0 ? 'depot' : `visit:${i}`))
  const sameAs = Object.fromEntries(
    crews.flatMap(({ id }) => [`start:${id}`, `end:${id}`].map((key) => [key, 'depot'])),
  )
  return {
    visits,
    crews,
    from: monday,
    days: 1,
    travel: matrixTravel({ keys, seconds: table, metres: table, source: 'Solomon 1987', asOf: null, sameAs }),
  }
}
