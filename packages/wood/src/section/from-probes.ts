import { type Outcome, type Probe, type ProbeOf, refusal, refused, type Tree } from '@underbough/model'
import { sectionOf } from './section.ts'
import type { CutWall, OpeningInput, OutlineInput, Section, SectionReading } from './types.ts'

/** Readings no further apart than this may make one section, m (assumption: the stem changes little over it). */
export const sameHeightM = 0.2

/** What a section needs of the tree itself. */
export type SectionTree = Pick<Tree, 'id' | 'stems' | 'crownRadiiM'>

/** The probes of one height and what they say together. */
export interface SectionAt {
  heightM: number
  probes: Probe[]
  outcome: Outcome<Section>
  /** Readings that are drawn elsewhere and not counted here, each with the reason. */
  left: { probeId: string; label: string; why: 'borders-not-accepted' }[]
}

const solid = (kind: Probe['kind']) => kind === 'core' || kind === 'drill-trace' || kind === 'cut'

/**
 * Sections of a tree, lowest first: probes gathered by height (neighbours within 0.2 m of the lowest). A trace counts once a person has
 * accepted its borders; the latest accepted stand. Outlines and openings go with the readings of their height; where no outline was
 * measured, the recorded stem diameter stands in.
 */
export function sectionsOf(probes: readonly Probe[], tree: SectionTree): SectionAt[] {
  const groups: Probe[][] = []
  for (const one of probes.filter((p) => solid(p.kind)).sort((a, b) => a.heightM - b.heightM)) {
    const last = groups.at(-1)
    if (last && one.heightM - last[0]!.heightM <= sameHeightM + 1e-9) last.push(one)
    else groups.push([one])
  }
  return groups.map((group) => {
    const low = group[0]!.heightM
    const high = group.at(-1)!.heightM
    const near = probes.filter(
      (p) =>
        (p.kind === 'outline' && p.heightM >= high - sameHeightM && p.heightM <= low + sameHeightM) ||
        (p.kind === 'opening' && p.reading.fromHeightM <= high && p.reading.toHeightM >= low),
    )
    const all = [...group, ...near]
    return { heightM: (low + high) / 2, probes: all, ...sectionFrom(all, tree) }
  })
}

/**
 * One section from probes that a person has chosen. Codes: `heights-mixed` where they lie further apart than 0.2 m, `outline-missing`,
 * `outline-differs`, and those of `sectionOf`.
 */
export function sectionFrom(
  probes: readonly Probe[],
  tree: SectionTree,
): { outcome: Outcome<Section>; left: SectionAt['left'] } {
  const measured = probes.filter((p) => solid(p.kind) || p.kind === 'outline')
  const heights = measured.map((p) => p.heightM)
  const [low, high] = [Math.min(...heights), Math.max(...heights)]
  const left: SectionAt['left'] = []
  const readings: SectionReading[] = []
  for (const probe of probes) {
    const reading =
      probe.kind === 'core' ? coreReading(probe) : probe.kind === 'drill-trace' ? traceReading(probe) : null
    if (reading) readings.push(reading)
    else if (probe.kind === 'drill-trace')
      left.push({ probeId: probe.id, label: probe.label, why: 'borders-not-accepted' })
  }
  if (high - low > sameHeightM + 1e-9)
    return {
      left,
      outcome: refused(
        refusal('heights-mixed', 'heightM', {
          value: high,
          limit: `at most ${sameHeightM} m apart`,
          message: `These readings lie between ${low} and ${high} m. A section needs readings no more than ${sameHeightM} m apart: make one for each height.`,
        }),
      ),
    }
  const outline = outlineFrom(probes, tree)
  if (!outline.ok) return { left, outcome: outline }
  return {
    left,
    outcome: sectionOf({
      heightM: (low + high) / 2,
      outline: outline.value,
      readings,
      cutWalls: probes.flatMap((p) => (p.kind === 'cut' ? cutWalls(p) : [])),
      openings: probes.flatMap((p) => (p.kind === 'opening' ? [opening(p)] : [])),
      crownRadiiM: tree.crownRadiiM,
      seed: seedOf(tree.id, low),
    }),
  }
}

function outlineFrom(probes: readonly Probe[], tree: SectionTree): Outcome<OutlineInput> {
  const outlines = probes.filter((p): p is ProbeOf<'outline'> => p.kind === 'outline')
  // The latest measured stands; two of one day cannot be told apart.
  const newest = outlines.reduce<ProbeOf<'outline'> | null>((a, b) => (a && a.on >= b.on ? a : b), null)
  if (newest && outlines.some((p) => p !== newest && p.on === newest.on))
    return refused(
      refusal('outline-differs', 'outline', {
        message: `Two outlines were measured at this height on ${newest.on}. Keep one of them.`,
      }),
    )
  if (newest) return { ok: true, value: newest.reading, notes: [] }
  const stem = tree.stems[0]
  if (tree.stems.length === 1 && stem)
    return {
      ok: true,
      value: { by: 'stem-diameter', diameterCm: stem.diameterCm, measuredAtM: stem.measuredAtM },
      notes: [],
    }
  return refused(
    refusal('outline-missing', 'outline', {
      message:
        tree.stems.length > 1
          ? 'The tree has several stems. Measure the outline of the one that was read, at this height.'
          : 'The tree has no diameter on record. Measure the outline at this height.',
    }),
  )
}

const coreReading = (probe: ProbeOf<'core'>): SectionReading => ({
  ...entryOf(probe),
  barkCm: probe.reading.barkCm,
  reachedCm: probe.reading.reachedCm,
  segments: probe.reading.segments,
})

/** Null while nobody has accepted the borders of the trace. */
function traceReading(probe: ProbeOf<'drill-trace'>): SectionReading | null {
  const accepted = probe.borders.at(-1)
  if (!accepted) return null
  return {
    ...entryOf(probe),
    barkCm: accepted.barkCm,
    reachedCm: Math.max(accepted.barkCm, ...accepted.segments.map((one) => one.toCm)),
    segments: accepted.segments,
  }
}

const entryOf = (probe: ProbeOf<'core' | 'drill-trace'>) => ({
  probeId: probe.id,
  label: probe.label,
  entryBearingDeg: probe.entryBearingDeg,
  directionDeg: probe.directionDeg,
  tiltDeg: probe.tiltDeg,
})

const cutWalls = (probe: ProbeOf<'cut'>): CutWall[] =>
  probe.reading.walls.map((wall, i) => ({
    probeId: probe.id,
    label: probe.reading.walls.length > 1 ? `${probe.label}.${i + 1}` : probe.label,
    ...wall,
  }))

const opening = (probe: ProbeOf<'opening'>): OpeningInput => ({
  probeId: probe.id,
  label: probe.label,
  fromBearingDeg: probe.reading.fromBearingDeg,
  toBearingDeg: probe.reading.toBearingDeg,
  depthCm: probe.reading.depthCm,
  edgeWallsCm: probe.reading.edgeWallsCm,
})

/** The same tree and height draw the same walls, on the phone as in the office. */
function seedOf(treeId: string, heightM: number): number {
  let hash = 2166136261
  for (const letter of `${treeId}@${heightM.toFixed(2)}`)
    hash = Math.imul(hash ^ letter.charCodeAt(0), 16777619)
  return hash >>> 0
}
