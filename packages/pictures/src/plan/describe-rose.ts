import type { ZoneKind } from '@underbough/model'
import type { Point } from '../draw/geometry.ts'
import { bearing, compassWord, figure, listed, metres } from '../draw/say.ts'
import type { Footprint } from './describe-plan.ts'

export interface RoseZone {
  name: string
  kind: ZoneKind
  /** Bearings of fall that touch it, clockwise from one to the other; `toDeg` may pass 360. */
  touchingBearings: readonly { fromDeg: number; toDeg: number }[]
  /** Of all falls, the share that touches it; null while not computed. */
  touchShare?: number | null
  /** Metres east and north of the tree, for the middle of the rose. */
  ring?: readonly Point[]
}

export interface RoseFacts {
  /** Chance per degree of falling towards evenly spaced bearings, north first, clockwise. */
  densityPerDeg: readonly number[]
  zones: readonly RoseZone[]
  footprint: Footprint | null
  reachM: number
  leanBearingDeg?: number | null
  /** Mean number of people within the outline, with least and most over what may turn the fall. */
  people?: { mean: number; least: number; most: number } | null
}

const outOf100 = (share: number): string =>
  share > 0 && share < 0.005 ? 'fewer than 1' : String(Math.round(share * 100))

/** The rose in words. */
export function describeRose({ densityPerDeg, zones, footprint, reachM, people }: RoseFacts): string {
  const most = densityPerDeg.indexOf(Math.max(...densityPerDeg))
  const towards = (most * 360) / Math.max(1, densityPerDeg.length)
  const even = Math.max(...densityPerDeg) - Math.min(...densityPerDeg) < 1e-9
  const parts = [
    even
      ? 'If it falls, every bearing is as likely as any other'
      : `If it falls, most often to the ${compassWord(towards)}, about ${bearing(towards)}`,
    `reach ${metres(reachM)}`,
  ]
  if (footprint) parts.push(`drawn falling ${footprint.because}, to ${bearing(footprint.bearingDeg)}`)
  const met = zones.map((zone) => {
    if (zone.touchingBearings.length === 0) return `${zone.name} is out of reach`
    const where = listed(
      zone.touchingBearings.map((arc) =>
        arc.toDeg - arc.fromDeg >= 359 ? 'any bearing' : `${bearing(arc.fromDeg)} to ${bearing(arc.toDeg)}`,
      ),
    )
    const share = zone.touchShare == null ? '' : `, ${outOf100(zone.touchShare)} of 100 falls`
    return `${zone.name} is touched from ${where}${share}`
  })
  if (people) parts.push(peopleSays(people))
  return `${[parts.join('; '), ...met].join('. ')}.`
}

const peopleSays = ({ mean, least, most }: { mean: number; least: number; most: number }): string =>
  `on average ${figure(mean)} people within the outline, ${figure(least)} to ${figure(most)} by what turns the fall`

/** Plain words for under the rose. */
export function roseCaption({ zones, footprint, reachM, people }: RoseFacts): string {
  const first = footprint
    ? `Hatched: where it lies ${footprint.because}; the ring is its reach, ${metres(reachM)}.`
    : `The ring is its reach, ${metres(reachM)}.`
  const worst = [...zones]
    .filter((zone) => zone.touchShare != null)
    .sort((a, b) => b.touchShare! - a.touchShare!)[0]
  const share = worst
    ? ` ${outOf100(worst.touchShare!)} of 100 falls would touch ${worst.name}${people ? `; ${peopleSays(people)}` : ''}.`
    : people
      ? ` ${peopleSays(people).replace(/^o/, 'O')}.`
      : ''
  return `${first} Grey: how often each bearing is drawn. Arc: where it touches.${share}`
}
