/**
 * The kernel of exposure beside general-purpose geometry in one run: shared areas by Turf and by PostGIS's ST_Intersection
 * (where a server answers) on a sample of a seeded town's pairs, and every figure of pairs of a tree and a zone.
 */

import { featureCollection, intersect, polygon } from '@turf/turf'
import {
  type FallingTree,
  hourClassesOf,
  reachOf,
  silhouetteOf,
  silhouetteRing,
  type ZoneAround,
} from '@underbough/exposure'
import { seededNumbers } from '@underbough/model'
import KDBush from 'kdbush'
import postgres from 'postgres'
import { overlapAt } from '../../packages/exposure/src/kernel/area.ts'
import { shapeOf } from '../../packages/exposure/src/kernel/shape.ts'
import { zoneRings } from '../../packages/exposure/src/zone.ts'
import { planarArea, type Ring } from '../published/exposure-slow.ts'
import { pairRows } from './exposure-pairs.ts'
import type { BenchRow } from './row.ts'

const TREES = 100_000
const ZONES = 20_000
const TOWN_M = 9_000
const SAMPLE_PAIRS = 200
const SAMPLE_BEARINGS = 24
const SERVER = 'postgres://postgres@127.0.0.1:5432/postgres'

interface Place {
  x: number
  y: number
}
interface Town {
  trees: (Place & { tree: FallingTree })[]
  zones: (Place & { radiusM: number; ring: Ring; zone: Omit<ZoneAround, 'polygons'> })[]
}

export async function run(): Promise<BenchRow[]> {
  const town = makeTown(20261125)
  const near = zonesByTree(town)
  const rows: BenchRow[] = []
  const sample = makeSample(town, near)
  const kernel = byKernel(sample)
  rows.push({ case: 'shared areas, kernel', figure: kernel.perSecond, unit: 'bearings/s', note: sampleNote })
  rows.push(beside('shared areas, Turf intersect', 'Turf', kernel, byTurf(sample)))
  const server = await byPostgis(sample)
  rows.push(
    server
      ? beside('shared areas, PostGIS ST_Intersection', 'PostGIS', kernel, server)
      : {
          case: 'shared areas, PostGIS ST_Intersection',
          figure: 0,
          unit: 'bearings/s',
          note: 'no server answered',
        },
  )
  rows.push(...pairRows(server?.perSecond ?? null))
  return rows
}

const sampleNote = `${SAMPLE_PAIRS} pairs at ${SAMPLE_BEARINGS} bearings`

interface Timed {
  perSecond: number
  areas: number[]
}

/** How many times quicker the kernel is, and by how much the two differ: the peer cuts a polygon of chords. */
function beside(title: string, peer: string, kernel: Timed, other: Timed): BenchRow {
  const apart = other.areas.reduce((most, area, i) => Math.max(most, Math.abs(area - kernel.areas[i]!)), 0)
  return {
    case: title,
    figure: other.perSecond,
    unit: 'bearings/s',
    peer: `kernel over ${peer}`,
    ratio: kernel.perSecond / other.perSecond,
    note: `${other.areas.length} areas, at most ${apart.toFixed(3)} m² apart: the peer cuts chords`,
  }
}

function makeTown(seed: number): Town {
  const random = seededNumbers(seed)
  const week = (most: number) =>
    Array.from({ length: 168 }, (_, hour) =>
      hour % 24 > 6 && hour % 24 < 22
        ? Math.round(most * (0.3 + 0.7 * Math.sin(((hour % 24) - 6) / 5) ** 2))
        : 0,
    )
  // A town's zones share a few dozen profiles.
  const profiles = Array.from({ length: 40 }, (_, i) =>
    hourClassesOf({ kind: 'through', flowPerHour: week(5 + 8 * i), speedMps: 1.4, lengthM: 20 }),
  )
  const maybe = <T>(chance: number, value: () => T) => (random() < chance ? value() : null)
  const trees = Array.from({ length: TREES }, () => {
    const heightM = 4 + 22 * random() ** 1.3
    const radius = () => heightM * (0.1 + 0.2 * random())
    return {
      x: TOWN_M * random(),
      y: TOWN_M * random(),
      tree: {
        heightM,
        stemDiameterCm: heightM * (1.5 + 2 * random()),
        crownBaseHeightM: maybe(0.5, () => heightM * (0.1 + 0.3 * random())),
        crownRadiiM: maybe(0.7, () => ({ n: radius(), e: radius(), s: radius(), w: radius() })),
        lean: maybe(0.15, () => ({ bearingDeg: 360 * random(), angleDeg: 20 * random() })),
        clearingBearingDeg: maybe(0.2, () => 360 * random()),
      },
    }
  })
  const zones = Array.from({ length: ZONES }, (_, i) => {
    const [x, y] = [TOWN_M * random(), TOWN_M * random()]
    const [long, wide] =
      random() < 0.5 ? [15 + 40 * random(), 2 + 5 * random()] : [4 + 16 * random(), 4 + 12 * random()]
    const corners = 4 + Math.floor(4 * random())
    const turn = Math.PI * random()
    const ring: Ring = Array.from({ length: corners }, (_, k) => {
      const a = (2 * Math.PI * (k + 0.5)) / corners
      const [u, v] = [(long / 2) * 1.3 * Math.cos(a), (wide / 2) * 1.3 * Math.sin(a)]
      return [x + u * Math.cos(turn) - v * Math.sin(turn), y + u * Math.sin(turn) + v * Math.cos(turn)]
    })
    return {
      x,
      y,
      radiusM: Math.max(...ring.map(([rx, ry]) => Math.hypot(rx - x, ry - y))),
      ring,
      zone: {
        id: `${i}`,
        areaM2: planarArea([ring]),
        hours: profiles[i % profiles.length]!,
        staticTarget: false,
      },
    }
  })
  return { trees, zones }
}

