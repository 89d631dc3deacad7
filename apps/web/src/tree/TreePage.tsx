import { useState } from 'react'
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
import { WorksPlate } from './WorksPlate.tsx'
import './tree.css'

/** Everything about one tree, on one page: what decides first, then drawings and their tables. */
export default function TreePage() {
  const { id = '' } = useParams()
  const tree = useTree(id)
  const exposure = useTreeExposure(id)
  const view = useMapView()
  if (tree.data)
    return (
      <Whole
        key={id}
        whole={tree.data}
        exposure={exposure.data ?? null}
        exposureState={exposure.error ? 'error' : exposure.isPending ? 'pending' : 'known'}
        today={view.data?.today ?? new Date().toISOString().slice(0, 10)}
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
  return (
    <div className="page tree-page">
      <TreeHead whole={whole} today={today} onEdit={() => setEditing(true)} />
      <div className="tree-plates">
        <div className="tree-left">
          <PortraitPlate whole={whole} exposure={exposure} />
          <RecordPlate whole={whole} onEdit={() => setEditing(true)} />
        </div>
        <div className="tree-right">
          <UnderPlate tree={tree} exposure={exposure} state={exposureState} />
          <RosePlate tree={tree} exposure={exposure} />
          <RatingPlate whole={whole} />
          <LookingPlate whole={whole} />
          <WorksPlate whole={whole} today={today} />
          <HappenedPlate whole={whole} today={today} />
          <PhotosPlate whole={whole} />
        </div>
      </div>
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
      {editing ? <RecordForm tree={tree} onClose={() => setEditing(false)} /> : null}
    </div>
  )
}
