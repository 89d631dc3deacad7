import { done, type Outcome, refusal, refused } from '@underbough/model'
import { outside } from '../limits.ts'

/** Frontal area as it stands without wind, or as the wind has bent it. */
export type AreaKind = 'still-air' | 'reconfigured'
export type LeafState = 'in-leaf' | 'leafless'

/** A drag coefficient with all that it belongs to. One record: the figure means nothing without its area and its speed. */
export interface DragRecord {
  name: string
  cd: number
  areaKind: AreaKind
  leaf: LeafState
  /** Fastest wind it was measured in. */
  speedMps: number
  source: string
  note: string
}

const rudnicki =
  'Rudnicki et al. 2004, Canadian Journal of Forest Research 34(3), wind tunnel, juvenile crowns'
const vollsinger =
  'Vollsinger et al. 2005, Canadian Journal of Forest Research 35(5), wind tunnel, juvenile crowns'
const rooftop = 'Journal of Wood Science 2016, doi 10.1007/s10086-016-1556-5, rooftop trial'
const leafAssumed = 'that it was in leaf is assumed'
const stillAir = { areaKind: 'still-air', leaf: 'in-leaf' } as const

/**
 * Published drag of crowns, all on the area in still air and in leaf; the fall of the area with wind is in the coefficient already. No
 * leafless record was found: one has to be typed in with its source.
 */
export const dragRecords: readonly DragRecord[] = [
  { name: 'western redcedar', cd: 0.22, ...stillAir, speedMps: 20, source: rudnicki, note: 'area left 46 %' },
  { name: 'western hemlock', cd: 0.47, ...stillAir, speedMps: 20, source: rudnicki, note: 'area left 61 %' },
  { name: 'lodgepole pine', cd: 0.47, ...stillAir, speedMps: 20, source: rudnicki, note: 'area left 64 %' },
  {
    name: 'black cottonwood, red alder, paper birch',
    cd: 0.22,
    ...stillAir,
    speedMps: 20,
    source: vollsinger,
    note: 'printed as 0.15 to 0.22 over the three, the upper end is taken; area left 28, 37 and 20 %',
  },
  { name: 'Norway spruce', cd: 0.594, ...stillAir, speedMps: 30, source: rooftop, note: leafAssumed },
  { name: 'birch', cd: 0.154, ...stillAir, speedMps: 30, source: rooftop, note: leafAssumed },
]

/** How a speed stands to the one a drag was measured at. */
export type DragMark = 'as tested' | 'extrapolated' | 'below the tested speed'

/**
 * The coefficient at a speed. Beyond the tested speed it is held and marked `extrapolated`. Below, crowns stand stiffer and drag more than
 * the coefficient says: held, too, and marked.
 */
export function dragAt(drag: DragRecord, speedMps: number): { cd: number; mark: DragMark } {
  const mark =
    speedMps > drag.speedMps * 1.001
      ? 'extrapolated'
      : speedMps < drag.speedMps * 0.999
        ? 'below the tested speed'
        : 'as tested'
  return { cd: drag.cd, mark }
}

/**
 * Gives back the record when it goes with this area. Refuses `wind-area-kind` when a coefficient on still-air area meets an area the wind
 * has bent, or the other way round (the bending would count twice or not at all), or leaf state differs; `out-of-range` for its figures.
 */
export function dragFor(
  drag: DragRecord,
  area: { areaKind: AreaKind; leaf: LeafState },
): Outcome<DragRecord> {
  const wrong = outside({
    'drag.cd': [drag.cd, 0.01, 2, ''],
    'drag.speedMps': [drag.speedMps, 1, 100, 'm/s'],
  })
  for (const key of ['areaKind', 'leaf'] as const)
    if (drag[key] !== area[key])
      wrong.push(refusal('wind-area-kind', `drag.${key}`, { value: drag[key], limit: area[key] }))
  return wrong.length > 0 ? refused(...wrong) : done(drag)
}
