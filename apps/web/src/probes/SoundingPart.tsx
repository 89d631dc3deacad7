import { SoundingRings } from '@underbough/pictures'
import { Button, NumberField } from '../look/index.ts'
import { textScaleOf, useWidth } from '../tree/useWidth.ts'
import { WordRow } from '../visit/pieces.tsx'
import type { Arc } from './arcs.ts'
import { BearingField } from './BearingField.tsx'
import { type PartProps, partOf, replaced, without } from './part.ts'
import { SectorRing } from './SectorRing.tsx'
import { emptyRound, type SoundingRound } from './values.ts'

const isArc = (arc: SoundingRound['dullArcs'][number]): arc is Arc =>
  arc.fromBearingDeg !== null && arc.toBearingDeg !== null

/** Rounds with a mallet, a height each: dull arcs by tap or by their two bearings. */
export function SoundingPart({ handle }: PartProps) {
  const { own, set, at } = partOf(handle, 'sounding')
  const [box, widthPx] = useWidth()
  const { rounds } = own
  const drawn = rounds.flatMap(({ heightM, struck, dullArcs }) =>
    heightM === null ? [] : [{ heightM, struck, dullArcs: dullArcs.filter(isArc) }],
  )
  return (
    <>
      {rounds.map((round, i) => (
        <Round
          key={i}
          title={rounds.length > 1 ? `Height ${i + 1}` : 'At this height'}
          round={round}
          onChange={(part) => set({ rounds: replaced(rounds, i, part) })}
          onRemove={rounds.length > 1 ? () => set({ rounds: without(rounds, i) }) : null}
          // The record’s own height is that of its first round.
          at={(path) => at(`reading.rounds.${i}.${path}`)}
        />
      ))}
      <Button onPress={() => set({ rounds: [...rounds, { ...emptyRound }] })}>Another height</Button>
      <div ref={box}>
        {widthPx > 0 && drawn.length > 0 ? (
          <SoundingRings
            rounds={drawn}
            widthPx={Math.min(widthPx, 520)}
            textScale={textScaleOf(window.innerWidth)}
          />
        ) : null}
      </div>
    </>
  )
}

function Round(props: {
  title: string
  round: SoundingRound
  onChange(part: Partial<SoundingRound>): void
  onRemove: (() => void) | null
  at(path: string): string | null
}) {
  const { title, round, onChange, onRemove, at } = props
  const { dullArcs } = round
  return (
    <fieldset className="reading-part">
      <legend>{title}</legend>
      <NumberField
        label="Height"
        unit="m"
        value={round.heightM}
        onChange={(heightM) => onChange({ heightM })}
        refusal={at('heightM')}
        isRequired
      />
      <WordRow
        label="Struck"
        words={['all-round', 'part'] as const}
        value={round.struck}
        onChange={(struck) => onChange({ struck })}
        say={(word) => (word === 'part' ? 'Only in part' : 'All round')}
      />
      <SectorRing
        label={`Where it sounds dull, ${title.toLowerCase()}`}
        arcs={dullArcs.filter(isArc)}
        onChange={(arcs) => onChange({ dullArcs: [...arcs, ...dullArcs.filter((arc) => !isArc(arc))] })}
      />
      {dullArcs.map((arc, i) => (
        <div key={i} className="arc">
          <BearingField
            label="Dull from"
            value={arc.fromBearingDeg}
            onChange={(fromBearingDeg) => onChange({ dullArcs: replaced(dullArcs, i, { fromBearingDeg }) })}
            refusal={at(`dullArcs.${i}.fromBearingDeg`)}
          />
          <BearingField
            label="to"
            value={arc.toBearingDeg}
            onChange={(toBearingDeg) => onChange({ dullArcs: replaced(dullArcs, i, { toBearingDeg }) })}
            refusal={at(`dullArcs.${i}.toBearingDeg`)}
          />
          <Button
            kind="quiet"
            aria-label={`Take out dull arc ${i + 1}`}
            onPress={() => onChange({ dullArcs: without(dullArcs, i) })}
          >
            Take out
          </Button>
        </div>
      ))}
      <div className="row wrap">
        <Button
          kind="quiet"
          onPress={() => onChange({ dullArcs: [...dullArcs, { fromBearingDeg: null, toBearingDeg: null }] })}
        >
          A dull arc by two bearings, clockwise
        </Button>
        {onRemove ? (
          <Button kind="quiet" onPress={onRemove}>
            Take this height out
          </Button>
        ) : null}
      </div>
    </fieldset>
  )
}
