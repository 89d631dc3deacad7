import { coreManners } from '@underbough/model'
import { CoreStrip } from '@underbough/pictures'
import { Field, NumberField } from '../look/index.ts'
import { textScaleOf, useWidth } from '../tree/useWidth.ts'
import { WordRow } from '../visit/pieces.tsx'
import { type PartProps, partOf } from './part.ts'
import { ReadingPhotos, useReadingPhotos } from './ReadingPhotos.tsx'
import { segmentsOf } from './reading.ts'
import { SegmentRows } from './SegmentRows.tsx'

/** A core from the bark inwards, drawn as it is entered. */
export function CorePart({ handle }: PartProps) {
  const { own, set, at } = partOf(handle, 'core')
  const [box, widthPx] = useWidth()
  const { photos, drawn } = useReadingPhotos(handle.kept)
  const segments = segmentsOf(own.rows, own.barkCm)
  const reachedCm = Math.max(own.reachedCm ?? 0, own.barkCm ?? 0, ...segments.map(({ toCm }) => toCm))
  return (
    <>
      <fieldset className="reading-part">
        <legend>The core</legend>
        <div className="two">
          <NumberField
            label="Borer’s length"
            hint="that takes wood"
            unit="cm"
            value={own.borerLengthCm}
            onChange={(borerLengthCm) => set({ borerLengthCm })}
            refusal={at('reading.borerLengthCm')}
            isRequired
          />
          <NumberField
            label="It reached"
            unit="cm"
            hint="from the bark’s outside"
            value={own.reachedCm}
            onChange={(cm) => set({ reachedCm: cm })}
            refusal={at('reading.reachedCm')}
            isRequired
          />
          <NumberField
            label="Bark"
            unit="cm"
            hint="thickness there"
            value={own.barkCm}
            onChange={(barkCm) => set({ barkCm })}
            refusal={at('reading.barkCm')}
            isRequired
          />
        </div>
        <div ref={box} className="core-drawing">
          {widthPx > 0 && reachedCm > 0 ? (
            <CoreStrip
              core={{
                borerLengthCm: own.borerLengthCm ?? reachedCm,
                reachedCm,
                barkCm: own.barkCm ?? 0,
                segments,
                ringsCounted: null,
                innermostRingsMm: [],
                innermost10mmRings: null,
                outerTenRingsMm: null,
                pith: own.pith === 'reached' && own.pithAtCm ? { reached: true, atCm: own.pithAtCm } : null,
                manner: null,
                smell: '',
              }}
              radiusCm={null}
              photo={drawn}
              widthPx={widthPx}
              textScale={textScaleOf(window.innerWidth)}
            />
          ) : (
            <p className="s q">The core is drawn here as you enter it.</p>
          )}
        </div>
        <SegmentRows
          rows={own.rows}
          barkCm={own.barkCm}
          reachedCm={own.reachedCm}
          onChange={(rows) => set({ rows })}
          at={at}
        />
        <ReadingPhotos reading={handle.kept} photos={photos} caption={`Core ${handle.values.label}`.trim()} />
      </fieldset>
      <fieldset className="reading-part">
        <legend>Rings and middle</legend>
        <div className="two">
          <NumberField
            label="Rings counted"
            unit="in all"
            value={own.ringsCounted}
            onChange={(ringsCounted) => set({ ringsCounted })}
            refusal={at('reading.ringsCounted')}
          />
          <NumberField
            label="Outer ten rings"
            unit="mm"
            hint="under the bark, together"
            value={own.outerTenRingsMm}
            onChange={(outerTenRingsMm) => set({ outerTenRingsMm })}
            refusal={at('reading.outerTenRingsMm')}
          />
        </div>
        <WordRow
          label="Innermost rings"
          words={['widths', 'count'] as const}
          value={own.innermostBy}
          onChange={(innermostBy) => set({ innermostBy })}
          say={(word) => (word === 'widths' ? 'By their widths' : 'By their number')}
        />
        {own.innermostBy === 'widths' ? (
          <Field
            label="Widths, mm, innermost first"
            value={own.innermostRings}
            onChange={(innermostRings) => set({ innermostRings })}
            refusal={at('reading.innermostRingsMm')}
            hint="with a blank between: 1.2 1.4 0.9"
          />
        ) : (
          <NumberField
            label="Rings in the innermost 10 mm"
            unit="number"
            value={own.innermost10mmRings}
            onChange={(innermost10mmRings) => set({ innermost10mmRings })}
            refusal={at('reading.innermost10mmRings')}
          />
        )}
        <WordRow
          label="Pith"
          words={['reached', 'missed', 'not-known'] as const}
          value={own.pith}
          onChange={(pith) => set({ pith })}
          say={(word) => ({ reached: 'Reached', missed: 'Missed', 'not-known': 'Not known' })[word]}
        />
        {own.pith === 'reached' ? (
          <NumberField
            label="Pith at"
            unit="cm from the bark’s outside"
            value={own.pithAtCm}
            onChange={(pithAtCm) => set({ pithAtCm })}
            refusal={at('reading.pith')}
          />
        ) : own.pith === 'missed' ? (
          <div className="two">
            <NumberField
              label="Chord of the arc"
              hint="innermost ring"
              unit="mm"
              value={own.chordMm}
              onChange={(chordMm) => set({ chordMm })}
              refusal={at('reading.pith.chordMm')}
            />
            <NumberField
              label="Height of the arc"
              hint="over its chord"
              unit="mm"
              value={own.arcHeightMm}
              onChange={(arcHeightMm) => set({ arcHeightMm })}
              refusal={at('reading.pith.arcHeightMm')}
            />
          </div>
        ) : null}
        <WordRow
          label="Between the fingers it"
          words={coreManners}
          value={own.manner}
          onChange={(manner) => set({ manner: manner === own.manner ? null : manner })}
        />
        <Field
          label="Smell"
          value={own.smell}
          onChange={(smell) => set({ smell })}
          refusal={at('reading.smell')}
        />
      </fieldset>
    </>
  )
}
