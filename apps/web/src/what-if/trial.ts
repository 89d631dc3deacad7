import type { Zone } from '@underbough/model'
import { useEffect, useMemo, useState } from 'react'
import { count, sayPeople } from '../look/index.ts'
import type { Surroundings, TreeNear } from './hooks.ts'
import { carried, type Figures, type ShutHours, shutInGusts, shutZone } from './reckon.ts'
import { shutWords } from './shut.ts'
import type { Task } from './task.ts'
import { useReckoned } from './useReckoned.ts'

export type Change = 'move' | 'gusts' | 'hours'

/** How far a zone can be moved in a trial, metres. */
export const FURTHEST_M = 100

/** Everything a person may set on this page. */
export interface Tried {
  change: Change
  moved: [eastM: number, northM: number]
  shutShare: number
  hours: ShutHours
}
export const first: Tried = {
  change: 'move',
  moved: [0, 0],
  shutShare: 0.5,
  hours: { fromHour: 20, toHour: 6, days: 'every' },
}

/** A value that has stood still for a moment. */
function useStill<T>(value: T): T {
  const [still, setStill] = useState(value)
  useEffect(() => {
    const timer = setTimeout(() => setStill(value), 60)
    return () => clearTimeout(timer)
  }, [value])
  return still
}

/** The zone under its trees as it stands and as it would be. */
export function useCompared(around: Surroundings, tried: Tried) {
  const { zone, zones: others, policy } = around
  const trees = useMemo(() => {
    const roses = new Map(around.roses.map(({ siteId, windRose }) => [siteId, windRose]))
    return around.trees.map((tree) => ({
      id: tree.id,
      facts: tree,
      windRose: (tree.siteId && roses.get(tree.siteId)) || null,
    }))
  }, [around])
  const { change, moved, hours } = tried
  const changed = useMemo(
    (): Zone =>
      change === 'move'
        ? { ...zone, geometry: carried(zone.geometry, ...moved) }
        : change === 'hours'
          ? shutZone(zone, hours)
          : zone,
    [zone, change, moved, hours],
  )
  const asStands = useMemo((): Task => ({ zone, others, trees, policy }), [zone, others, trees, policy])
  const still = useStill(changed)
  const asWould = useMemo(
    (): Task | null => (still === zone ? null : { zone: still, others, trees, policy }),
    [still, zone, others, trees, policy],
  )
  const before = useReckoned(asStands)
  const after = useReckoned(asWould)
  const would =
    change === 'gusts'
      ? (before.answer?.map((figures) => shutInGusts(figures, tried.shutShare)) ?? null)
      : after.answer
  const rows = useMemo(
    () =>
      before.answer && (would || still === zone)
        ? around.trees
            .map((tree, i) => ({ tree, before: before.answer![i]!, after: (would ?? before.answer!)[i]! }))
            .filter((row) => row.before.pTouch.most > 0 || row.after.pTouch.most > 0)
            .sort(
              (a, b) =>
                Math.max(b.before.people.mean, b.after.people.mean) -
                  Math.max(a.before.people.mean, a.after.people.mean) ||
                b.before.pTouch.mean - a.before.pTouch.mean,
            )
        : null,
    [before.answer, would, around.trees, still, zone],
  )
  return { rows, changed, current: before.current && (change === 'gusts' || !asWould || after.current) }
}

export interface Row {
  tree: TreeNear
  before: Figures
  after: Figures
}

/** Whether anything differs from what stands. */
export const isTried = ({ change, moved, shutShare }: Tried) =>
  change === 'move' ? Math.hypot(...moved) > 0.05 : change === 'gusts' ? shutShare > 0 : true

/** A carry no longer than a trial allows, in its direction. */
export function within([eastM, northM]: [number, number]): [number, number] {
  const far = Math.hypot(eastM, northM)
  const scale = far > FURTHEST_M ? FURTHEST_M / far : 1
  return [eastM * scale, northM * scale]
}

export const heaviest = (rows: readonly Row[] | null, when: 'before' | 'after') =>
  rows?.reduce<Row | null>(
    (most, row) => (!most || row[when].people.mean > most[when].people.mean ? row : most),
    null,
  ) ?? null

export const cautions: Record<Change, string> = {
  move: 'Moving it may bring it under other trees; each is reckoned here.',
  gusts:
    'Assumption: this share of the falls that may come would come while it is shut. Nobody has measured it here: it takes a warning in time, somebody to shut it, and people who keep out.',
  hours: 'Assumption: people stay away in the shut hours, and a fall is as likely at one hour as at another.',
}

export function sayTried({ change, moved, shutShare, hours }: Tried, name: string): string {
  if (change === 'gusts')
    return `close ${name} at gust warnings (assumed shut in ${Math.round(shutShare * 100)} of 100 falls)`
  if (change === 'hours') return `shut ${name} ${shutWords(hours)}`
  const [eastM, northM] = moved
  const bearing = Math.round(((Math.atan2(eastM, northM) * 180) / Math.PI + 360) % 360)
  return `move ${name} ${Math.hypot(eastM, northM).toFixed(1)} m to ${String(bearing).padStart(3, '0')}°`
}

/** `Of the 7 trees whose fall may meet it, 2 still could; under the one that bears most, 0.8 people would be 0.1.` */
export function sayWhole(rows: readonly Row[], now: Row | null, then: Row | null): string {
  const reach = (when: 'before' | 'after') => rows.filter((row) => row[when].pTouch.most > 0).length
  const [was, would] = [reach('before'), reach('after')]
  const anew = rows.filter((row) => row.before.pTouch.most === 0 && row.after.pTouch.most > 0).length
  const trees =
    was === would && anew === 0
      ? `The same ${count(was, 'tree')} may meet it`
      : `${count(was, 'tree')} may meet it now, ${would.toLocaleString('en-GB')} then${anew > 0 ? `, ${anew} of them new` : ''}`
  const [a, b] = [now?.before.people.mean ?? 0, then?.after.people.mean ?? 0]
  if (a === 0 && b === 0) return `${trees}; nobody is there under any of them by the hours on record.`
  const same = now && then && now.tree.id === then.tree.id
  return same
    ? `${trees}; under ${now.tree.tag}, which bears most, ${sayPeople(a)} people on average would be ${sayPeople(b)}.`
    : `${trees}; now ${now?.tree.tag} bears most with ${sayPeople(a)} people on average, then ${then?.tree.tag} with ${sayPeople(b)}.`
}
