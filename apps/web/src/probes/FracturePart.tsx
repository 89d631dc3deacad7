import { Button, NumberField, Select } from '../look/index.ts'
import { type PartProps, partOf, replaced, without } from './part.ts'
import { emptyBreak } from './values.ts'

/** A core of this tree that may have been bent. */
export interface CoreChoice {
  id: string
  label: string
  says: string
  heightM: number | null
  entryBearingDeg: number | null
}

/** A core bent piece by piece: where each broke, at which bend, under which load. */
export function FracturePart({ handle, cores }: PartProps & { cores: readonly CoreChoice[] }) {
  const { own, set, at } = partOf(handle, 'fracture')
  const { breaks } = own
  return (
    <fieldset className="reading-part">
      <legend>The bending</legend>
      <Select
        label="Made on the core"
        value={own.ofProbeId ?? 'none'}
        options={[
          ...cores.map(({ id, label, says }) => ({ value: id, label, hint: says })),
          { value: 'none', label: 'none on record' },
        ]}
        onChange={(id) => {
          const core = cores.find((one) => one.id === id)
          set({ ofProbeId: core?.id ?? null })
          // Where the core came from is where it was bent; what was typed stands.
          if (core)
            handle.change({
              heightM: handle.values.heightM ?? core.heightM,
              entryBearingDeg: handle.values.entryBearingDeg ?? core.entryBearingDeg,
            })
        }}
        refusal={at('reading.ofProbeId')}
      />
      <div className="two">
        <NumberField
          label="Core’s diameter"
          unit="mm"
          value={own.coreDiameterMm}
          onChange={(coreDiameterMm) => set({ coreDiameterMm })}
          refusal={at('reading.coreDiameterMm')}
          isRequired
        />
        <NumberField
          label="Lever"
          unit="mm"
          value={own.leverMm}
          onChange={(leverMm) => set({ leverMm })}
          refusal={at('reading.leverMm')}
          hint="from the grip to where the load acts"
          isRequired
        />
      </div>
      <ol className="segments">
        {breaks.map((row, i) => (
          <li key={i} className="segment">
            <div className="three">
              <NumberField
                label="Broke at"
                unit="cm"
                value={row.atCm}
                onChange={(atCm) => set({ breaks: replaced(breaks, i, { atCm }) })}
                refusal={at(`reading.breaks.${i}.atCm`)}
              />
              <NumberField
                label="Bend"
                unit="degrees"
                value={row.angleDeg}
                onChange={(angleDeg) => set({ breaks: replaced(breaks, i, { angleDeg }) })}
                refusal={at(`reading.breaks.${i}.angleDeg`)}
              />
              <NumberField
                label="Load"
                unit="N"
                value={row.loadN}
                onChange={(loadN) => set({ breaks: replaced(breaks, i, { loadN }) })}
                refusal={at(`reading.breaks.${i}.loadN`)}
              />
            </div>
            {breaks.length > 1 ? (
              <div className="row">
                <Button
                  kind="quiet"
                  aria-label={`Take out piece ${i + 1}`}
                  onPress={() => set({ breaks: without(breaks, i) })}
                >
                  Take out
                </Button>
              </div>
            ) : null}
          </li>
        ))}
      </ol>
      <Button onPress={() => set({ breaks: [...breaks, { ...emptyBreak }] })}>Another piece</Button>
    </fieldset>
  )
}
