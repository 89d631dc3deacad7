import type { KeptEntry } from '@underbough/field'
import {
  type ClosingInput,
  combinedDiameterCm,
  type DayOrderInput,
  type FoundTreeInput,
  type HandOverInput,
  minuteOfDay,
  type StopAddedInput,
  type StopEndInput,
  today,
  weekday,
} from '@underbough/model'
import { clockOfSheet, inOrder, type SheetInHand, straightLineTravel } from '@underbough/rounds'
import type { Stop, TodayWhole, TreeRow } from '../api/index.ts'
import { hasEndedStop } from './facts.ts'

/** A day that has been sent. */
export type Filled = TodayWhole & {
  daySheet: NonNullable<TodayWhole['daySheet']>
  crew: NonNullable<TodayWhole['crew']>
}

export interface Here {
  whole: Filled
  /** Stops about which this device keeps something that the office has not got. */
  waiting: ReadonlySet<string>
  /** Stops about which the office said no. */
  refused: ReadonlySet<string>
  /** The order, or what stands on the day, is this device's own so far. */
  orderWaits: boolean
  /** An order made here was refused by the office. */
  orderRefused: boolean
}

/** What is known besides the sheet and the entries. */
export interface Around {
  timeZone: string
  /** When the sheet came from the office, device clock, ms. */
  fetchedAt: number
  /** Trees put on the day here, by their stop. */
  addedTrees: ReadonlyMap<string, TreeRow>
}

/**
 * The day as this device knows it: the office's sheet with what was entered here on top, in the order in which it was entered, and the
 * clock told again by the office's own rules. Entries that the office refused change nothing.
 */
export function dayAsHere(whole: Filled, entries: readonly KeptEntry[], around: Around): Here {
  const waiting = new Set<string>()
  const refused = new Set<string>()
  let orderWaits = false
  let orderRefused = false
  let day = whole
  for (const entry of [...entries].sort((a, b) => a.seq - b.seq)) {
    const about = stopsOf(entry, day)
    if (about.length === 0) continue
    // An order is the day's, not a stop's: it does not mark each of them.
    const isOrder = entry.kind === 'day-order'
    const marks = isOrder ? null : entry.state === 'waiting' ? waiting : refused
    if (entry.state !== 'sent') for (const id of about) marks?.add(id)
    if (entry.state === 'refused') {
      orderRefused ||= isOrder
      continue
    }
    const next = applied(day, entry, around)
    if (next === day) continue
    if (entry.state === 'waiting' && entry.kind !== 'closing' && entry.kind !== 'stop-end') orderWaits = true
    day = next
  }
  return { whole: day, waiting, refused, orderWaits, orderRefused }
}

/** The stops of this day that an entry speaks of. */
function stopsOf(entry: KeptEntry, { daySheet }: Filled): string[] {
  switch (entry.kind) {
    case 'stop-end':
      return [(entry.body as StopEndInput).stopId]
    case 'closing': {
      const { treeId } = (entry.body as ClosingInput).visit
      return daySheet.stops.filter((stop) => stop.tree.id === treeId).map((stop) => stop.id)
    }
    case 'stop-added': {
      const { stopId, daySheetId } = entry.body as StopAddedInput
      return daySheetId === daySheet.id ? [stopId] : []
    }
    case 'found-tree': {
      const { stop } = entry.body as FoundTreeInput
      return stop?.daySheetId === daySheet.id ? [stop.id] : []
    }
    case 'day-order':
    case 'hand-over': {
      const { daySheetId, stopIds } = entry.body as DayOrderInput | HandOverInput
      return daySheetId === daySheet.id ? stopIds : []
    }
    default:
      return []
  }
}

