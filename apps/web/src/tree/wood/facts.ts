import type { Photo, Probe, ProbeOf, Tree } from '@underbough/model'
import type { WoodFill } from '@underbough/pictures'
import type { PlacedReading, Section, SectionAt } from '@underbough/wood'
import { count } from '../../look/index.ts'

type Entering = Pick<ProbeOf<'core' | 'drill-trace'>, 'entryBearingDeg' | 'directionDeg' | 'tiltDeg'>

const listed = (items: readonly string[]) =>
  items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`

/** What the section stands on, for beside its title: `6 drillings, both edges`. */
export function sectionAside({ probes, left }: SectionAt): string {
  const counted = probes.filter((probe) => !left.some((one) => one.probeId === probe.id))
  const of = (kind: Probe['kind']) => counted.filter((probe) => probe.kind === kind).length
  const walls = counted.reduce(
    (sum, probe) => sum + (probe.kind === 'cut' ? probe.reading.walls.length : 0),
    0,
  )
  const read = [
    of('core') ? count(of('core'), 'core') : '',
    of('drill-trace') ? count(of('drill-trace'), 'drilling') : '',
    walls ? count(walls, 'wall at a cut', 'walls at a cut') : '',
  ].filter(Boolean)
  const openings = counted.filter((probe): probe is ProbeOf<'opening'> => probe.kind === 'opening')
  const whole = openings.every(({ reading }) => reading.edgeWallsCm !== null && reading.depthCm !== null)
  if (openings.length > 0) read.push(whole ? 'both edges' : 'opening not wholly measured')
  return read.join(', ')
}

/** One line of the table of readings, in words. */
export interface ReadingRow {
  key: string
  label: string
  bearing: string
  wall: string
  tOverR: string
  /** Of the way from the bark to the middle. */
  read: string
  unread: string
}

const percent = (share: number) => `${Math.round(share * 100)} %`

/** What each reading says by itself. Where it stopped in firm wood the wall and its share are “over”. */
export function readingRows(readings: readonly PlacedReading[]): ReadingRow[] {
  return readings.map((one) => {
    const over = one.censored ? 'over ' : ''
    const unread = one.radiusCm > 0 ? Math.min(1, Math.max(0, one.unreadCm / one.radiusCm)) : 0
    return {
      key: `${one.probeId} ${one.label}`,
      label: one.label,
      bearing: `${Math.round(one.bearingDeg) % 360}°`,
      wall: `${over}${one.wallCm.toFixed(1)} cm`,
      tOverR: `${over}${one.tOverR.toFixed(2)}`,
      read: percent(1 - unread),
      unread: percent(unread),
    }
  })
}

/** Patterns that a section's drawing holds; what was not read is in every one. */
export function fillsOf(section: Section): WoodFill[] {
  const met = new Set<WoodFill>(['bark', 'unread'])
  if (section.wallCm) met.add('sound')
  for (const reading of section.readings) for (const { condition } of reading.segments) met.add(condition)
  return [...met]
}

/** How the outline was got, in words. */
export function outlineWords(section: Section, probes: readonly Probe[]): string {
  const outline = probes.find((probe): probe is ProbeOf<'outline'> => probe.kind === 'outline')
  if (section.outline.basis === 'radii' && outline?.reading.by === 'radii')
    return `Outline from ${outline.reading.radii.length} radii measured at ${outline.heightM} m.`
  if (section.outline.basis === 'girth' && outline?.reading.by === 'girth')
    return `Outline: a circle of the girth measured at ${outline.heightM} m, ${outline.reading.girthCm} cm.`
  return 'Outline: a circle of the diameter on record stands in; nobody measured it at this height.'
}

/** Which way of bending leaves least and most, in words; null without a rose. The figures stand in the table. */
export function roseWords({ rose, stepDeg, weakestBearingDeg }: Section): string | null {
  if (!rose || weakestBearingDeg === null) return null
  const most = rose.reduce((best, one, i) => (one.p50 > rose[best]!.p50 ? i : best), 0) * stepDeg
  const both = (bearing: number) => `${Math.round(bearing % 180)}° and ${Math.round(bearing % 180) + 180}°`
  return `How far the tint reaches is how much is left when the stem is bent that way: least along ${both(weakestBearingDeg)}, most along ${both(most)}. Firm line 50 %, broken 5 %, dotted 95 % of the drawn walls.`
}

/** Readings that the section leaves out, and why. */
export const leftWords = (left: SectionAt['left']): string | null =>
  left.length === 0
    ? null
    : `Not counted: ${listed(left.map((one) => one.label))}, whose borders nobody has accepted yet.`

/** Grey figures say why they are grey. */
export function greyWords({ bendingOnly, thinnestTOverR }: Section): string | null {
  if (!bendingOnly || !thinnestTOverR) return null
  return `In grey: the wall is down to ${thinnestTOverR.value.toFixed(2)} of the radius (${thinnestTOverR.at}), where other ways to break may come first.`
}

/**
 * From the outside of the bark along the instrument to the point nearest the middle of the stem, cm. Null where neither an outline nor one
 * stem's diameter is known.
 */
export function toMiddleCm(
  probe: Entering & { id: string },
  sections: readonly SectionAt[],
  tree: Pick<Tree, 'stems'>,
): number | null {
  const at = sections.find((one) => one.probes.some((other) => other.id === probe.id))
  const radius =
    at?.outcome.ok === true
      ? outerAt(at.outcome.value, probe.entryBearingDeg)
      : tree.stems.length === 1
        ? tree.stems[0]!.diameterCm / 2
        : null
  return radius === null
    ? null
    : (radius * Math.cos(radians(offMiddleDeg(probe)))) / Math.cos(radians(probe.tiltDeg))
}

const radians = (deg: number) => (deg * Math.PI) / 180
const outerAt = ({ outline: { outerCm }, stepDeg }: Section, bearingDeg: number) =>
  outerCm[Math.round((((bearingDeg % 360) + 360) % 360) / stepDeg) % outerCm.length]!

/** Between where an instrument points and the middle of the stem, degrees to either side; 0 is straight in. */
export const offMiddleDeg = ({ entryBearingDeg, directionDeg }: Omit<Entering, 'tiltDeg'>): number =>
  ((((directionDeg - entryBearingDeg - 180 + 180) % 360) + 360) % 360) - 180

/** `260° at 1.3 m`; what is aimed past the middle says so. */
export function entryWords(probe: Entering & { heightM: number }): string {
  const off = Math.abs(Math.round(offMiddleDeg(probe)))
  return `${Math.round(probe.entryBearingDeg) % 360}° at ${probe.heightM} m${off >= 3 ? `, aimed ${off}° past the middle` : ''}`
}

/** The latest photo taken of a reading. */
export const photoOf = (probeId: string, photos: readonly Photo[]): Photo | null =>
  photos
    .filter((photo) => photo.ownerKind === 'probe' && photo.ownerId === probeId)
    .sort((a, b) => (b.takenAt ?? '').localeCompare(a.takenAt ?? ''))[0] ?? null

/** How a reading was taken, one sentence each; what nobody wrote is left out. */
export function takenWords(probe: Probe): string[] {
  const tool =
    probe.disinfected === null
      ? 'whether the tool was disinfected was not written down'
      : probe.disinfected
        ? 'tool disinfected before'
        : 'tool not disinfected before'
  const wound = probe.kind === 'core' || probe.kind === 'drill-trace'
  return [
    [probe.instrument, probe.instrumentCondition].filter(Boolean).join('; '),
    [probe.operator ? `By ${probe.operator}` : '', wound ? tool : ''].filter(Boolean).join('; '),
    probe.reason ? `Why: ${probe.reason}` : '',
    probe.note,
  ]
    .filter(Boolean)
    .map((words) => (/[.!?]$/.test(words) ? words : `${words}.`))
}

/** Girth or radii of the stem as they were measured. */
export function outlineFigure({ reading }: ProbeOf<'outline'>): (readonly [string, string])[] {
  const bark = ['Bark', reading.barkCm === null ? 'not measured' : `${reading.barkCm} cm`] as const
  if (reading.by === 'girth')
    return [
      ['Girth', `${reading.girthCm} cm`],
      ['Diameter from it', `${(reading.girthCm / Math.PI).toFixed(1)} cm`],
      bark,
    ]
  const radii = reading.radii.map((one) => one.radiusCm)
  return [['Radii', `${radii.length}, ${Math.min(...radii)} to ${Math.max(...radii)} cm`], bark]
}
