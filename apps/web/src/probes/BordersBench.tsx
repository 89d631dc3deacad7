import type { Refusal, WoodSegment } from '@underbough/model'
import { TraceChart } from '@underbough/pictures'
import { type TraceProposal, traceSilence } from '@underbough/wood'
import { Button, refusalAt } from '../look/index.ts'
import { textScaleOf, useWidth } from '../tree/useWidth.ts'
import { CommitField } from './CommitField.tsx'
import { ConditionChips } from './ConditionChips.tsx'
import { divide, joinNext, moveBark, moveEnd } from './segments.ts'

export interface BordersNow {
  barkCm: number | null
  segments: WoodSegment[]
}

/** The trace with its borders, to move by hand, by key or by figure. */
export function BordersBench(props: {
  label: string
  resistanceUnit: string
  proposal: TraceProposal
  endCm: number
  now: BordersNow
  accepted: boolean
  onChange(now: BordersNow): void
  refusals: readonly Refusal[]
}) {
  const { label, resistanceUnit, proposal, endCm, now, accepted, onChange, refusals } = props
  const [box, widthPx] = useWidth()
  const at = (path: string) => refusalAt(refusals, path)
  const set = (segments: WoodSegment[]) => onChange({ ...now, segments })
  return (
    <div className="borders">
      <div ref={box} className="borders-chart">
        {widthPx > 0 ? (
          <TraceChart
            label={label || 'Trace'}
            depthsCm={proposal.drawn.depthsCm}
            resistances={proposal.drawn.resistances}
            resistanceUnit={resistanceUnit || 'the instrument’s unit'}
            barkCm={now.barkCm ?? 0}
            segments={now.segments}
            state={accepted ? 'accepted' : 'proposed'}
            radiusCm={null}
            widthPx={widthPx}
            textScale={textScaleOf(window.innerWidth)}
            onMoveBorder={(i, toCm) => set(moveEnd(now.segments, i, toCm, endCm))}
          />
        ) : null}
      </div>
      <p className="s q">{traceSilence}</p>
      <ul className="borders-notes s q">
        {proposal.notes.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
      <CommitField
        label="Bark ends at"
        unit="cm"
        value={now.barkCm}
        onCommit={(barkCm) => onChange(moveBark(now, barkCm))}
        refusal={at('barkCm')}
      />
      <ol className="segments">
        {now.segments.map((segment, i) => (
          <li key={`${i}-${now.segments.length}`} className="segment">
            <div className="segment-head">
              <b>
                {i + 1}. From {segment.fromCm} cm
              </b>
              <CommitField
                label="to"
                unit="cm"
                value={segment.toCm}
                onCommit={(toCm) => set(moveEnd(now.segments, i, toCm, endCm))}
                refusal={at(`segments.${i}`)}
              />
            </div>
            <ConditionChips
              label={`Segment ${i + 1}`}
              value={segment.condition}
              onChange={(condition) =>
                set(now.segments.map((one, k) => (k === i ? { ...one, condition } : one)))
              }
            />
            <div className="row wrap">
              <Button kind="quiet" onPress={() => set(divide(now.segments, i))}>
                Divide it
              </Button>
              {now.segments[i + 1] ? (
                <Button kind="quiet" onPress={() => set(joinNext(now.segments, i))}>
                  Join with the next
                </Button>
              ) : null}
            </div>
          </li>
        ))}
      </ol>
    </div>
  )
}
