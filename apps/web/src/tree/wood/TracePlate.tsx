import { useMutation, useQueryClient } from '@tanstack/react-query'
import type { BordersInput, ProbeOf } from '@underbough/model'
import { TraceChart, type TraceFacts, traceCaption } from '@underbough/pictures'
import { useState } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import { api, refusalsOf } from '../../api/index.ts'
import { Button, count, Notice, Plate, Reasons, Refusals, sayDate } from '../../look/index.ts'
import { BordersEditor } from '../../probes/index.ts'
import { useTrace } from '../../probes/useTrace.ts'
import { usePerson } from '../../shell/index.ts'
import { textScaleOf, useWidth } from '../useWidth.ts'
import { entryWords, takenWords } from './facts.ts'
import { useLater } from './useLater.ts'

type Trace = ProbeOf<'drill-trace'>

/** A drill's resistance against depth, with the borders a person stands by or those the program proposes. */
export function TracePlate(props: { no: number; probe: Trace; radiusCm: number | null; className?: string }) {
  const { no, probe, radiusCm, className } = props
  const [moving, setMoving] = useState(false)
  const { role } = usePerson()
  const later = useLater()
  const accepted = probe.borders.at(-1)
  const { resistanceUnit } = probe.reading
  return (
    <Plate
      no={no}
      title={`Drilling ${probe.label}, ${entryWords(probe)}`}
      aside={`resistance, ${resistanceUnit}`}
      className={className}
    >
      {moving ? (
        <BordersEditor probe={probe} onDone={() => setMoving(false)} />
      ) : (
        <>
          {later ? <Chart probe={probe} radiusCm={radiusCm} /> : <div className="wood-waiting" />}
          <Presses probe={probe} onMove={() => setMoving(true)} />
        </>
      )}
      <div className="s q tree-more wood-open">
        <Reasons label="How it was taken">
          {[
            ...takenWords(probe),
            `Borders proposed by method ${probe.reading.proposed.method}.`,
            accepted
              ? `${accepted.moved ? 'Moved and accepted' : 'Accepted as proposed'} by ${accepted.personName}, ${sayDate(accepted.at.slice(0, 10))}. ${accepted.note}`
              : 'Nobody has accepted them, so no section counts this drilling.',
            probe.borders.length > 1
              ? `${count(probe.borders.length, 'set')} of borders are kept; the latest stands.`
              : '',
          ]
            .filter(Boolean)
            .map((sentence) => (
              <span key={sentence} className="reason">
                {sentence}
              </span>
            ))}
        </Reasons>
        {accepted && !moving && (role === 'inspector' || role === 'officer') ? (
          <AriaButton className="reasons-button" onPress={() => setMoving(true)}>
            Move the borders
          </AriaButton>
        ) : null}
        <a href={`/api/probes/${probe.id}/trace.csv`} download className="wood-raw">
          The text as it came
        </a>
      </div>
    </Plate>
  )
}

function Chart({ probe, radiusCm }: { probe: Trace; radiusCm: number | null }) {
  const [box, width] = useWidth()
  const { reading } = probe
  const trace = useTrace(reading.raw, reading, reading.barkCm)
  const accepted = probe.borders.at(-1)
  if (!trace) return null
  if (!trace.ok)
    return (
      <Notice tone="mind" title="This trace can no longer be drawn.">
        {trace.refusals[0]?.message} Its text is kept as it came.
      </Notice>
    )
  const { drawn } = trace.value.proposal
  const facts: TraceFacts = {
    label: probe.label,
    depthsCm: drawn.depthsCm,
    resistances: drawn.resistances,
    resistanceUnit: reading.resistanceUnit,
    barkCm: accepted?.barkCm ?? reading.barkCm ?? reading.proposed.barkCm ?? 0,
    segments: (accepted ?? reading.proposed).segments,
    state: accepted ? 'accepted' : 'proposed',
    radiusCm,
  }
  return (
    <>
      <div ref={box} className="wood-drawn">
        {width > 0 ? (
          <TraceChart {...facts} widthPx={width} textScale={textScaleOf(window.innerWidth)} />
        ) : null}
      </div>
      <p className="caption">{traceCaption(facts)}</p>
    </>
  )
}

/** A person takes the program's borders as they are, or moves them. Nothing is taken by itself. */
function Presses({ probe, onMove }: { probe: Trace; onMove(): void }) {
  const { role } = usePerson()
  const accept = useAccept(probe)
  if (role !== 'inspector' && role !== 'officer') return null
  if (probe.borders.length > 0) return null
  const { proposed } = probe.reading
  const barkCm = probe.reading.barkCm ?? proposed.barkCm
  return (
    <>
      <Refusals
        title="The office did not take these borders."
        refusals={refusalsOf(accept.error)}
        kept="They stay proposed."
      />
      <div className="wood-presses">
        {barkCm === null || proposed.segments.length === 0 ? null : (
          <Button
            isDisabled={accept.isPending}
            onPress={() =>
              accept.mutate({
                id: crypto.randomUUID(),
                barkCm,
                segments: proposed.segments,
                moved: false,
                note: '',
              })
            }
          >
            Accept {proposed.segments.length > 1 ? 'these borders' : 'this segment'}
          </Button>
        )}
        <Button kind="quiet" onPress={onMove}>
          {barkCm === null ? 'Set the bark and the borders' : 'Move them'}
        </Button>
      </div>
    </>
  )
}

function useAccept(probe: Trace) {
  const memory = useQueryClient()
  return useMutation({
    mutationFn: (borders: BordersInput) => api.post(`/probes/${probe.id}/borders`, borders),
    onSuccess: () => memory.invalidateQueries({ queryKey: ['tree', probe.treeId] }),
  })
}
