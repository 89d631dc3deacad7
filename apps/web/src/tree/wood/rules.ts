import { type Outcome, refused } from '@underbough/model'
import { type Section, type ShellRule, type ShellRules, shellRules } from '@underbough/wood'

/** The published rules at two places of a section: where the wall is thinnest, and for an even wall of the mean thickness. */
export interface RulesAt {
  thinnest: { at: string; wallCm: number; radiusCm: number; rules: Outcome<ShellRules> }
  /** Null where fewer than two walls were found. */
  mean: { wallCm: number; radiusCm: number; rules: Outcome<ShellRules> } | null
}

interface Wall {
  at: string
  wallCm: number
  radiusCm: number
}

/** Walls that were found to end, at readings and at the edges of openings. Those that stopped in firm wood have no figure to set beside a rule. */
export function wallsFound(section: Section): Wall[] {
  const { outline, stepDeg } = section
  const woodAt = (bearing: number) => outline.woodCm[Math.round(bearing / stepDeg) % outline.woodCm.length]!
  return [
    ...section.readings
      .filter((one) => !one.censored)
      .map(({ label, wallCm, radiusCm }) => ({ at: label, wallCm, radiusCm })),
    ...section.openings.flatMap((one) =>
      one.edgeWallsCm
        ? [
            { bearing: one.fromBearingDeg, wallCm: one.edgeWallsCm.from },
            { bearing: one.toBearingDeg, wallCm: one.edgeWallsCm.to },
          ].map(({ bearing, wallCm }) => ({
            at: `the edge at ${Math.round(bearing)}°`,
            wallCm: Math.min(wallCm, woodAt(bearing)),
            radiusCm: woodAt(bearing),
          }))
        : [],
    ),
  ]
}

/** Null where no wall was found to end: then there is nothing to set beside the rules. */
export function rulesAt(section: Section, conifer: boolean | null): RulesAt | null {
  const walls = wallsFound(section)
  const [first] = walls
  if (!first) return null
  const thinnest = walls.reduce((a, b) => (b.wallCm / b.radiusCm < a.wallCm / a.radiusCm ? b : a), first)
  const thickestWallCm = Math.max(
    ...walls.map((one) => one.wallCm),
    ...section.readings.map((one) => one.wallCm),
  )
  const openingAngleDeg = Math.min(
    360,
    section.openings.reduce((sum, one) => sum + one.widthDeg, 0),
  )
  const of = (wallCm: number, radiusCm: number) =>
    shellRules({
      radiusCm,
      wallCm,
      thickestWallCm: Math.min(radiusCm, thickestWallCm),
      openingAngleDeg,
      conifer,
    })
  const meanWallCm = walls.reduce((sum, one) => sum + one.wallCm, 0) / walls.length
  const radiusCm = section.outline.meanWoodRadiusCm
  return {
    thinnest: { ...thinnest, rules: of(thinnest.wallCm, thinnest.radiusCm) },
    mean:
      walls.length < 2
        ? null
        : { wallCm: meanWallCm, radiusCm, rules: of(Math.min(radiusCm, meanWallCm), radiusCm) },
  }
}

/** One rule with its figure at both places. */
export interface RuleRow {
  rule: ShellRule
  atThinnest: string
  atMean: string | null
  lines: string[]
}

export function ruleRows({ thinnest, mean }: RulesAt): Outcome<RuleRow[]> {
  if (!thinnest.rules.ok) return refused(...thinnest.rules.refusals)
  const means = mean?.rules.ok ? mean.rules.value.rules : null
  return {
    ok: true,
    notes: [],
    value: thinnest.rules.value.rules.map((rule) => {
      const other = means?.find((one) => one.id === rule.id)
      return {
        rule,
        atThinnest: figureOf(rule),
        atMean: other ? figureOf(other) : null,
        lines: rule.lines.map(
          (line) =>
            `${sayFigure(line.at, rule.unit)}: ${line.says}${line.basis === 'memory' ? ' (from memory)' : ''}`,
        ),
      }
    }),
  }
}

const figureOf = (rule: ShellRule) => sayFigure(rule.figure, rule.unit)
const sayFigure = (value: number, unit: ShellRule['unit']) =>
  unit === 'of the radius'
    ? `${value.toFixed(2)} of the radius`
    : unit === '%'
      ? `${Math.round(value)} %`
      : `${value.toFixed(1)} cm`

/** Reasons why none of the rules speaks of this place, said once; what is left over stands at its rule. */
export function outsideAll(rows: readonly RuleRow[]): string[] {
  const [first] = rows
  return first
    ? first.rule.domainLeft.filter((why) => rows.every(({ rule }) => rule.domainLeft.includes(why)))
    : []
}
