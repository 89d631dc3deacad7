import { type ReactNode, useMemo } from 'react'
import type { TreeExposureView, TreeWhole } from '../api/index.ts'
import { device, useLive, useStanding } from '../keep/index.ts'
import { KeepingState, Loading, Notice } from '../look/index.ts'
import { dueOfFound } from '../visit/reckon.ts'
import { useGround } from '../visit/useGround.ts'

/** The page of a tree that was met on the way: who is under it and when it is due are worked out on this device. */
export default function FoundHere({
  treeId,
  children,
}: {
  treeId: string
  children(whole: TreeWhole, exposure: TreeExposureView | null): ReactNode
}) {
  const { ground } = useGround(treeId)
  const whole = useMemo(() => {
    if (!ground) return null
    const due = dueOfFound(ground)
    return { ...ground.whole, due, dueParts: due?.parts ?? [] }
  }, [ground])
  if (!ground || !whole) return <Loading>Working out who is under the tree.</Loading>
  return (
    <>
      <FoundWaits treeId={treeId} />
      {children(whole, ground.exposure)}
    </>
  )
}

function FoundWaits({ treeId }: { treeId: string }) {
  const standing = useStanding(treeId)
  const visits = useLive(
    `closed at ${treeId}`,
    () =>
      device.entries
        .where({ treeId })
        .filter(({ kind, state }) => kind === 'closing' && state === 'waiting')
        .count(),
    0,
  )
  const visited = visits > 0 ? ' So does the visit closed at it, which this page does not show yet.' : ''
  if (standing === 'refused')
    return (
      <Notice tone="refused" title="The office did not take this tree.">
        It stays on this phone. What waits says why.
      </Notice>
    )
  if (standing === 'at-the-office')
    return (
      <Notice tone="mind">
        <KeepingState keeping="in-the-office">At the office</KeepingState> Its page there could not be fetched
        now; below stands what this phone knows.{visited}
      </Notice>
    )
  return (
    <Notice tone="mind">
      <KeepingState keeping="on-this-phone">On this phone</KeepingState> This tree goes to the office by
      itself. Who is under it and when it is due are worked out here.{visited}
    </Notice>
  )
}
