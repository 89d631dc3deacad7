import type { RiskWord, ZoneKind } from '@underbough/model'
import { clock, counted, way } from '../draw/say.ts'

export interface RouteStop {
  id: string
  tag: string
  name: string
  /** What is to be done: “Advanced, drill, overdue”. */
  says: string
  note?: string | null
  minute: number
  risk: RiskWord | null
  overdue: boolean
  visited?: boolean
  state: 'done' | 'now' | 'to-come'
  /** The way from the stop before, metres. */
  wayM: number
  /** What stands beside the way here. */
  beside?: readonly { side: 'left' | 'right'; kind: ZoneKind }[]
  /** A road is crossed on the way here. */
  crossesRoad?: boolean
  onGreen?: boolean
}

export interface RouteFacts {
  letter: string
  stops: readonly RouteStop[]
  /** “6 more, back by 15:36”. */
  after?: string | null
}

/** One stop in words. */
export const stopSays = (stop: RouteStop): string =>
  `${stop.tag} ${stop.name}, ${stop.state === 'done' ? 'visited' : stop.says}, ${clock(stop.minute)}${stop.note ? `. ${stop.note}` : ''}`

/** The day in words, stop by stop. */
export function describeRoute({ letter, stops, after }: RouteFacts): string {
  const said = stops.map(
    (stop, i) =>
      `${i > 0 ? `${way(stop.wayM)} on: ` : ''}${stopSays(stop)}${stop.state === 'now' ? ', next' : ''}`,
  )
  return [`Crew ${letter}, ${counted(stops.length, 'stop')} in order`, ...said, ...(after ? [after] : [])]
    .join('. ')
    .concat('.')
}