function zonesByTree({ trees, zones }: Town): number[][] {
  const index = new KDBush(trees.length)
  for (const { x, y } of trees) index.add(x, y)
  index.finish()
  const reaches = trees.map(({ tree }) => reachOf(tree))
  const furthest = Math.max(...reaches.slice(0, 1000), 30)
  const near: number[][] = trees.map(() => [])
  zones.forEach((zone, z) => {
    for (const t of index.within(zone.x, zone.y, zone.radiusM + furthest))
      if (Math.hypot(trees[t]!.x - zone.x, trees[t]!.y - zone.y) < zone.radiusM + reaches[t]!)
        near[t]!.push(z)
  })
  return near
}

function around({ trees, zones }: Town, t: number, list: readonly number[]): ZoneAround[] {
  const { x, y } = trees[t]!
  return list.map((z) => ({
    ...zones[z]!.zone,
    polygons: [[zones[z]!.ring.map(([zx, zy]) => [zx - x, zy - y])]],
  }))
}

interface SamplePair {
  tree: FallingTree
  zone: ZoneAround
  angles: number[]
}

function makeSample(town: Town, near: readonly number[][]): SamplePair[] {
  const random = seededNumbers(7)
  const sample: SamplePair[] = []
  while (sample.length < SAMPLE_PAIRS) {
    const t = Math.floor(random() * TREES)
    const zone = around(town, t, near[t]!)[0]
    if (!zone) continue
    // Bearings that point at the zone, so that most of them share ground.
    const towards = Math.atan2(
      town.zones[+zone.id]!.y - town.trees[t]!.y,
      town.zones[+zone.id]!.x - town.trees[t]!.x,
    )
    sample.push({
      tree: town.trees[t]!.tree,
      zone,
      angles: Array.from(
        { length: SAMPLE_BEARINGS },
        (_, k) => towards + ((k + 0.5) / SAMPLE_BEARINGS - 0.5) * 2,
      ),
    })
  }
  return sample
}

function byKernel(sample: readonly SamplePair[]): Timed {
  const rounds = 200
  const out = { stemM2: 0, crownM2: 0 }
  let areas: number[] = []
  const once = () => {
    areas = []
    for (const { tree, zone, angles } of sample) {
      const { silhouette } = silhouetteOf(tree)
      const rings = zoneRings(zone.polygons)
      for (const angle of angles) {
        overlapAt(shapeOf(silhouette), rings, Math.cos(angle), Math.sin(angle), out)
        areas.push(out.stemM2 + out.crownM2)
      }
    }
  }
  once()
  const taken = seconds(() => {
    for (let i = 0; i < rounds; i++) once()
  })
  return { perSecond: (rounds * areas.length) / taken, areas }
}

/** The outlines are made before the clock starts: the peers are timed on cutting alone. */
function outlines(sample: readonly SamplePair[]) {
  return sample.flatMap(({ tree, zone, angles }) => {
    const ring = zone.polygons[0]![0]!.map((p) => [...p])
    return angles.map((angle) => ({
      outline: silhouetteRing(silhouetteOf(tree).silhouette, angle).map((p) => [...p]),
      zone: [...ring, ring[0]!],
    }))
  })
}

function byTurf(sample: readonly SamplePair[]): Timed {
  const pairs = outlines(sample).map(({ outline, zone }) =>
    featureCollection([polygon([outline]), polygon([zone])]),
  )
  const areas: number[] = []
  const taken = seconds(() => {
    for (const pair of pairs) {
      const shared = intersect(pair)?.geometry
      const parts = !shared ? [] : shared.type === 'Polygon' ? [shared.coordinates] : shared.coordinates
      areas.push(parts.reduce((sum, rings) => sum + planarArea(rings), 0))
    }
  })
  return { perSecond: pairs.length / taken, areas }
}

/** Null where no server answers or it lacks PostGIS. The database is made for the run and dropped after it. */
async function byPostgis(sample: readonly SamplePair[]): Promise<Timed | null> {
  const database = `exposure_bench_${process.pid}`
  const server = postgres(SERVER, { max: 1, connect_timeout: 3, onnotice: () => {} })
  try {
    await server.unsafe(`create database ${database}`)
  } catch {
    await server.end()
    return null
  }
  const sql = postgres(SERVER.replace(/postgres$/, database), { max: 1, onnotice: () => {} })
  try {
    await sql.unsafe('create extension postgis')
    await sql.unsafe('create table pair (id int, outline geometry, zone geometry)')
    const wkt = (ring: number[][]) => `POLYGON((${ring.map((p) => p.join(' ')).join(',')}))`
    const rows = outlines(sample).map(
      ({ outline, zone }, id) => [id, wkt(outline), wkt(zone)] as [number, string, string],
    )
    for (let i = 0; i < rows.length; i += 500)
      await sql`insert into pair select v.id::int, v.outline::geometry, v.zone::geometry
        from (values ${sql(rows.slice(i, i + 500))}) as v (id, outline, zone)`
    const query = 'select ST_Area(ST_Intersection(outline, zone)) as area from pair order by id'
    await sql.unsafe(query)
    const before = performance.now()
    const got = await sql.unsafe<{ area: number }[]>(query)
    const taken = (performance.now() - before) / 1000
    return { perSecond: got.length / taken, areas: got.map((row) => row.area) }
  } catch {
    return null
  } finally {
    await sql.end()
    await server.unsafe(`drop database ${database}`)
    await server.end()
  }
}

function seconds(work: () => void): number {
  const before = performance.now()
  work()
  return (performance.now() - before) / 1000
}
