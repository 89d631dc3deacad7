import { type CivilDate, type Position, riskWords } from '@underbough/model'
import { TreeMark } from '@underbough/pictures'
import { lazy, Suspense, useMemo, useState } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import { type TreeRow, useTrees } from '../api/index.ts'
import { Button, count, Field, Loading } from '../look/index.ts'
import type { MapTree } from '../map/index.ts'
import { foundAlong, useTreesAlong } from './along.ts'
import { sayWay } from './facts.ts'
import { wayThere } from './where.ts'

const PickMap = lazy(() => import('./PickMap.tsx'))
const MOST_SHOWN = 8

/** A tree of the inventory, by its tag or species or by a press on the map; the nearest first. Without signal, those along the way. */
export function TreePicker(props: {
  around: Position
  /** The day whose trees along the way this device may keep. */
  date: CivilDate
  onPick(tree: TreeRow): void
}) {
  const { around, date, onPick } = props
  const [words, setWords] = useState('')
  const [map, setMap] = useState(false)
  const asked = words.trim()
  const { rows, from, kept } = useFound(asked, date)
  const near = useMemo(
    () =>
      rows
        .map((tree) => ({ tree, metres: wayThere(around, tree.position).metres }))
        .sort((a, b) => a.metres - b.metres)
        .slice(0, MOST_SHOWN),
    [rows, around],
  )
  return (
    <>
      <Field label="Tag or species" type="search" value={words} onChange={setWords} autoFocus />
      {asked && from === 'phone' ? (
        <p role="status">{`No signal: searched among the ${count(kept, 'tree')} along the way that this phone keeps. Any other is chosen on the map.`}</p>
      ) : null}
      {asked && from === 'nowhere' ? (
        <p role="status">Without signal the list cannot be searched. Choose the tree on the map.</p>
      ) : null}
      {asked && near.length === 0 && (from === 'office' || from === 'phone') ? (
        <p role="status">{`No tree ${from === 'office' ? 'on record' : 'among them'} is called “${asked}”.`}</p>
      ) : null}
      <ul className="found">
        {near.map(({ tree, metres }) => (
          <li key={tree.id}>
            <AriaButton className="found-tree" onPress={() => onPick(tree)}>
              <TreeMark
                risk={tree.risk}
                overdue={tree.overdueDays > 0}
                visited={tree.seen}
                status={tree.status}
                boxPx={32}
                hidden
              />
              <span>
                {tree.tag} <b>{tree.commonName ?? tree.species}</b>
              </span>
              <span className="q sp">{sayWay(metres)}</span>
            </AriaButton>
          </li>
        ))}
      </ul>
      {map ? (
        <Suspense fallback={<Loading>Fetching the map.</Loading>}>
          <PickMap around={around} pick={{ what: 'tree', onPick: (tree) => onPick(rowOf(tree)) }} />
        </Suspense>
      ) : (
        <Button big onPress={() => setMap(true)}>
          Choose it on the map
        </Button>
      )}
    </>
  )
}

/** What the office answers; until it does, and where it is silent, what this device keeps. */
function useFound(asked: string, date: CivilDate) {
  const found = useTrees({ q: asked, limit: 40 }, asked.length > 0)
  const along = useTreesAlong(date)
  const { data, error, isPlaceholderData } = found
  return useMemo(() => {
    const kept = along?.length ?? 0
    if (!asked) return { rows: [], from: 'office' as const, kept }
    if (data && !isPlaceholderData && !error) return { rows: data.trees, from: 'office' as const, kept }
    const rows = along ? foundAlong(along, asked, date) : (data?.trees ?? [])
    return { rows, from: error ? (along ? ('phone' as const) : ('nowhere' as const)) : null, kept }
  }, [asked, date, along, data, error, isPlaceholderData])
}

/** What a tile says of a tree; its species is not among it. */
const rowOf = ({ id, tag, risk, overdue, seen, ratingOpen, status, position }: MapTree): TreeRow => ({
  id,
  tag,
  species: 'tree',
  commonName: null,
  position,
  status,
  risk: riskWords[risk - 1] ?? null,
  due: null,
  overdueDays: overdue ? 1 : 0,
  seen,
  ratingOpen,
  siteId: null,
  heightM: null,
  stemDiameterCm: null,
})
