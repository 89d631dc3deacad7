/** Inside the stem: what readings into wood say, and what they leave open. */

export { sectionModuli, sectionModulus } from './plane/modulus.ts'
export { type Moments, polygonMoments } from './plane/moments.ts'
export {
  type SectionAt,
  type SectionTree,
  sameHeightM,
  sectionFrom,
  sectionsOf,
} from './section/from-probes.ts'
export { bendingOnlyBelow, torsionOpenOverClosed, widestGapDeg } from './section/limits.ts'
export { sectionMethodVersion, sectionOf } from './section/section.ts'
export type * from './section/types.ts'
