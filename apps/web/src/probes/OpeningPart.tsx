import { Notice, NumberField } from '../look/index.ts'
import { BearingPicker } from './BearingField.tsx'
import { type PartProps, partOf } from './part.ts'

/** A hole one can look into. */
export function OpeningPart({ handle }: PartProps) {
  const { own, set, at } = partOf(handle, 'opening')
  const isBare = own.depthCm === null || own.wallFromCm === null || own.wallToCm === null
  return (
    <fieldset className="reading-part">
      <legend>The opening</legend>
      <p className="s q">Its two edges, clockwise seen from above.</p>
      <BearingPicker
        label="First edge"
        value={own.fromBearingDeg}
        onChange={(fromBearingDeg) => set({ fromBearingDeg })}
        refusal={at('reading.fromBearingDeg')}
      />
      <BearingPicker
        label="Other edge"
        value={own.toBearingDeg}
        onChange={(toBearingDeg) => set({ toBearingDeg })}
        refusal={at('reading.toBearingDeg')}
      />
      <div className="two">
        <NumberField
          label="Reaches from"
          unit="m up"
          value={own.fromHeightM}
          onChange={(fromHeightM) => set({ fromHeightM })}
          refusal={at('reading.fromHeightM')}
          isRequired
        />
        <NumberField
          label="to"
          unit="m up"
          value={own.toHeightM}
          onChange={(toHeightM) => set({ toHeightM })}
          refusal={at('reading.toHeightM')}
          isRequired
        />
        <NumberField
          label="Firm wall at the first edge"
          unit="cm"
          value={own.wallFromCm}
          onChange={(wallFromCm) => set({ wallFromCm })}
          refusal={at('reading.edgeWallsCm.from')}
        />
        <NumberField
          label="Firm wall at the other edge"
          unit="cm"
          value={own.wallToCm}
          onChange={(wallToCm) => set({ wallToCm })}
          refusal={at('reading.edgeWallsCm.to')}
        />
      </div>
      <NumberField
        label="Depth"
        unit="cm"
        value={own.depthCm}
        onChange={(depthCm) => set({ depthCm })}
        refusal={at('reading.depthCm')}
        hint="from the outside of the stem to where the hole ends or meets the hollow"
      />
      {isBare ? (
        <Notice tone="mind">
          Without the depth and the wall at both edges no figure can be given for this height. The opening is
          kept all the same.
        </Notice>
      ) : null}
    </fieldset>
  )
}
