import { angleFromBearing } from './bearing.ts'
import type { ExposurePolicy } from './policy.ts'
import type { Silhouette } from './silhouette.ts'
import type { FallingTree } from './tree.ts'

export type Slope = NonNullable<FallingTree['slope']>

/**
 * How much of a length along the ground shows in plan when it lies towards an angle (radians counter-clockwise from east):
 * cos(atan(tan β cos α)), α from straight down. 1 across the slope. A slope does not lengthen the fall; sliding and
 * rolling do, which is not in this figure.
 */
export function planShare({ downhillBearingDeg, angleDeg }: Slope, angle: number): number {
  const steep = Math.tan((angleDeg * Math.PI) / 180)
  return Math.cos(Math.atan(steep * Math.cos(angle - angleFromBearing(downhillBearingDeg))))
}

/** Whether what has fallen slides or rolls on so far that no distance bounds it: the inspector draws the zone. */
export const slidesOn = (slope: Slope, policy: ExposurePolicy): boolean =>
  Math.tan((slope.angleDeg * Math.PI) / 180) >= policy.slideFrom

/** A silhouette as it shows in plan when its length is foreshortened to a share; its width is not. */
export function foreshortened(s: Silhouette, share: number): Silhouette {
  if (s.kind === 'crowned') return { ...s, centreM: s.centreM * share, alongM: s.alongM * share }
  return { ...s, lengthM: s.lengthM * share }
}
