import { lazy, Suspense, useState } from 'react'
import type { TreeWhole } from '../api/index.ts'
import { Button, Loading, Plate } from '../look/index.ts'

const TreeWhatIf = lazy(() => import('../what-if/TreeWhatIf.tsx'))

/** A change of the tree tried out; opened by a press, for most who come here read. */
export function WhatIfPlate({ no, whole }: { no: number; whole: TreeWhole }) {
  const [open, setOpen] = useState(false)
  return (
    <Plate no={no} title="What if" aside="tried out, nothing is kept" className="wide">
      {open ? (
        <Suspense fallback={<Loading>Fetching the trial.</Loading>}>
          <TreeWhatIf whole={whole} />
        </Suspense>
      ) : (
        <div className="row c wrap">
          <p className="q">Prune it or take it down, and see who would still be under it.</p>
          <Button onPress={() => setOpen(true)}>Try a change</Button>
        </div>
      )}
    </Plate>
  )
}
