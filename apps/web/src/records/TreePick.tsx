import { TreeMark } from '@underbough/pictures'
import { useEffect, useState } from 'react'
import { type TreeRow, useTrees } from '../api/index.ts'
import { Button, Field } from '../look/index.ts'

const nameOf = (tree: TreeRow) => `${tree.tag} ${tree.commonName ?? tree.species}`

/** Names one tree by its tag or species: what is found stands below the line, one press each. */
export function TreePick({ refusal, onPick }: { refusal: string | null; onPick(id: string | null): void }) {
  const [picked, setPicked] = useState<TreeRow | null>(null)
  const [words, setWords] = useState('')
  const [asked, setAsked] = useState('')
  useEffect(() => {
    const timer = setTimeout(() => setAsked(words.trim()), 180)
    return () => clearTimeout(timer)
  }, [words])
  const found = useTrees({ q: asked, limit: 5 }, asked.length > 0)
  const trees = asked && !found.isPlaceholderData ? (found.data?.trees ?? []) : []
  const pick = (tree: TreeRow | null) => {
    setPicked(tree)
    onPick(tree?.id ?? null)
  }
  if (picked)
    return (
      <div className="row c picked">
        <TreeLine tree={picked} />
        <Button kind="quiet" className="sp" onPress={() => pick(null)}>
          Another tree
        </Button>
      </div>
    )
  return (
    <div className="pick">
      <Field label="Tree, by tag or species" value={words} refusal={refusal} onChange={setWords} />
      <ul aria-live="polite">
        {trees.map((tree) => (
          <li key={tree.id}>
            <Button kind="quiet" className="pick-press" onPress={() => pick(tree)}>
              <TreeLine tree={tree} />
            </Button>
          </li>
        ))}
        {asked && trees.length === 0 && !found.isFetching ? (
          <li className="s q">No tree is called “{asked}”.</li>
        ) : null}
      </ul>
    </div>
  )
}

function TreeLine({ tree }: { tree: TreeRow }) {
  return (
    <>
      <TreeMark
        risk={tree.risk}
        overdue={tree.overdueDays > 0}
        visited={tree.seen}
        status={tree.status}
        boxPx={28}
        hidden
      />
      <span>{nameOf(tree)}</span>
    </>
  )
}
