import { useMemo } from 'react'
import { address, type TodayWhole, type TreeRow, useAsOf, useToday } from '../api/index.ts'
import { device, useLive } from '../keep/index.ts'
import { usePerson } from '../shell/index.ts'
import { addedName, addedPrefix } from './acts.ts'
import { dayAsHere, type Filled, type Here } from './dayHere.ts'

type Kept = Awaited<ReturnType<typeof readKept>>
const nothing: Kept = { entries: [], addedTrees: new Map<string, TreeRow>() }

async function readKept() {
  const entries = await device.entries
    .where('state')
    .anyOf('waiting', 'refused', 'sent')
    .filter(({ kind }) => ofDays.has(kind))
    .toArray()
  const rows = await device.remembered.where('name').startsWith(addedPrefix).toArray()
  return {
    entries,
    addedTrees: new Map(
      rows.map(({ name, value }) => [name.slice(addedName('').length), value as TreeRow] as const),
    ),
  }
}
const ofDays = new Set(['stop-end', 'closing', 'stop-added', 'found-tree', 'day-order', 'hand-over'])

/**
 * The crew's day as this device knows it, with or without signal; `here` is null where no day was sent, and while `reading`: a day shown
 * before its entries are read would offer the stop that was just ended once more.
 */
export function useDayHere(date: string | null) {
  const asked = useToday(date)
  const { organisation } = usePerson()
  const keptAt = useAsOf(address('/today', { date }))
  // A browser that keeps nothing shows the office's sheet as it is.
  const kept = useLive<Kept | null>('today', () => readKept().catch(() => nothing), null)
  const fetchedAt = keptAt?.getTime() ?? asked.dataUpdatedAt
  const here = useMemo<Here | null>(
    () =>
      isFilled(asked.data) && kept
        ? dayAsHere(asked.data, kept.entries, {
            timeZone: organisation.timeZone,
            fetchedAt,
            addedTrees: kept.addedTrees,
          })
        : null,
    [asked.data, kept, fetchedAt, organisation.timeZone],
  )
  return { asked, here, reading: kept === null }
}

const isFilled = (whole: TodayWhole | undefined): whole is Filled => Boolean(whole?.daySheet && whole.crew)