function applied(day: Filled, entry: KeptEntry, around: Around): Filled {
  const { stops } = day.daySheet
  const now = minuteMade(entry, day.date, around.timeZone)
  const changed = (next: Stop[]) => ({ ...day, daySheet: { ...day.daySheet, stops: next } })
  switch (entry.kind) {
    case 'stop-end': {
      const { stopId, visitId, skippedBecause } = entry.body as StopEndInput
      return changed(
        stops.map((stop) =>
          stop.id === stopId && !stop.doneVisitId ? { ...stop, doneVisitId: visitId, skippedBecause } : stop,
        ),
      )
    }
    case 'closing': {
      const { treeId, id } = (entry.body as ClosingInput).visit
      return changed(
        stops.map((stop) =>
          stop.tree.id === treeId && !hasEndedStop(stop) ? { ...stop, doneVisitId: id } : stop,
        ),
      )
    }
    case 'stop-added':
    case 'found-tree': {
      const stop = stopAdded(entry, around)
      if (!stop || stops.some((one) => one.id === stop.id)) return day
      return reckoned(changed([...stops, stop]), now)
    }
    case 'day-order': {
      // An order that reached the office before the sheet came is in the sheet, or was overtaken by a later one.
      if (entry.sentAt !== null && entry.sentAt <= around.fetchedAt) return day
      return reckoned(changed(inOrder(stops, (entry.body as DayOrderInput).stopIds, hasEndedStop)), now)
    }
    case 'hand-over': {
      const given = new Set((entry.body as HandOverInput).stopIds)
      const left = stops.filter((stop) => hasEndedStop(stop) || !given.has(stop.id))
      return left.length === stops.length ? day : reckoned(changed(left), now)
    }
    default:
      return day
  }
}

const unplanned = { order: 0, arriveMinute: 0, startMinute: 0, leaveMinute: 0, travelM: 0 }
const open = { doneVisitId: null, skippedBecause: null, handedFrom: null, handedBecause: null }

function stopAdded({ kind, body }: KeptEntry, { addedTrees }: Around): Stop | null {
  if (kind === 'stop-added') {
    const { stopId, level, because } = body as StopAddedInput
    const tree = addedTrees.get(stopId)
    return tree ? { id: stopId, tree, level, ...unplanned, ...open, addedBecause: because } : null
  }
  const { id, tree, stop } = body as FoundTreeInput
  if (!stop) return null
  const row: TreeRow = {
    id,
    tag: tree.tag,
    species: tree.species,
    commonName: tree.commonName,
    position: tree.position,
    status: tree.status,
    risk: null,
    due: null,
    overdueDays: 0,
    seen: false,
    ratingOpen: false,
    siteId: tree.siteId,
    heightM: tree.heightM,
    stemDiameterCm:
      tree.stems.length > 0 ? combinedDiameterCm(tree.stems.map((stem) => stem.diameterCm)) : null,
  }
  return {
    id: stop.id,
    tree: row,
    level: stop.level,
    ...unplanned,
    ...open,
    addedBecause: 'found on the way',
  }
}

/** The clock at the site when an entry was made, minutes after midnight; null on another day than the sheet's. */
function minuteMade({ madeAt, clockOffsetMs }: KeptEntry, date: string, timeZone: string): number | null {
  const made = new Date(Date.parse(madeAt) + (clockOffsetMs ?? 0))
  return today(timeZone, made) === date ? minuteOfDay(timeZone, made) : null
}

/** How ways are reckoned on this day: as at the office. */
export const travelOf = ({ detourFactor }: Filled) => straightLineTravel({ detourFactor })

/** A day as the rounds reckon with it. */
export function inHand({ daySheet, crew, date }: Filled): SheetInHand {
  const hours = crew.hours[weekday(date)]
  return {
    startMinute: daySheet.startMinute,
    start: crew.start,
    end: crew.end,
    pause:
      hours && crew.breakMinutes > 0
        ? { minutes: crew.breakMinutes, atMinute: (hours.fromMinute + hours.toMinute) / 2 }
        : undefined,
    stops: daySheet.stops.map((stop) => ({
      ...stop,
      longitude: stop.tree.position[0],
      latitude: stop.tree.position[1],
      end: stop.doneVisitId ? 'visited' : stop.skippedBecause ? 'skipped' : null,
    })),
  }
}

/** The same day with the clock of its open stops told again from a minute on. */
export function reckoned(day: Filled, nowMinute: number | null): Filled {
  const { stops: clocks, endMinute, ...totals } = clockOfSheet(inHand(day), travelOf(day), nowMinute)
  const stops = day.daySheet.stops.map((stop, i) => {
    const { arriveMinute, startMinute, leaveMinute, travelM } = clocks[i]!
    return { ...stop, order: i + 1, arriveMinute, startMinute, leaveMinute, travelM }
  })
  return { ...day, daySheet: { ...day.daySheet, ...totals, endMinute: Math.round(endMinute), stops } }
}
