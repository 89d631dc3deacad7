import type { Probe } from '@underbough/model'
import { lazy, Suspense, useState } from 'react'
import { useParams } from 'react-router'
import {
  Refused,
  type TreeExposureView,
  type TreeWhole,
  useMapView,
  useTree,
  useTreeExposure,
} from '../api/index.ts'
import { Button, Empty, ErrorNote, LinkButton, Loading, Standing, sayDate } from '../look/index.ts'
import { AddReading, useProbes } from '../probes/index.ts'
import { useTreeEstimate } from '../settings/estimateHooks.ts'
import { mayChange, usePerson } from '../shell/index.ts'
import { EstimatePlate } from './EstimatePlate.tsx'
import { HappenedPlate } from './HappenedPlate.tsx'
import { LookingPlate } from './LookingPlate.tsx'
import { PhotosPlate } from './PhotosPlate.tsx'
import { PortraitPlate } from './PortraitPlate.tsx'
import { RatingPlate } from './RatingPlate.tsx'
import { RecordForm } from './RecordForm.tsx'
import { RecordPlate } from './RecordPlate.tsx'
import { RosePlate } from './RosePlate.tsx'
import { TreeHead } from './TreeHead.tsx'
import { type ExposureState, UnderPlate } from './UnderPlate.tsx'
import { WhatIfPlate } from './WhatIfPlate.tsx'
import { WorksPlate } from './WorksPlate.tsx'
import { NobodyLooked } from './wood/NobodyLooked.tsx'
import { benchPlates, type NumberedPlate, readingPlates, useWood } from './wood/plates.tsx'
import { RootZonesPlate } from './wood/RootZonesPlate.tsx'
import './tree.css'

const FoundHere = lazy(() => import('./FoundHere.tsx'))
const noProbes: readonly Probe[] = []

/** Everything about one tree, on one page: what decides first, then drawings and their tables. */
export default function TreePage() {
  const { id = '' } = useParams()
  const tree = useTree(id)
  const exposure = useTreeExposure(id)
  const view = useMapView()
  const today = view.data?.today ?? new Date().toISOString().slice(0, 10)
  if (tree.data?.onlyHere)
    return (
      <Suspense fallback={<Loading>Fetching the tree.</Loading>}>
        <FoundHere key={id} treeId={id}>
          {(whole, exposure) => (
            <Whole whole={whole} exposure={exposure} exposureState="known" today={today} />
          )}
        </FoundHere>
      </Suspense>
    )
  if (tree.data)
    return (
      <Whole
        key={id}
        whole={tree.data}
        exposure={exposure.data ?? null}
        exposureState={exposure.error ? 'error' : exposure.isPending ? 'pending' : 'known'}
        today={today}
      />
    )
  return (
    <div className="page">
      {!tree.error ? (
        <Loading>Fetching the tree.</Loading>
      ) : tree.error instanceof Refused && tree.error.status >= 400 && tree.error.status < 500 ? (
        <Empty
          title="There is no such tree here."
          action={
            <LinkButton to="/trees" kind="do">
              All trees
            </LinkButton>
          }
        >
          Its address may have been mistyped. A tree that is gone keeps its page; one that never was has none.
        </Empty>
      ) : (
        <ErrorNote
          title="This tree cannot be shown now."
          error={tree.error}
          action={<Button onPress={() => tree.refetch()}>Try again</Button>}
        />
      )}
    </div>
  )
}

/** What every plate of the page is given. */
interface PlateProps {
  whole: TreeWhole
  today: string
}

function Whole({
  whole,
  exposure,
  exposureState,
  today,
}: PlateProps & { exposure: TreeExposureView | null; exposureState: ExposureState }) {
  const [editing, setEditing] = useState(false)
  const { tree } = whole
  const last = whole.visits.find((visit) => visit.stage === 'closed')
  const probes = useProbes(tree.id)
  const wood = useWood(whole, probes.data ?? noProbes)
  // Not for a crew under the tree: it ranks, and decides nothing about one tree.
  const estimate = useTreeEstimate(tree.id, mayChange(usePerson().role) && !whole.onlyHere)
  const read = readingPlates(whole, wood)
  const right: NumberedPlate[] = [
    ...read,
    (no) => (
      <UnderPlate
        key="under"
        no={no}
        tree={tree}
        rating={whole.rating}
        exposure={exposure}
        state={exposureState}
      />
    ),
    ...(exposure && exposure.density.length > 0
      ? [(no: number) => <RosePlate key="rose" no={no} tree={tree} exposure={exposure} />]
      : []),
    ...(tree.status === 'standing' || tree.status === 'pole'
      ? [(no: number) => <WhatIfPlate key="what-if" no={no} whole={whole} />]
      : []),
    (no) => <RatingPlate key="rating" no={no} whole={whole} />,
    ...(estimate.data?.tree
      ? [(no: number) => <EstimatePlate key="estimate" no={no} estimate={estimate.data.tree!} />]
      : []),
    (no) => <LookingPlate key="looking" no={no} whole={whole} />,
    ...(read.length === 0 && probes.data && tree.status !== 'gone'
      ? [(no: number) => <NobodyLooked key="nobody" no={no} treeId={tree.id} />]
      : []),
    (no) => <WorksPlate key="works" no={no} whole={whole} today={today} />,
    (no) => <HappenedPlate key="happened" no={no} whole={whole} today={today} />,
    (no) => <PhotosPlate key="photos" no={no} whole={whole} />,
  ]
  const bench = benchPlates(whole, wood)
  const recordNo = right.length + 2
  const rooted = tree.status !== 'gone' && tree.stems.length > 0
  const benchNo = recordNo + (rooted ? 2 : 1)
  return (
    <div className="page tree-page">
      <TreeHead whole={whole} today={today} onEdit={() => setEditing(true)} />
      {probes.error ? (
        <p className="tree-flag s wood-unfetched">
          The readings into the stem could not be fetched. The rest of the page stands.
        </p>
      ) : null}
      <div className="tree-plates">
        <div className="tree-left">
          <PortraitPlate whole={whole} exposure={exposure} />
          <RecordPlate no={recordNo} whole={whole} onEdit={() => setEditing(true)} />
          {rooted ? <RootZonesPlate no={recordNo + 1} tree={tree} /> : null}
        </div>
        <div className="tree-right">
          {right.slice(0, read.length).map((plate, i) => plate(i + 2))}
          {read.length > 0 ? (
            <div className="wide wood-add">
              <AddReading treeId={tree.id} />
            </div>
          ) : null}
          {right.slice(read.length).map((plate, i) => plate(i + 2 + read.length))}
        </div>
      </div>
      <div className="wood-bench">{bench.map((plate, i) => plate(benchNo + i))}</div>
      <footer className="tree-foot">
        <Standing />
        <p className="s q">
          {last
            ? `Last look ${sayDate(last.startedAt.slice(0, 10))} by ${last.personName}, level ${last.level}.`
            : 'Nobody has looked at this tree yet.'}{' '}
          The record was last changed {sayDate(tree.updatedAt.slice(0, 10))}; this is its version{' '}
          {tree.version}.
        </p>
      </footer>
      {editing ? (
        <RecordForm tree={tree} onlyHere={whole.onlyHere} onClose={() => setEditing(false)} />
      ) : null}
    </div>
  )
}
