import type { Rating, Tree } from '@underbough/model'
import { rangeCaption } from '@underbough/pictures'
import { useState } from 'react'
import { type TreeExposureView, useTreeCloser } from '../api/index.ts'
import { Loading, Plate, Select, sayPeople } from '../look/index.ts'
import { type FallView, fallsOf } from './falls.ts'
import { UnderWhy } from './UnderWhy.tsx'
import { UnderZones } from './UnderZones.tsx'
import { bearings, type CloserKnown, flagSentences, outOf100, sayRange, sayShares } from './underWords.ts'
import { onPhone, useWidth } from './useWidth.ts'

/** Whether the figures are at hand. */
export type ExposureState = 'known' | 'pending' | 'error'

/** Who would be under it: the whole tree, or a part that its rating names; one row a zone, the heaviest first, given that it falls. */
export function UnderPlate({
  no,
  tree,
  rating,
  exposure,
  state,
}: {
  no: number
  tree: Tree
  rating: Rating | null
  exposure: TreeExposureView | null
  state: ExposureState
}) {
  return (
    <Plate
      no={no}
      title="Who would be under it"
      aside="given that it falls"
      className="wide"
      caption={exposure && exposure.zones.length > 0 ? rangeCaption : null}
    >
      {exposure ? (
        <Known tree={tree} rating={rating} exposure={exposure} />
      ) : state === 'pending' ? (
        <Loading>Fetching who is under it.</Loading>
      ) : state === 'error' ? (
        <p className="q">Who is under it could not be fetched. The rest of the page stands.</p>
      ) : (
        <p className="q">
          {tree.status === 'gone' || tree.status === 'stump'
            ? 'Nothing stands here that could fall.'
            : 'Not computed: without a height or a stem nobody can say how far it reaches. Measure one of them and keep the record.'}
        </p>
      )}
    </Plate>
  )
}

function Known({
  tree,
  rating,
  exposure,
}: {
  tree: Tree
  rating: Rating | null
  exposure: TreeExposureView
}) {
  const falls = fallsOf(exposure, rating)
  const [chosen, setChosen] = useState('whole')
  const fall = falls.find(({ key }) => key === chosen) ?? falls[0]!
  const [box, width] = useWidth()
  const bar = onPhone() ? Math.min(width, 330) : 190
  const asked = useTreeCloser(tree.id)
  const closer: CloserKnown = asked.data ?? (asked.isPending ? 'working' : 'not-at-hand')
  const rows = bearings(tree, exposure, fall, closer)
  return (
    <div ref={box} className="under">
      {falls.length > 1 ? (
        <Select
          label="What falls"
          value={fall.key}
          options={falls.map(({ key, label, hint }) => ({ value: key, label, hint }))}
          onChange={setChosen}
        />
      ) : null}
      {fall.hint ? <p className="prose">{fall.hint}</p> : null}
      <Three fall={fall} />
      <div className="prose">
        <UnderWhy tree={tree} exposure={exposure} closer={closer} />
      </div>
      {fall.zones.length === 0 ? (
        <p className="q">No target zone lies within its reach of {fall.reachM.toFixed(1)} m.</p>
      ) : (
        <UnderZones zones={fall.zones} barPx={bar} />
      )}
      {rows.length > 0 ? (
        <dl className="under-bears">
          {rows.map(([name, sentences]) => (
            <div key={name} className={name === 'Position' ? 'under-place' : undefined}>
              <dt>{name}</dt>
              {sentences.map((sentence) => (
                <dd key={sentence}>{sentence}</dd>
              ))}
            </div>
          ))}
        </dl>
      ) : null}
      {flagSentences(fall, exposure).map((sentence) => (
        <p key={sentence} className="tree-flag s">
          {sentence}
        </p>
      ))}
    </div>
  )
}

/** A range over what may turn the fall; where both ends read alike nothing turns the figure. */
const turned = (range: string) =>
  range.includes(' to ') ? `${range}, by what turns it` : 'the same whatever turns it'

/** The three figures over all zones together, never merged. */
function Three({ fall }: { fall: FallView }) {
  const { pTouch, people, pAny } = fall.joint
  return (
    <dl className="under-three">
      <div>
        <dt>Falls that touch a target zone</dt>
        <dd>
          <b>{outOf100(pTouch.mean)}</b> of 100
          <span className="under-range">{turned(sayShares(pTouch))}</span>
        </dd>
      </div>
      <div>
        <dt>People within its outline</dt>
        <dd>
          <b>{sayPeople(people.mean)}</b> on average
          <span className="under-range">{turned(sayRange(people))}</span>
          <span className="under-range">
            stem {sayPeople(people.stem)}, crown {sayPeople(people.crown)}
            {people.scatter > 0 ? `, thrown pieces ${sayPeople(people.scatter)}` : ''}
          </span>
        </dd>
      </div>
      <div>
        <dt>Falls with at least one person there</dt>
        <dd>
          <b>{outOf100(pAny.mean)}</b> of 100
          {pAny.range ? <span className="under-range">{turned(sayShares(pAny.range))}</span> : null}
        </dd>
      </div>
    </dl>
  )
}
