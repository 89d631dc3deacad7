import { useMemo } from 'react'
import { address, type TodayWhole, type TreeRow, useAsOf, useToday } from '../api/index.ts'
import { device, useLive } from '../keep/index.ts'
import { usePerson } from '../shell/index.ts'
import { addedName, addedPrefix } from './acts.ts'
import { dayAsHere, type Filled, type Here } from './dayHere.ts'

const nothing = { entries: [], addedTrees: new Map<string, TreeRow>() } as Awaited<
  ReturnType<typeof readKept>
>

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

/** The crew's day as this device knows it, with or without signal; `here` is null where no day was sent. */
export function useDayHere(date: string | null) {
  const asked = useToday(date)
  const { organisation } = usePerson()
  const keptAt = useAsOf(address('/today', { date }))
  const { entries, addedTrees } = useLive('today', readKept, nothing)
  const fetchedAt = keptAt?.getTime() ?? asked.dataUpdatedAt
  const here = useMemo<Here | null>(
    () =>
      isFilled(asked.data)
        ? dayAsHere(asked.data, entries, { timeZone: organisation.timeZone, fetchedAt, addedTrees })
        : null,
    [asked.data, entries, addedTrees, fetchedAt, organisation.timeZone],
  )
  return { asked, here }
}

const isFilled = (whole: TodayWhole | undefined): whole is Filled => Boolean(whole?.daySheet && whole.crew)
