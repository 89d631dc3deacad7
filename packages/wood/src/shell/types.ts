/** One place on a stem; both lengths without bark. */
export interface ShellInput {
  radiusCm: number
  /** Sound wall; the thinnest where several were read. */
  wallCm: number
  /** The thickest wall read, where several were: an uneven shell leaves the rules for even ones. */
  thickestWallCm?: number | null
  /** Opening as a share of the circumference, 0..1; from its angle where not given. */
  openingShare?: number | null
  /** Opening as an angle seen from the middle; from its share where not given. */
  openingAngleDeg?: number | null
  conifer?: boolean | null
}

/** A published rule beside the figure it gives here. It says where the rule's line is, never what to make of it. */
export interface ShellRule {
  id: ShellRuleId
  name: string
  formula: string
  figure: number
  unit: 'of the radius' | '%' | 'cm'
  /** Where the rule draws its lines, in the figure's unit. */
  lines: { at: number; says: string; basis: 'seen' | 'memory' }[]
  domain: string
  /** Why the rule does not speak of this place; empty where it does. */
  domainLeft: string[]
  source: string
  basis: 'seen' | 'memory'
}
export type ShellRuleId =
  | 'wall-over-radius'
  | 'cube'
  | 'cube-with-opening'
  | 'fourth-power'
  | 'inch-in-six'
  | 'share-of-diameter'

export interface ShellRules {
  rules: ShellRule[]
  sentence: string
}

/** A place on a stem as the rules see it. */
export interface Stem {
  radiusCm: number
  wallCm: number
  /** d/D, the hollow's diameter over the stem's. */
  hollowShare: number
  openingShare: number
  openingAngleDeg: number
  conifer: boolean | null
  uneven: boolean
}
