import type { ProbeOf } from '@underbough/model'
import { acceptBorders } from '@underbough/wood'
import { useEffect, useState } from 'react'
import { refusalOfKeeping } from '../keep/index.ts'
import { Button, Field, Notice, Refusals, refusalAt } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { BordersBench, type BordersNow } from './BordersBench.tsx'
import { acceptHere, bordersOfProbe, dropBordersHere, type KeptBorders, keepBorders } from './store.ts'
import { useTrace } from './useTrace.ts'
import './probes.css'

/**
 * Accepts or moves the borders of a stored trace. What is moved is kept on the device at once; what is accepted goes to the office, now or
 * when there is signal. `onDone` follows once it is accepted.
 */
export function BordersEditor({ probe, onDone }: { probe: ProbeOf<'drill-trace'>; onDone?: () => void }) {
  const me = usePerson()
  const kept = useKeptBorders(probe.id)
  if (me.role !== 'inspector' && me.role !== 'officer') return null
  return kept === undefined ? null : <Editor key={probe.id} probe={probe} kept={kept} onDone={onDone} />
}

function Editor({
  probe,
  kept,
  onDone,
}: {
  probe: ProbeOf<'drill-trace'>
  kept: KeptBorders | null
  onDone?: () => void
}) {
  const { personId } = usePerson()
  const { raw, proposed, resistanceUnit } = probe.reading
  const latest = probe.borders.at(-1)
  const [state, setState] = useState<KeptBorders>(
    kept ?? {
      probeId: probe.id,
      treeId: probe.treeId,
      personId,
      input: {
        id: crypto.randomUUID(),
        // The proposal has taken the measured bark into account already.
        barkCm: latest?.barkCm ?? proposed.barkCm ?? probe.reading.barkCm,
        segments: (latest ?? proposed).segments,
        moved: false,
        note: '',
      },
      accepted: false,
      refusals: [],
      keptAt: 0,
    },
  )
  const trace = useTrace(raw, probe.reading, probe.reading.barkCm)
  if (!trace) return null
  if (!trace.ok) return <Refusals title="This trace cannot be read any more." refusals={trace.refusals} />
  const { proposal, endCm } = trace.value
  const change = (part: Partial<KeptBorders['input']>) => {
    const next = { ...state, input: { ...state.input, ...part }, accepted: false, keptAt: Date.now() }
    setState(next)
    void keepBorders(next).catch(() => {})
  }
  const take = async () => {
    const checked = acceptBorders(proposed, state.input, endCm)
    if (!checked.ok) return setState({ ...state, refusals: checked.refusals })
    const next = {
      ...state,
      input: { ...state.input, ...checked.value },
      accepted: true,
      refusals: [],
      keptAt: Date.now(),
    }
    try {
      await acceptHere(next, `Borders of trace ${probe.label}`)
      setState(next)
      onDone?.()
    } catch (error) {
      setState({ ...state, refusals: [refusalOfKeeping(error, 'what you accepted')] })
    }
  }
  return (
    <div className="borders-editor">
      <Refusals
        title="The office did not take these borders."
        refusals={state.refusals}
        kept="They are still here."
      />
      <BordersBench
        label={probe.label}
        resistanceUnit={resistanceUnit}
        proposal={proposal}
        endCm={endCm}
        now={state.input}
        accepted={state.accepted}
        onChange={(now: BordersNow) => change(now)}
        refusals={state.refusals}
      />
      <Field
        label="Note on these borders"
        value={state.input.note}
        onChange={(note) => change({ note })}
        refusal={refusalAt(state.refusals, 'note')}
      />
      {state.accepted ? (
        <Notice tone="kept" title="Accepted.">
          If there is no signal now, they go to the office by themselves when there is.
        </Notice>
      ) : null}
      <div className="row wrap">
        <Button kind="do" isDisabled={state.accepted} onPress={() => void take()}>
          Take these borders
        </Button>
        {onDone ? (
          <Button
            kind="quiet"
            onPress={() => {
              void dropBordersHere(probe.id).catch(() => {})
              onDone()
            }}
          >
            Leave them as they were
          </Button>
        ) : null}
      </div>
    </div>
  )
}

/** Borders of this trace that this device keeps; undefined while they are looked for. */
function useKeptBorders(probeId: string): KeptBorders | null | undefined {
  const [kept, setKept] = useState<KeptBorders | null | undefined>(undefined)
  useEffect(() => {
    let here = true
    bordersOfProbe(probeId)
      .then((found) => here && setKept(found ?? null))
      .catch(() => here && setKept(null))
    return () => {
      here = false
    }
  }, [probeId])
  return kept
}
