import {
  bearingFromAngle,
  defaultExposurePolicy,
  type FallingTree,
  type Lobe,
  lobesOf,
} from '@underbough/exposure'

const plain: FallingTree = {
  heightM: 18,
  stemDiameterCm: 40,
  crownBaseHeightM: 5,
  crownRadiiM: { n: 4, e: 4, s: 4, w: 4 },
  lean: null,
  clearingBearingDeg: null,
}

/** All directions alike. */
export const even: Lobe[] = lobesOf(plain)

/** One circular normal about an angle (radians counter-clockwise from east), through the door of a known direction. */
export const circularNormal = (angle: number, knownConcentration: number): Lobe[] =>
  lobesOf(
    { ...plain, knownBearingDeg: bearingFromAngle(angle) },
    { ...defaultExposurePolicy, knownConcentration },
  )

/** 0.2 uniform + 0.8 circular normal (mean 0, concentration 12). */
export const leanLobes: Lobe[] = [
  { ...even[0]!, weight: 0.2 },
  { ...circularNormal(0, 12)[0]!, weight: 0.8 },
]
