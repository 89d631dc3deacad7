import type { Tree } from '@underbough/model'
import { Reasons } from '../../look/index.ts'
import { takenFor, woodLines, woodOfTree } from './species.ts'

/** What the species on record was taken for, and the wood that follows from it. */
export function SpeciesWords({ tree }: { tree: Tree }) {
  const { match, wood } = woodOfTree(tree)
  return (
    <div className="s tree-more">
      {takenFor(match)}{' '}
      <Reasons>
        {woodLines(wood).map((line) => (
          <span key={line.name} className="reason">
            {line.name}: {line.figure}. {line.source}.
          </span>
        ))}
        {wood.decay ? (
          <span className="reason">
            {wood.decay.text} {wood.decay.source}.
          </span>
        ) : null}
        <span className="reason">
          Small clear pieces of other trees, not this one: site, age and moisture move every figure.
        </span>
      </Reasons>
    </div>
  )
}
