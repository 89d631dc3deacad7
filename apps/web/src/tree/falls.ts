import type { Exposure, RoadUnder, ZoneExposure } from '@underbough/exposure'
import { type Rating, type Scenario, scenarioParts, type ZoneKind } from '@underbough/model'
import { type ImpactQuestion, questionImpact } from '@underbough/rating'
import type { Spread, TreeExposureView } from '../api/index.ts'

/** Figures of one zone under one fall. What an older answer did not hold is null. */
export interface ZoneFall {
  id: string
  name: string
  kind: ZoneKind
  pTouch: Spread
  people: Spread & { stem: number; crown: number; scatter: number }
  pAny: { mean: number; range: { least: number; most: number } | null }
  /** Value at stake times the share of its ground within the outline; null where none is on record. */
  valueWithin: number | null
  asked: ImpactQuestion | null
}

/** One thing that may fall: the whole tree, or a part that the rating in force names. */
export interface FallView {
  key: string
  label: string
  hint: string
  reachM: number
  joint: Pick<ZoneFall, 'pTouch' | 'people' | 'pAny'>
  /** The zone that bears most first. */
  zones: ZoneFall[]
  roads: readonly RoadUnder[]
  flags: readonly { code: string; zoneIds: readonly string[] }[]
}

const partLabels = { 'whole-tree': 'The whole tree', stem: 'The stem', limb: 'A limb' } as const

/** The whole tree first, then each part of the rating that falls otherwise. */
export function fallsOf(exposure: TreeExposureView, rating: Rating | null): FallView[] {
  const { under } = exposure
  if (!under) return [storedFall(exposure)]
  const scenarios = rating?.scenarios ?? []
  const whole: FallView = {
    key: 'whole',
    label: partLabels['whole-tree'],
    hint: '',
    reachM: under.whole.reachM,
    joint: figuresOf(under.whole.joint),
    zones: zonesOf(
      under.whole.zones,
      exposure,
      scenarios.find((s) => asTheWhole(s)),
    ),
    roads: under.roads,
    flags: under.whole.flags,
  }
  const parts = under.parts.flatMap((part): FallView[] => {
    const scenario = scenarios.find(({ id }) => id === part.scenarioId)
    if (!scenario || asTheWhole(scenario)) return []
    return [
      {
        key: part.scenarioId,
        label: partLabels[scenario.part],
        hint: scenario.description,
        reachM: part.reachM,
        joint: figuresOf(part.joint),
        zones: zonesOf(part.zones, exposure, scenario),
        roads: part.roads,
        flags: part.flags,
      },
    ]
  })
  return [
    whole,
    ...parts.sort((a, b) => rankOf(a.label) - rankOf(b.label) || b.joint.people.mean - a.joint.people.mean),
  ]
}

const rankOf = (label: string) => scenarioParts.findIndex((part) => partLabels[part] === label)
/** A scenario of the whole tree without a direction of its own falls as the tree does. */
const asTheWhole = (scenario: Scenario) => scenario.part === 'whole-tree' && scenario.knownBearingDeg === null

const figuresOf = ({ pTouch, people, pAny, pAnyRange }: Exposure) => ({
  pTouch,
  people,
  pAny: { mean: pAny, range: pAnyRange },
})

function zonesOf(
  figures: readonly ZoneExposure[],
  { under }: TreeExposureView,
  scenario: Scenario | undefined,
): ZoneFall[] {
  const named = new Map(under!.named.map((zone) => [zone.id, zone]))
  const facts = new Map(under!.zones.map((zone) => [zone.id, zone]))
  return figures
    .filter(({ pTouch, id }) => pTouch.most > 0 && named.has(id))
    .map((figure): ZoneFall => {
      const zone = named.get(figure.id)!
      const { stem, crown } = figure.groundWithin
      const target = scenario?.targets.find(({ zoneId }) => zoneId === figure.id)
      const hours = facts.get(figure.id)?.shareOfHours
      return {
        id: figure.id,
        name: zone.name,
        kind: zone.kind,
        ...figuresOf(figure),
        valueWithin: zone.valueAtStake ? zone.valueAtStake * Math.min(1, stem + crown) : null,
        asked:
          target && hours !== undefined ? questionImpact(target.impact, hours, figure.pTouch.mean) : null,
      }
    })
    .sort(
      (a, b) =>
        b.people.mean - a.people.mean || b.pTouch.mean - a.pTouch.mean || a.name.localeCompare(b.name),
    )
}

/** The office's stored figures, as an older answer holds them. */
function storedFall(exposure: TreeExposureView): FallView {
  const joint = ({ pTouch, people, pAny }: TreeExposureView['joint']) => ({
    pTouch,
    people: { scatter: 0, ...people },
    pAny: { mean: pAny, range: null },
  })
  return {
    key: 'whole',
    label: partLabels['whole-tree'],
    hint: '',
    reachM: exposure.reachM,
    joint: joint(exposure.joint),
    zones: exposure.zones.map(({ zoneId, name, kind, ...figures }) => ({
      id: zoneId,
      name,
      kind,
      ...joint(figures),
      valueWithin: null,
      asked: null,
    })),
    roads: [],
    flags: exposure.flags,
  }
}
