import { type Position, riskWords } from '@underbough/model'
import { TreeMark } from '@underbough/pictures'
import { lazy, Suspense, useMemo, useState } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import { type TreeRow, useTrees } from '../api/index.ts'
import { Button, Field, Loading } from '../look/index.ts'
import type { MapTree } from '../map/index.ts'
import { sayWay } from './facts.ts'
import { wayThere } from './where.ts'

const PickMap = lazy(() => import('./PickMap.tsx'))
const MOST_SHOWN = 8

/** A tree of the inventory, by its tag or species or by a press on the map; the nearest first. */
export function TreePicker({ around, onPick }: { around: Position; onPick(tree: TreeRow): void }) {
  const [words, setWords] = useState('')
  const [map, setMap] = useState(false)
  const asked = words.trim()
  const found = useTrees({ q: asked, limit: 40 }, asked.length > 0)
  const near = useMemo(
    () =>
      (asked ? (found.data?.trees ?? []) : [])
        .map((tree) => ({ tree, metres: wayThere(around, tree.position).metres }))
        .sort((a, b) => a.metres - b.metres)
        .slice(0, MOST_SHOWN),
    [asked, found.data, around],
  )
  return (
    <>
      <Field label="Tag or species" type="search" value={words} onChange={setWords} autoFocus />
      {found.error && asked ? (
        <p role="status">Without signal the list cannot be searched. Choose the tree on the map.</p>
      ) : null}
      {asked && found.data && near.length === 0 && !found.isFetching ? (
        <p role="status">{`No tree on record is called “${asked}”.`}</p>
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
